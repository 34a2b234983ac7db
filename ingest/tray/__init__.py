"""What waits for a decision: taken in, listed, settled."""
