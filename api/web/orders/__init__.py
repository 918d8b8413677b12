"""The pages of fibre orders: frozen views with words and numbers ready to show."""
