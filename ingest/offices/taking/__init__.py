"""Taking an office's file into the book."""
