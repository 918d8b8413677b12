"""Writing down what was done: one form a verb, for a phone in a wet hand, without script."""
