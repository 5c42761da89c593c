"""A case with other names for its points, members, joints and load cases."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields, is_dataclass, replace
from enum import Enum
from typing import Any, TypeVar

from framecheck.model.case import Case
from framecheck.model.frame import Member
from framecheck.model.loads import CaseLoads
from framecheck.results.subjects import Subject, Thing

T = TypeVar("T")


class Named(Enum):
    """What has a name in a case."""

    POINT = "point"
    MEMBER = "member"
    JOINT = "joint"
    LOAD_CASE = "load case"


Names = Mapping[Named, Mapping[str, str]]

FIELDS = {
    **dict.fromkeys(("point", "points", "on", "mounts", "final_drives", "frame_point", "frame_points", "reference"), Named.POINT),
    **dict.fromkeys(("member", "local_yield"), Named.MEMBER),
    **dict.fromkeys(("weld", "joint", "shares_with"), Named.JOINT),
    **dict.fromkeys(("rare", "high", "low", "load_case", "per_load_case", "parts"), Named.LOAD_CASE),
}
"""Fields of the model that name something. A field of another meaning that has one of these names holds no text of its own."""
OF_MEMBER = (Thing.MEMBER, Thing.MEMBER_END, Thing.KINK, Thing.SECTION_CHANGE, Thing.SEAM, Thing.CUT)


def names_in(case: Case) -> dict[Named, tuple[str, ...]]:
    """Return all that has a name, by what it is."""
    return {
        Named.POINT: tuple(case.frame.points),
        Named.MEMBER: tuple(each.name for each in case.frame.members),
        Named.JOINT: tuple(each.name for each in case.joints),
        Named.LOAD_CASE: tuple(each.name for each in (*case.load_cases, *case.written_loads, *case.sums)),
    }


def renamed(case: Case, names: Names) -> Case:
    """Return a case with other names; its numbers stay."""
    found = inside(case, names)
    cases = names[Named.LOAD_CASE]
    load_cases = tuple(
        replace(each, name=cases[each.name], factors=factors(each.factors, names), **asked_as(each, cases)) for each in case.load_cases
    )
    sums = tuple(replace(each, name=names[Named.LOAD_CASE][each.name]) for each in found.sums)
    joints = tuple(replace(each, name=names[Named.JOINT][each.name]) for each in found.joints)
    return replace(found, load_cases=load_cases, sums=sums, joints=joints)


def asked_as(load_case: object, cases: Mapping[str, str]) -> dict[str, str]:
    """Return what the file calls a load case, where one entry of it is run as several."""
    asked = getattr(load_case, "asked", None)
    return {} if asked is None else {"asked": cases.get(asked, asked)}


def factors(given: Mapping[str, Any], names: Names) -> dict[str, Any]:
    """Return the factors of a load case, points under their new names."""
    points = names[Named.POINT]
    return {key: swapped(value, points) if key in ("point", "points") else value for key, value in given.items()}


def swapped(value: Any, names: Mapping[str, str]) -> Any:
    """Return a name, or each name in a tuple, or each key of a mapping, as it is called now."""
    if isinstance(value, str):
        return names.get(value, value)
    if isinstance(value, tuple):
        return tuple(swapped(each, names) for each in value)
    if isinstance(value, Mapping):
        return {names.get(key, key): each for key, each in value.items()}
    return value


def inside(value: T, names: Names) -> T:
    """Return a value of the model with the names that it holds changed."""
    if is_dataclass(value) and not isinstance(value, type):
        changes = {each.name: inside(getattr(value, each.name), names) for each in fields(value)}
        for field, kind in FIELDS.items():
            if field in changes:
                changes[field] = swapped(changes[field], names[kind])
        if isinstance(value, Member | CaseLoads):
            kind = Named.MEMBER if isinstance(value, Member) else Named.LOAD_CASE
            changes["name"] = names[kind][value.name]
        return replace(value, **changes)  # type: ignore[type-var]
    if isinstance(value, tuple):
        return tuple(inside(each, names) for each in value)  # type: ignore[return-value]
    if isinstance(value, Mapping):
        return {key: inside(each, names) for key, each in value.items()}  # type: ignore[return-value]
    return value


def renamed_subject(subject: Subject, names: Names) -> Subject:
    """Return what a subject is called now. A splice is known by its point: its name puts both members in order of letters."""
    points, members, joints = (names[each] for each in (Named.POINT, Named.MEMBER, Named.JOINT))
    if subject.thing is Thing.LOAD_CASE:
        return replace(subject, name=names[Named.LOAD_CASE].get(subject.name, subject.name))
    if subject.thing is Thing.SPLICE:
        return replace(subject, name="", part=points[subject.part])
    if subject.thing in (Thing.KINK, Thing.MEMBER_END, Thing.PLACE):
        return replace(subject, name=members[subject.name], part=points.get(subject.part, subject.part))
    if subject.thing is Thing.POINT:
        return replace(subject, name=points[subject.name])
    if subject.thing is Thing.JOINT:
        known = paired(joints)
        return replace(subject, name=known.get(subject.name, subject.name), part=known.get(subject.part, subject.part))
    if subject.thing is Thing.HOLE:
        return replace(subject, name=members[subject.name], part=joints.get(subject.part, subject.part))
    if subject.thing is Thing.DETAIL:
        return replace(subject, name=members.get(subject.name, joints.get(subject.name, subject.name)))
    return replace(subject, name=members[subject.name]) if subject.thing in OF_MEMBER else subject


def paired(joints: Mapping[str, str]) -> dict[str, str]:
    """Return joints and what rows call two of them together, or one beside another, by what they were called."""
    together = {f"{one} with {two}": f"{joints[one]} with {joints[two]}" for one in joints for two in joints}
    return {**together, **{f"with {one}": f"with {joints[one]}" for one in joints}, **joints}
