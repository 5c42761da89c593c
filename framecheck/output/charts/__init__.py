"""Charts as data, and as SVG: a report draws its figures without loading matplotlib, which takes longer than the whole check."""
