"""What is known of the offices: tables, ladders, classifications."""
