"""From the bytes of a CSV file to its checked cells."""
