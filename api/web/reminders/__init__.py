"""The page of reminders: what goes out next, to whom, and what became of the last."""
