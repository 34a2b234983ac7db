"""Asking an office over the net."""
