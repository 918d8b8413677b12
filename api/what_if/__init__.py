"""What a program may ask to be otherwise in a week: kinds of change, and how each is read."""
