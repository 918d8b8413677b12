"""What a program may enter: one thing that happened, said once, under an id of its own."""
