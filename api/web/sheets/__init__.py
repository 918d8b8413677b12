"""The style sheets of a page as one file."""
