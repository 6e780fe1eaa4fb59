"""Any figure on any list that was published, computed again from raw readings and compared."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from rubric.contest.official import official
from rubric.contest.rules import ContestRules
from rubric.language import ENGLISH, speaking
from rubric.wording import figure
from service.contest.measuring import readings_of, rules_by_id
from service.contest.publishing import line_of
from service.contest.rulebook import rules_of
from service.contest.standings import bridges
from service.records.contest_models import LOAD, MASS, UNDO, Entry, Publication, RawReading, RulesVersion

FIGURES = ("place", "overall", "level", "mass g", "load N", "efficiency", "lost", "score", "tests", "not ranked")
"""What is compared; an alias may have been changed since, and is no figure."""


@dataclass(frozen=True)
class Difference:
    """A figure that does not come out as it was published."""

    number: int
    name: str
    published: object
    computed: object

    def __str__(self) -> str:
        return f"number {self.number}, {self.name}: published {self.published}, computed {self.computed}"


def lines_again(session: Session, publication: Publication) -> list[dict[str, Any]]:
    """The list of a publication, from the rows that were there when it was made."""
    until = publication.at
    entries = [
        entry
        for entry in session.scalars(
            select(Entry).where(Entry.contest_id == publication.contest_id).order_by(Entry.number)
        )
        if entry.named_at <= until and (entry.withdrawn_at is None or entry.withdrawn_at > until)
    ]
    rows = _until(readings_of(session, [entry.id for entry in entries]), until)
    rules = rules_of(session.get_one(RulesVersion, publication.rules_id))
    found = official(rules, bridges(session, publication.contest_id, entries, rows, until))
    with speaking(ENGLISH):
        return [line_of(result) for result in found]


def differences(session: Session, publication: Publication) -> list[Difference]:
    """Every figure of the list that does not come out again; nothing where all do."""
    again = {line["number"]: line for line in lines_again(session, publication)}
    found = []
    for line in publication.lines:
        computed = again.pop(line["number"], None)
        if computed is None:
            found.append(Difference(line["number"], "the whole line", "there", "gone: deleted since"))
            continue
        found += [
            Difference(line["number"], name, line[name], computed[name])
            for name in FIGURES
            if not _same(line[name], computed[name])
        ]
    found += [Difference(number, "the whole line", "not there", "there") for number in again]
    return found


def derivation(session: Session, publication: Publication, number: int) -> Iterator[str]:
    """How the figures of one bridge follow from its readings, step by step."""
    query = select(Entry).where(Entry.contest_id == publication.contest_id, Entry.number == number)
    entry = session.scalar(query)
    if entry is None:
        return
    rules = rules_by_id(session, publication.contest_id)
    rows = _until(readings_of(session, [entry.id]), publication.at)[entry.id]
    undone = {row.undoes_id for row in rows}
    for row in rows:
        yield _row_said(row, rules[row.rules_id], row.id in undone)


def _row_said(row: RawReading, rules: ContestRules, undone: bool) -> str:
    taken = f"reading {row.id}, {row.taken_at:%Y-%m-%d %H:%M} UTC, station '{row.station.name}'"
    if row.kind == UNDO:
        return f"{taken}: takes back reading {row.undoes_id} ({row.why})"
    typed = f"{row.values['value']:g} {row.values['unit']}"
    gone = ", taken back" if undone else ""
    if row.kind == MASS:
        return f"{taken}: mass {typed}{gone}"
    assert row.kind == LOAD
    rig, load = rules.rig, rules.rig.load_N(float(row.values["value"]), row.values["unit"])
    how = f"less tare {rig.tare:g} {rig.unit}, by the line {rig.line.start:.6g} + {rig.line.slope:.6g} x"
    return f"{taken}: {typed}, {how}, with {rig.gear_g:g} g of gear: {figure(load, 5)} N on the bridge{gone}"


def _until(rows: dict[int, list[RawReading]], until: datetime) -> dict[int, list[RawReading]]:
    return {entry: [row for row in each if row.at <= until] for entry, each in rows.items()}


def _same(one: object, other: object) -> bool:
    if isinstance(one, float) and isinstance(other, float | int):
        return abs(one - other) <= 1e-9 * max(1.0, abs(one))
    return one == other
