"""Forms of dates and numbers that are ours and not the framework's, by language."""
