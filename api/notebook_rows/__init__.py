"""Rows of a notebook as JSON: what their members are called, and how cells stand in them."""
