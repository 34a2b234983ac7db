"""Versions or dishes beside each other on one day: what each costs, takes and tastes like."""
