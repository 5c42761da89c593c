"""Rows of the fatigue check."""

from __future__ import annotations

from framecheck.frame.results import Bound
from framecheck.model.duty import Duty, Per
from framecheck.model.said import Amount, Words, joined, said
from framecheck.results.row import Check, CheckResult, Mode
from framecheck.results.subjects import Subject, Thing
from framecheck.value_class import value_class

MINER = "Miner's sum over the asked life; partial factors from EN 1993-1-9:2005, table 3.1, from memory"


@value_class
class Finding:
    """What is to be said of a detail: damage per km or year, and the words and place that go with it.

    subject: of the row; None: the detail on its member or weld.
    """

    detail: str
    where: str
    station: float | None
    damage: float
    words: str
    source: str
    bound: Bound | None = None
    subject: Subject | None = None


def detail_subject(name: str, where: str) -> Subject:
    """Return a detail as the subject of a row: the member or weld that it sits on, and its name."""
    return Subject(Thing.DETAIL, where, name)


def life(damage: float, duty: Duty) -> float:
    """Return the life until Miner's sum reaches its limit, km or years; inf where nothing is damaged."""
    return duty.damage_limit / damage if damage > 0 else float("inf")


def life_words(damage: float, duty: Duty) -> Words:
    """Return the life in words, in three digits."""
    if damage <= 0:
        return "below the endurance limit"
    found = life(damage, duty)
    if duty.life_in is Per.KM:
        return said("life ", Amount(1000 * found, "life distance"))
    if found >= 1000:
        digits = max(len(str(int(found))) - 3, 0)
        return f"life {int(found) // 10**digits * 10**digits:,} years".replace(",", " ")
    return f"life {found:.3g} years"


def factor_words(duty: Duty) -> str:
    """Return the partial factors in words."""
    return f"partial factors {duty.factors.load:.2f} on load, {duty.factors.strength:.2f} on strength"


def row(finding: Finding, duty: Duty) -> CheckResult:
    """Return the row of a detail: Miner's sum over the asked life against its limit; the safety factor is one on life."""
    used = finding.damage * duty.life
    return CheckResult(
        check=Check.FATIGUE,
        mode=Mode.DAMAGE,
        subject=finding.subject or detail_subject(finding.detail, finding.where),
        load_case=None,
        demand=used,
        capacity=duty.damage_limit,
        unit="1",
        target=1.0,
        source=f"{finding.source}; {MINER}",
        station=finding.station,
        part=finding.detail,
        bound=finding.bound,
        note=joined(life_words(finding.damage, duty), finding.words, factor_words(duty)),
    )
