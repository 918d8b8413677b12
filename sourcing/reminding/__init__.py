"""Which reminders are due between two moments, and to whom: facts in, reminders out."""
