"""The check of panels: sheet that yields, that waves, and the seams that hold it."""
