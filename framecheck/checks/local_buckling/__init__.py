"""Local buckling of the walls of members: class, effective section, shear of slender walls."""

from framecheck.checks.local_buckling.check import check

__all__ = ["check"]
