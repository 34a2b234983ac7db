"""What dishes cost in whole packs at a shop."""
