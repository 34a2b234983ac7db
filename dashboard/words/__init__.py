"""Sentences and figures as a reader sees them, on screen and in the terminal alike."""
