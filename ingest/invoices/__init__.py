"""E-invoices: what a document says, and what each of its lines cost, as rows of prices."""
