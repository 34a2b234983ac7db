"""Official price indices as statistics offices publish them: readers, fetching, ladders."""
