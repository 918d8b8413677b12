"""The page on which the language and the form of numbers are chosen."""
