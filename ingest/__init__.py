"""Turns outside material into rows of the price book."""
