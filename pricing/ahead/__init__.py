"""What a portion may cost on a later day: ranges from the official history, and their back-test."""
