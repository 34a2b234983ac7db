"""Then and now: what changed in the cost of a dish, by prices and by the recipe."""
