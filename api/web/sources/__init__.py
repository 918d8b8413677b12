"""The pages of sources: frozen views with words and numbers ready to show."""
