"""In which language and number form a reader is answered."""
