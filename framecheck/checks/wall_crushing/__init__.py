"""Crushing of walls: under brackets, and under bolts through a tube."""
