"""What each address answers, as forms."""
