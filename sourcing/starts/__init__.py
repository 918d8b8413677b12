"""Recipes to begin with: a dose and a warmth for each shade, with what is known of them."""
