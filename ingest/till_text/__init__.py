"""Reads what a till printed, as it is copied or e-mailed: things, prices and the total."""
