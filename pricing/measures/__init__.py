"""Units, quantities and unit prices."""
