"""How stiff a crossmember's end is on a rail: the joint's own deformation, from mechanics (docs/theory/joints.md).

The shell model is in modules of its own, so that a run that finds its joints in the store does not load them.
"""
