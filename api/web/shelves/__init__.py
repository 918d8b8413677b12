"""The page of the shelves: frozen views with words and numbers ready to show, part by part."""
