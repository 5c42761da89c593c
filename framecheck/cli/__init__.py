"""Commands: the only place that prints, reads or writes files."""
