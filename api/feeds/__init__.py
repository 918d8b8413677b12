"""What others ask for again and again by a link of their own: the calendar."""
