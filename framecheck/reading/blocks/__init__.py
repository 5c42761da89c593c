"""What the blocks of a case file may hold: forms, read by `framecheck.reading.form`, shown by `schema` and in the docs."""
