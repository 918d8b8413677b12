"""Reminders: what is worth saying to whom and when, and how it gets out once."""
