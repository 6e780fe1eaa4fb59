"""From rows to the official list: gathers what :func:`rubric.contest.official.official` ranks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from rubric.contest.breaking import how_said, place_said
from rubric.contest.official import Bridge, Result, official
from rubric.contest.rules import ContestRules
from rubric.language import _
from service.contest.entering import entered
from service.contest.measuring import meant, readings_of, rules_by_id
from service.contest.picking import Facts
from service.contest.rulebook import in_force
from service.records.contest_models import DISQUALIFIED, LOAD, Confirmation, Entry, RawReading, Ruling, SchoolRecord
from service.records.models import SchoolClass

PODIUM = 3
"""Places that ask for a second pair of eyes."""


@dataclass(frozen=True)
class Standings:
    """All that is known of a contest at one moment."""

    rules: ContestRules
    results: tuple[Result, ...]
    entries: dict[int, Entry]
    """By number."""
    rows: dict[int, list[RawReading]]
    """Every reading by the row of its entry."""
    best_ever: float | None
    unconfirmed: frozenset[int]
    """Numbers whose place or record nobody else has looked at."""

    def of(self, division: str) -> list[Result]:
        """The results of one division."""
        return [result for result in self.results if result.bridge.division == division]


def standings(session: Session, contest_id: int) -> Standings:
    """Rank a contest from its raw readings.

    Raises
    ------
    Refusal
        It has no rules.
    """
    rules = in_force(session, contest_id)[1]
    entries = entered(session, contest_id)
    rows = readings_of(session, [entry.id for entry in entries])
    results = official(rules, bridges(session, contest_id, entries, rows))
    by_number = {entry.number: entry for entry in entries}
    record = best_ever(session, contest_id)
    asked = [r for r in results if needs_confirming(r, record)]
    unconfirmed = {r.bridge.number for r in asked if not is_confirmed(session, by_number[r.bridge.number], rows)}
    return Standings(rules, tuple(results), by_number, rows, record, frozenset(unconfirmed))


def bridges(
    session: Session,
    contest_id: int,
    entries: Sequence[Entry],
    rows: dict[int, list[RawReading]],
    until: datetime | None = None,
) -> list[Bridge]:
    """The entries as the list sees them, now or ``until`` an earlier moment."""
    rules = rules_by_id(session, contest_id)
    classes = {row.id: row.name for row in session.scalars(select(SchoolClass))}
    out = disqualified(session, [entry.id for entry in entries], until)
    return [
        Bridge(
            number=entry.number,
            alias=entry.student.alias or _("Number {number}", number=entry.number),
            division=entry.division,
            school_class=classes.get(entry.student.class_id or 0, ""),
            named=entry.number,
            readings=tuple(meant(row, rules[row.rules_id]) for row in rows[entry.id]),
            predicted_N=entry.predicted.get("measures", {}).get("failure load"),
            predicted_g=entry.predicted.get("measures", {}).get("mass"),
            measures=entry.predicted.get("measures", {}),
            disqualified=out.get(entry.id, ""),
        )
        for entry in entries
    ]


def disqualified(session: Session, entry_ids: Sequence[int], until: datetime | None = None) -> dict[int, str]:
    """Why, by entry, for those who are disqualified now, or were at an earlier moment."""
    last: dict[int, Ruling] = {}
    for ruling in session.scalars(select(Ruling).where(Ruling.entry_id.in_(entry_ids)).order_by(Ruling.id)):
        if until is None or ruling.at <= until:
            last[ruling.entry_id] = ruling
    return {entry_id: ruling.why for entry_id, ruling in last.items() if ruling.what == DISQUALIFIED}


def best_ever(session: Session, contest_id: int) -> float | None:
    """The best efficiency of earlier contests, or None without any."""
    query = select(SchoolRecord.efficiency).where(
        SchoolRecord.contest_id.is_(None) | (SchoolRecord.contest_id != contest_id)
    )
    return session.scalar(query.order_by(SchoolRecord.efficiency.desc()).limit(1))


def needs_confirming(result: Result, record: float | None) -> bool:
    """Whether a place on the podium or a record of the school hangs on the readings."""
    beats = record is not None and result.efficiency is not None and result.efficiency > record
    return result.place is not None and (result.place <= PODIUM or beats)


def counting_rows(entry: Entry, rows: dict[int, list[RawReading]]) -> list[RawReading]:
    """The readings of an entry that stand."""
    undone = {row.undoes_id for row in rows[entry.id]}
    return [row for row in rows[entry.id] if row.undoes_id is None and row.id not in undone]


def is_confirmed(session: Session, entry: Entry, rows: dict[int, list[RawReading]]) -> bool:
    """Whether somebody else than who typed them has looked at the readings as they stand."""
    stands = sorted(row.id for row in counting_rows(entry, rows))
    seen = session.scalars(select(Confirmation).where(Confirmation.entry_id == entry.id))
    return any(sorted(one.readings) == stands for one in seen)


@dataclass(frozen=True)
class Broke:
    """What was noted of a break: the member or joint, and one of :data:`rubric.contest.breaking.WAYS`."""

    where: str = ""
    how: str = ""

    def __str__(self) -> str:
        """``a stick buckled sideways, a-b``, in words."""
        return ", ".join(part for part in (how_said(self.how), place_said(self.where)) if part)


def broke(row: RawReading) -> Broke:
    """What a load test says of the break; readings of earlier days say no way."""
    return Broke(row.values.get("broke", ""), row.values.get("how", ""))


def broke_last(entry: Entry, rows: dict[int, list[RawReading]]) -> Broke | None:
    """The same of the last load test that stands; None without any."""
    tests = [row for row in counting_rows(entry, rows) if row.kind == LOAD]
    return broke(tests[-1]) if tests else None


def facts_of(found: Standings, result: Result) -> Facts:
    """What a line of the list is found by."""
    states = _tested(result)
    states |= {"not ranked"} if result.why_not else set()
    states |= {"waits for a second pair of eyes"} if result.bridge.number in found.unconfirmed else set()
    return Facts(result.bridge.number, result.bridge.division, (result.bridge.alias,), frozenset(states))


def entry_facts(entry: Entry, result: Result | None) -> Facts:
    """The same of an entry on the desk, where the pupil's name is known."""
    states = frozenset(_tested(result) if result else ())
    return Facts(entry.number, entry.division, (entry.student.alias or "", entry.student.name), states)


def _tested(result: Result) -> set[str]:
    if result.load_N is not None:
        return {"tested"}
    return {"not weighed"} if result.mass_g is None else {"weighed, not tested"}
