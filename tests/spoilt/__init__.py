"""Deliberate faults: each spoils one rule, and names the tests that must then fail."""
