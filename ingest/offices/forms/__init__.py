"""Forms that several offices publish in."""
