"""Everything a reader looks at: the terminal, the web pages, the charts."""
