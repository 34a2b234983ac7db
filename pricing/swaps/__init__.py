"""Cheaper choices in a dish and over all dishes."""
