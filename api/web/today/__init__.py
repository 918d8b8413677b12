"""*Today*: this week's answer in a line, what to see to, and the day's steps as they are done."""
