"""Fatigue of joints: the welds and bolts that may crack, with the classes of the file or, where it names none, of the table."""

from __future__ import annotations

from collections.abc import Iterator

from framecheck.model.duty import BoltDetail, DetailClass, SeamDetail, StressKind, WeldDetail
from framecheck.model.joints import BoltGroup
from framecheck.model.nesting import built_up_in
from framecheck.model.weld_joints import Joint, WeldGroup
from framecheck.reading.build.draft import Draft
from framecheck.reading.fatigue_tables import class_beside, fatigue_class
from framecheck.reading.form import Record
from framecheck.reading.library import Library

NAMES = {"across": "the class across", "along": "the class along"}
STRESS = {"across": StressKind.NORMAL, "along": StressKind.SHEAR}
ROOTS = {"steel": "EN fillet root", "aluminium": "IIW aluminium fillet root"}
"""What a fillet whose class nobody names is read with, by metal: the crack from its root, through its throat."""
PULLED_BOLT = "EN bolt in tension"


def weld_details(
    draft: Draft, records: tuple[Record, ...], library: Library, joints: tuple[Joint, ...]
) -> tuple[WeldDetail, ...]:
    """Return the throats of every weld group: as the file asks, the others as roots that may crack."""
    groups = {each.name: each for each in joints if isinstance(each, WeldGroup)}
    written = tuple(weld_detail(draft, each, library, groups.get(each["weld"])) for each in records)
    named = {each.weld for each in written}
    return (*written, *(root_of(group, library) for group in groups.values() if group.name not in named))


def root_of(group: WeldGroup, library: Library) -> WeldDetail:
    """Return the root of a weld group, by the weaker metal of its parts."""
    root = ROOTS["aluminium" if "aluminium" in metals_of(group) else "steel"]
    return WeldDetail(f"root of {group.name}", group.name, fatigue_class(library, root), class_beside(library, root))


def metals_of(group: WeldGroup | None) -> frozenset[str]:
    """Return the kinds of metal that a weld group joins."""
    return frozenset() if group is None else frozenset(part.material.kind for part in group.parts)


def weld_detail(draft: Draft, record: Record, library: Library, group: WeldGroup | None) -> WeldDetail:
    """Return the throat of a weld group with the classes of the file; one of another metal or another stress is noted."""
    across = fatigue_class(library, record["across"])
    along = class_beside(library, across.name) if record["along"] is None else fatigue_class(library, record["along"])
    for key, found in (("across", across), ("along", along)):
        for fault, remedy in faults_of(key, found, group) if record[key] is not None else ():
            draft.desk.refuse(record.line_of(key), record.subject, fault, remedy)
    return WeldDetail(name=record["name"], weld=record["weld"], across=across, along=along)


def faults_of(key: str, found: DetailClass, group: WeldGroup | None) -> Iterator[tuple[str, str]]:
    """Yield what is wrong with a weld's class, and the remedy."""
    for metal in sorted(metals_of(group) - {found.metal}):
        fault = f"its weld is on {metal}, and {NAMES[key]} is for {found.metal}"
        yield fault, f"write a class of {metal} (shared/fatigue_classes.yaml)"
    if found.stress is not STRESS[key]:
        fault = f"{NAMES[key]} is read with {found.stress.value} stress"
        yield fault, f"write one for {STRESS[key].value} stress (shared/fatigue_classes.yaml)"


def bolt_details(library: Library, joints: tuple[Joint, ...]) -> tuple[BoltDetail, ...]:
    """Return the bolts of every bolt group, pulled and sheared."""
    groups = [each for each in joints if isinstance(each, BoltGroup)]
    if not groups:
        return ()
    pulled, sheared = fatigue_class(library, PULLED_BOLT), class_beside(library, PULLED_BOLT)
    return tuple(BoltDetail(group.name, pulled, sheared) for group in groups)


def seam_details(draft: Draft, library: Library) -> tuple[SeamDetail, ...]:
    """Return the seams of every built-up section of every member, by the weaker metal of its parts."""
    found = list[SeamDetail]()
    for member in draft.members.values():
        for name in dict.fromkeys(each.section for each in member.stretches):
            section = draft.shelf.section(name)
            if next(built_up_in(section.shape), None) is not None:
                kinds = {each.kind for each in (section.material, *section.metals)}
                root = ROOTS["aluminium" if "aluminium" in kinds else "steel"]
                found.append(SeamDetail(member.name, name, class_beside(library, root)))
    return tuple(found)
