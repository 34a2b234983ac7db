"""What must happen before dishes are printed again: prices to check, new figures, corrections."""
