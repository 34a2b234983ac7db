"""The price of an ingredient on a date, and what it rests on."""
