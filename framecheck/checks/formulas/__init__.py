"""Printed formulas, one file a standard, one function a formula: its clause stands in the docstring."""
