"""Django's SQLite, told at start-up what it would otherwise ask the file."""
