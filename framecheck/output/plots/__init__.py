"""Figures. Every plot function takes an axes and returns it; nothing here writes a file."""
