"""Keeping a book: check, copy, bring back, write out, look at."""
