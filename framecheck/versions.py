"""Versions of what is read and written, beside that of the program."""

LANGUAGE = 1
"""Of the words that a case or study is written in. Raised when a file that was right becomes wrong, or means something else."""
SCHEMA = 2
"""Of the JSON and CSV that are written; docs/json.md. Raised when a key goes or means something else."""
