"""Facts that change in the world, as commented data files with their source."""
