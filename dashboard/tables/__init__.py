"""Answers of pricing as rows: tables of Markdown for the pages, tidy frames for the charts."""
