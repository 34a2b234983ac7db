"""The inflation report of a kitchen: all that it says, and all that this rests on."""
