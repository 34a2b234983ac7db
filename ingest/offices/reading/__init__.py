"""What the readers of office files share."""
