"""Reads whole recipes out of web pages and text, and says what their lines ask a book to cost."""
