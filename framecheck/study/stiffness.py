"""The bare frame on the rig: stiffness under every bound that the case leaves open."""

from __future__ import annotations

from dataclasses import replace

from framecheck.errors import Fault, InputError
from framecheck.frame.stiffness import AxlePoints, FrameStiffness, axle_points, frame_stiffness
from framecheck.model.case import Case
from framecheck.run import prepare
from framecheck.section.store import SectionStore


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
    return tuple(frame_stiffness(alone.frame, each, points) for each in prepare(alone, store).structures)
