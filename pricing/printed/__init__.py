"""Printed figures: checked, recorded, with their evidence."""
