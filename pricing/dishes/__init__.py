"""Recipes and what they cost: one dish in detail, all dishes at once, over months."""
