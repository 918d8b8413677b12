"""The verbs, a file for each noun."""
