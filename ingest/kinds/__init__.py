"""The rules of each kind of file: what its rows must agree with before the book takes them."""
