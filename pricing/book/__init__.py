"""The price book: the only package that speaks to DuckDB."""
