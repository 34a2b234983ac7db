"""Which ingredient, pack and product a supplier's description means: proposals, never decisions."""
