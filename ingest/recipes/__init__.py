"""Reads what a recipe asks for, line by line."""
