"""One file per page of the dashboard: read the widgets, call one loader, draw."""
