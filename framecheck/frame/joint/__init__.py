"""How stiff a crossmember's end is on a rail: the joint's own deformation, from mechanics (docs/theory/joints.md)."""

from framecheck.frame.joint.data import Branch, Chord, JointStiffness, Make
from framecheck.frame.joint.stiffness import joint_stiffness

__all__ = ["Branch", "Chord", "JointStiffness", "Make", "joint_stiffness"]
