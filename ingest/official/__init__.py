"""Bundled official price series: text tables, the script that made them and their reader."""
