"""Checks, one module each; none imports another."""
