"""The pages of the dashboard and their parts: read the widgets, call one loader, draw."""
