"""Files and addresses of statistics offices."""
