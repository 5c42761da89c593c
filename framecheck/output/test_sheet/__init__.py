"""The test sheet as people read it: on a terminal, on a page that prints, as JSON."""
