"""The mass of what is fitted to the frame's members: skid plates with their ribs, doublers under brackets. SI."""

from __future__ import annotations

from framecheck.model.case import Case
from framecheck.model.plate import Plate, Rib
from framecheck.model.weld_joints import Bracket, Joint


def fitted_mass(case: Case) -> float:
    """Return the mass of a case's plates and doublers, kg; bolts and welds are left out."""
    return sum(plate_mass(plate) for plate in case.plates) + sum(doubler_mass(joint) for joint in case.joints)


def plate_mass(plate: Plate) -> float:
    """Return the mass of a plate with its ribs, kg: density x volume; a bead is pressed out of the sheet and adds nothing."""
    ribs = sum((rib.end - rib.start) * rib.height * rib.thickness for rib in plate.stiffeners if isinstance(rib, Rib))
    return plate.material.density * (plate.length * plate.width * plate.thickness + ribs)


def doubler_mass(joint: Joint) -> float:
    """Return the mass of the plate under a bracket's pad, as large as the pad, kg; 0 where there is none."""
    if not isinstance(joint, Bracket):
        return 0.0
    material = joint.doubler_material or joint.member.material
    return material.density * joint.doubler * joint.width * joint.length
