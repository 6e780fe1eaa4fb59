"""Stations and readings: what was typed is kept once, as it was, and never changed.

Two stations that enter the same bridge at once give one reading: entries are taken in turn, and the second hears of the
first.  A reading that is sent again, because the network was away, finds itself by its key.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from rubric.contest import official
from rubric.contest.breaking import WAYS
from rubric.contest.rig import Unit
from rubric.contest.rules import ContestRules
from rubric.contest.weighing import load_doubts, mass_doubts
from rubric.language import ENGLISH, _, counted, later, speaking
from rubric.quantities import number
from rubric.wording import amount, figure
from service import kept_words
from service.contest.rulebook import Refusal, in_force, rules_of
from service.records.contest_models import (
    LOAD,
    LOAD_TEST,
    MASS,
    STATIONS,
    UNDO,
    WEIGH_IN,
    Entry,
    RawReading,
    RulesVersion,
    Station,
)
from service.records.models import Person, now

SAFETY = (
    later("Everybody near the rig wears eye protection."),
    later("A line on the floor keeps all others 2 m away."),
    later("A catch box stands under the bridge."),
    later("The load is put on slowly, without jerks."),
    later("One adult operates the rig, and nobody else touches it."),
    later("The test stops at {most}, whatever the bridge still holds."),
    later("The safety rules of the school come first, and I know them."),
)
"""What is confirmed before a load-test station opens (common practice)."""

UNITS: tuple[Unit, ...] = ("N", "kg")


class Question(Exception):
    """A reading that is out of range: asked about once, then kept with a flag."""

    def __init__(self, doubts: tuple[str, ...]) -> None:
        super().__init__(*doubts)

    @property
    def doubts(self) -> tuple[str, ...]:
        return tuple(str(arg) for arg in self.args)


class Taken(Refusal):
    """Somebody was quicker: the bridge has its reading already."""


@dataclass(frozen=True)
class Typed:
    """A reading as it came from a browser."""

    key: str
    number: str
    value: str
    unit: str = ""
    checked: tuple[str, ...] = ()
    """The dimensions that were ticked."""
    broke: str = ""
    """Where it broke first: a member or a joint."""
    how: str = ""
    """One of :data:`rubric.contest.breaking.WAYS`; nothing where it was not noted."""
    where: str = ""
    remark: str = ""
    again: str = ""
    """Why a bridge is tested once more."""
    sure: bool = False
    """Whether the question about it was answered."""
    taken_at: datetime = field(default_factory=now)


def safety_list(rules: ContestRules) -> tuple[str, ...]:
    """The safety list of a load test under these rules."""
    return tuple(_(sentence, most=amount(rules.rig.most_N, "N")) for sentence in SAFETY)


def safety_confirmed(station: Station) -> tuple[str, ...]:
    """What was confirmed before a station was opened, in the language of the moment."""
    return tuple(kept_words.said_anew(line, SAFETY) for line in station.confirmed)


def open_station(
    session: Session, by: Person, contest_id: int, kind: str, name: str, confirmed: Sequence[str]
) -> Station:
    """Open a station.

    Raises
    ------
    Refusal
        No name, no such kind, or a load test whose safety list is not confirmed to the end.
    """
    rules = in_force(session, contest_id)[1]
    plain = " ".join(name.split())[:40]
    if kind not in STATIONS or not plain:
        raise Refusal(_("Choose what is done at the station and give it a name, such as 'Table by the door'."))
    if kind == LOAD_TEST and list(confirmed) != list(safety_list(rules)):
        raise Refusal(_("Confirm every line of the safety list first. A load test does not open without it."))
    made = Station(contest_id=contest_id, kind=kind, name=plain, by_id=by.id)
    with speaking(ENGLISH):
        made.confirmed = list(safety_list(rules)) if kind == LOAD_TEST else []
    session.add(made)
    session.flush()
    return made


def call(session: Session, station: Station, typed: str) -> Entry:
    """Put a bridge on the scale or the rig, for the board to show; its entry.

    Raises
    ------
    Refusal
        No such number.
    """
    entry = find_entry(session, station.contest_id, typed)
    station.testing = entry.number
    return entry


def take(session: Session, by: Person, station: Station, typed: Typed) -> RawReading:
    """Keep a reading; the same key twice gives the same row.

    Raises
    ------
    Question
        It is out of range and nobody was asked yet.
    Taken
        The bridge has its reading already.
    Refusal
        It cannot be kept, in words.
    """
    key = typed.key.strip()
    if not re.fullmatch(r"[A-Za-z0-9-]{8,64}", key):
        raise Refusal(_("The reading came without its mark. Load the page again and type it once more."))
    version, rules = in_force(session, station.contest_id)
    entry = find_entry(session, station.contest_id, typed.number)
    session.execute(select(Entry.id).where(Entry.id == entry.id).with_for_update())  # one reading after another
    there = session.scalar(select(RawReading).where(RawReading.key == key))
    if there is not None:
        return there
    if station.closed_at is not None and typed.taken_at > station.closed_at:
        raise Refusal(_("This station is closed. Open it again, or use another one."))
    kind = MASS if station.kind == WEIGH_IN else LOAD
    _free(session, rules, entry, kind, typed)
    values = _values(rules, kind, typed)
    doubts = _doubts(rules, entry, kind, values)
    if doubts and not typed.sure:
        raise Question(doubts)
    made = RawReading(entry_id=entry.id, station_id=station.id, rules_id=version.id, kind=kind, key=key, values=values)
    made.flagged, made.by_id, made.taken_at = " ".join(doubts), by.id, min(typed.taken_at, now())
    made.why = " ".join(typed.again.split())[:600]
    session.add(made)
    if station.testing == entry.number:
        station.testing = None
    session.flush()
    return made


def undo(session: Session, by: Person, reading: RawReading, key: str, why: str) -> RawReading:
    """Take a reading back with one row more; the reading itself stays as it is.

    Raises
    ------
    Refusal
        No reason, or it was taken back already.
    """
    there = session.scalar(select(RawReading).where(RawReading.key == key))
    if there is not None:
        return there
    reason = " ".join(why.split())[:600]
    if not reason:
        raise Refusal(_("Write why the reading is taken back. Both are kept."))
    if session.scalar(select(RawReading.id).where(RawReading.undoes_id == reading.id)) is not None:
        raise Refusal(_("This reading was taken back already."))
    if reading.kind == UNDO:
        raise Refusal(_("Type the reading again instead of taking its undoing back."))
    made = RawReading(entry_id=reading.entry_id, station_id=reading.station_id, rules_id=reading.rules_id, kind=UNDO)
    made.key, made.values, made.undoes_id = key, {}, reading.id
    made.why, made.by_id, made.taken_at = reason, by.id, now()
    session.add(made)
    session.flush()
    return made


def find_entry(session: Session, contest_id: int, typed: str) -> Entry:
    """The entry with a number as typed or scanned: ``12``, ``#12`` or the address of its label.

    Raises
    ------
    Refusal
        There is none.
    """
    digits = re.search(r"(?:^|[#/])0*(\d{1,6})$", typed.strip())
    wanted = int(digits[1]) if digits else -1
    found = session.scalar(select(Entry).where(Entry.contest_id == contest_id, Entry.number == wanted))
    if found is None:
        shown = typed.strip()[:20]
        raise Refusal(_("There is no bridge with the number '{number}'. Read it off its label again.", number=shown))
    if found.withdrawn_at is not None:
        raise Refusal(_("Number {number} was withdrawn.", number=found.number))
    return found


def readings_of(session: Session, entry_ids: Sequence[int]) -> dict[int, list[RawReading]]:
    """All rows by entry, in the order in which they came, those that were taken back too."""
    found: dict[int, list[RawReading]] = {id_: [] for id_ in entry_ids}
    for row in session.scalars(select(RawReading).where(RawReading.entry_id.in_(entry_ids)).order_by(RawReading.id)):
        found[row.entry_id].append(row)
    return found


def meant(row: RawReading, rules: ContestRules) -> official.Reading:
    """What a row says: g for a mass, N on the bridge for a load, by the rules under which it was taken."""
    if row.kind == UNDO:
        return official.Reading(row.id, UNDO, 0.0, row.undoes_id)
    typed, unit = float(row.values["value"]), str(row.values["unit"])
    if row.kind == MASS:
        return official.Reading(row.id, MASS, typed)
    return official.Reading(row.id, LOAD, rules.rig.load_N(typed, unit))


def flag_said(row: RawReading, rules: ContestRules) -> str:
    """What was asked about a reading, worked out again in the language of the moment; else as it was asked."""
    if not row.flagged:
        return ""
    try:
        return " ".join(_doubts(rules, row.entry, row.kind, row.values)) or row.flagged
    except Refusal:
        return row.flagged


def rules_by_id(session: Session, contest_id: int) -> dict[int, ContestRules]:
    """Every version of the rules of a contest, by its row."""
    rows = session.scalars(select(RulesVersion).where(RulesVersion.contest_id == contest_id))
    return {row.id: rules_of(row) for row in rows}


def live(session: Session, entry_id: int, kind: str) -> list[RawReading]:
    """Rows of one kind that stand, oldest first."""
    rows = readings_of(session, [entry_id])[entry_id]
    undone = {row.undoes_id for row in rows}
    return [row for row in rows if row.kind == kind and row.id not in undone]


def _free(session: Session, rules: ContestRules, entry: Entry, kind: str, typed: Typed) -> None:
    """Refuse a reading of a bridge that has its own already, unless the rules allow one more."""
    there = live(session, entry.id, kind)
    if not there:
        return
    last = there[-1]
    shown = f"{figure(float(last.values['value']))} {last.values['unit']}"
    where = {"station": last.station.name, "person": last.by.name}
    if kind == MASS:
        raise Taken(
            _(
                "Number {number} was weighed already: {shown}, at station '{station}' by {person}. Your {value} was "
                "not kept. If the first is wrong, take it back with a reason and type the right one.",
                number=entry.number,
                shown=shown,
                value=typed.value,
                **where,
            )
        )
    if len(there) <= rules.retest.most and typed.again.strip():
        return
    more = (
        counted(
            "The rules allow {count} test more, with a reason.",
            "The rules allow {count} tests more, with a reason.",
            rules.retest.most,
        )
        if len(there) <= rules.retest.most
        else _("The rules allow no further test.")
    )
    raise Taken(
        _(
            "Number {number} was tested already: {shown}, at station '{station}' by {person}. Your {value} was not "
            "kept. {more} If the first is wrong, take it back with a reason.",
            number=entry.number,
            shown=shown,
            value=typed.value,
            more=more,
            **where,
        )
    )


def _values(rules: ContestRules, kind: str, typed: Typed) -> dict[str, Any]:
    value = number(typed.value.strip().replace(",", "."))
    if value is None:
        raise Refusal(_("'{value}' is no number. Type digits, such as 61.4.", value=typed.value.strip()[:20]))
    if kind == MASS:
        missing = [check for check in rules.weigh_in.checks if check not in typed.checked]
        checks = {"checked": [c for c in rules.weigh_in.checks if c not in missing], "not checked": missing}
        return {"value": value, "unit": "g", **checks, "remark": typed.remark.strip()[:400]}
    unit = typed.unit if typed.unit in UNITS else rules.rig.unit
    if typed.how and typed.how not in WAYS:
        raise Refusal(
            _("'{how}' is no way to break that is on the list. Choose how it broke again.", how=typed.how[:20])
        )
    noted = {"broke": typed.broke.strip()[:80], "how": typed.how, "where": typed.where.strip()[:80]}
    return {"value": value, "unit": unit, **noted, "remark": typed.remark.strip()[:400]}


def _doubts(rules: ContestRules, entry: Entry, kind: str, values: dict[str, Any]) -> tuple[str, ...]:
    measures = entry.predicted.get("measures", {})
    try:
        if kind == MASS:
            missing = tuple(_("Not ticked: {check}.", check=check) for check in values["not checked"])
            return mass_doubts(rules.weigh_in, values["value"], measures.get("mass")) + missing
        return load_doubts(rules.rig, values["value"], values["unit"], measures.get("failure load"))
    except ValueError as error:
        raise Refusal(str(error)) from None
