"""What a book holds, to choose from: names, printed figures, series, settings."""
