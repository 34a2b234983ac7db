"""Which facts a new ingredient may have: proposals, each with its source."""
