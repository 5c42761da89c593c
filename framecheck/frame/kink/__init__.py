"""What a kink of a box tube, mitred, mitred with a plate inside or bent, gives beyond its two straight legs (docs/theory/kinks.md).

The shell model is in modules of its own, so that a run that finds its kinks in the store does not load them.
"""
