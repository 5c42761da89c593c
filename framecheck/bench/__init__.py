"""A page on the bench: forms and a picture of a case file that answer while one types. The file stays the truth."""
