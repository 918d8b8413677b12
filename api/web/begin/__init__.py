"""From nothing to the first answer: a studio, its pots, its days, what is saved, a shade."""
