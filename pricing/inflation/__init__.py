"""The kitchen's own price index."""
