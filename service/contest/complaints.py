"""What a result has to stand up to: disqualifications, protests, and a second pair of eyes.  Nothing is overwritten."""

from __future__ import annotations

from collections.abc import Sequence

from sqlalchemy import select
from sqlalchemy.orm import Session

from rubric.language import _
from service.contest.measuring import readings_of
from service.contest.rulebook import Refusal
from service.contest.standings import counting_rows, disqualified
from service.records.acts import note
from service.records.contest_models import DISQUALIFIED, REINSTATED, Confirmation, Entry, Protest, Ruling
from service.records.models import Person, now


def rule(session: Session, by: Person, entry: Entry, what: str, why: str) -> None:
    """Disqualify a bridge, or lift it.

    Raises
    ------
    Refusal
        No reason, or nothing to change.
    """
    reason = " ".join(why.split())[:600]
    if not reason:
        raise Refusal(_("Write the reason. It stands on the list, so write it for everybody to read."))
    out = entry.id in disqualified(session, [entry.id])
    if (what == DISQUALIFIED) == out or what not in (DISQUALIFIED, REINSTATED):
        said = _("Number {number} is disqualified already.") if out else _("Number {number} is not disqualified.")
        raise Refusal(said.format(number=entry.number))
    note(session, by.id, "ruling on a bridge", "contest", entry.contest_id, f"number {entry.number}: {what}")
    session.add(Ruling(entry_id=entry.id, what=what, why=reason, by_id=by.id))


def protest(session: Session, by: Person, entry: Entry, text: str) -> Protest:
    """Note a protest about a bridge.

    Raises
    ------
    Refusal
        No words.
    """
    words = text.strip()[:1000]
    if not words:
        raise Refusal(_("Write down what the protest is about."))
    made = Protest(entry_id=entry.id, text=words, by_id=by.id)
    session.add(made)
    session.flush()
    return made


def answer(by: Person, found: Protest, text: str) -> None:
    """Answer a protest, once.

    Raises
    ------
    Refusal
        No words, or it was answered.
    """
    words = text.strip()[:1000]
    if not words:
        raise Refusal(_("Write the answer."))
    if found.answered_at is not None:
        raise Refusal(_("This protest was answered already. Note a new one if more is to be said."))
    found.answer, found.answered_by_id, found.answered_at = words, by.id, now()


def protests(session: Session, entry_ids: Sequence[int]) -> list[Protest]:
    """All protests about these entries, oldest first."""
    return list(session.scalars(select(Protest).where(Protest.entry_id.in_(entry_ids)).order_by(Protest.id)))


def confirm(session: Session, by: Person, entry: Entry) -> None:
    """A second pair of eyes on the readings as they stand.

    Raises
    ------
    Refusal
        There is nothing to look at, or the same person typed it.
    """
    stands = counting_rows(entry, readings_of(session, [entry.id]))
    if not stands:
        raise Refusal(_("Number {number} has no reading yet.", number=entry.number))
    if any(row.by_id == by.id for row in stands):
        raise Refusal(_("You typed a reading of this bridge yourself. Another person has to look at it."))
    session.add(Confirmation(entry_id=entry.id, readings=[row.id for row in stands], by_id=by.id))
