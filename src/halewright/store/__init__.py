"""Rows: what is kept, and how values are read from it and written to it."""
