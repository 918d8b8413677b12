"""German, but for numbers that a program reads: see `FORMAT_MODULE_PATH` in the settings."""

DECIMAL_SEPARATOR = "."
THOUSAND_SEPARATOR = ""
NUMBER_GROUPING = 0
