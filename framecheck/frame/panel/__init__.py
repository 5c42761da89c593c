"""Flat sheet that shares a frame's load: where it lies, how it is divided, what it resists."""
