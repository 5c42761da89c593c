"""What a frame weighs and how stiff it is, of a case."""

from __future__ import annotations

from dataclasses import replace

from framecheck.errors import Fault, InputError
from framecheck.frame.stiffness import AxlePoints, FrameStiffness, axle_points, frame_stiffness
from framecheck.model.case import Case
from framecheck.model.frame import Frame
from framecheck.model.plate import BoltedPlate, Rib
from framecheck.model.weld_joints import Bracket, Joint
from framecheck.run import prepare
from framecheck.section.store import SectionStore


def fitted_mass(case: Case) -> float:
    """Return the mass of a case's sheet, plates and doublers, kg; bolts and welds are left out."""
    plates = sum(plate_mass(plate) for plate in case.plates) + sum(doubler_mass(joint) for joint in case.joints)
    return plates + sheet_mass(case.frame)


def sheet_mass(frame: Frame) -> float:
    """Return the mass of a frame's panels, kg; swages and seams are left out."""
    if not frame.panels:
        return 0.0
    from framecheck.frame.panel.weight import carriers_of

    return sum(carriers_of(frame, each)[0] for each in frame.panels)


def plate_mass(plate: BoltedPlate) -> float:
    """Return the mass of a plate with its ribs, kg: density x volume; a bead is pressed out of the sheet and adds nothing."""
    ribs = sum((rib.end - rib.start) * rib.height * rib.thickness for rib in plate.stiffeners if isinstance(rib, Rib))
    return plate.material.density * (plate.length * plate.width * plate.thickness + ribs)


def doubler_mass(joint: Joint) -> float:
    """Return the mass of the plate under a bracket's pad, as large as the pad, kg; 0 where there is none."""
    if not isinstance(joint, Bracket):
        return 0.0
    material = joint.doubler_material or joint.member.material
    return material.density * joint.doubler * joint.width * joint.length


def bare(case: Case) -> Case:
    """Return the case with nothing but its members: no engine, cab or load bed on mounts, no supports, no vehicle."""
    return replace(case, frame=replace(case.frame, stiff_bodies=(), supports=()), vehicle=None)


def points_of(case: Case) -> AxlePoints:
    """Return the points that the case's wheels hang on."""
    if case.vehicle is None:
        raise InputError(
            [Fault("", "stiffness", "the case has no vehicle", "say between which points: --front, --rear")]
        )
    return axle_points(case.vehicle)


def given_points(case: Case, front: tuple[str, str], rear: tuple[str, str]) -> AxlePoints:
    """Return four points by name, left and right of each axle."""
    unknown = [name for name in (*front, *rear) if name not in case.frame.points]
    if unknown:
        raise InputError([Fault("", name, "is no point of the frame", "use a point's name") for name in unknown])
    return AxlePoints((front[0],), (front[1],), (rear[0],), (rear[1],))


def stiffness_of(case: Case, points: AxlePoints, store: SectionStore | None = None) -> tuple[FrameStiffness, ...]:
    """Return the bare frame's stiffness between the points, one answer per bound."""
    alone = bare(case)
    return tuple(frame_stiffness(alone.frame, each, points) for each in prepare(alone, store, unlike=False).structures)
