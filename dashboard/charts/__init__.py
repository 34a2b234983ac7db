"""Charts: pure functions from a tidy frame to an Altair chart."""
