"""framecheck: strength and stiffness of vehicle frames, from a written description to a page for an engineer."""

__version__ = "0.1.0"
