"""The records of a studio, noun by noun: what each row is called, asked by, and shown as."""
