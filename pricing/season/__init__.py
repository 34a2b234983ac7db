"""When in the year a price is low."""
