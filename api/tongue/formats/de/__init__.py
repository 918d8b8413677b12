"""German forms."""
