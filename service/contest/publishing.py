"""The official list: published as it stood, corrected by one more with a notice; and the records of the school."""

from __future__ import annotations

from typing import Any

from sqlalchemy import delete, select
from sqlalchemy.orm import Session

from rubric.contest.official import Result
from rubric.language import ENGLISH, _, speaking
from service.contest.complaints import protests
from service.contest.rulebook import Refusal, in_force
from service.contest.standings import Standings, standings
from service.records.acts import note
from service.records.contest_models import Publication, SchoolRecord
from service.records.models import Contest, Person, now


def line_of(result: Result) -> dict[str, Any]:
    """One line of a list as it is kept, and given out as JSON: aliases alone."""
    bridge = result.bridge
    return {
        "number": bridge.number,
        "alias": bridge.alias,
        "division": bridge.division,
        "class": bridge.school_class,
        "place": result.place,
        "overall": result.overall,
        "level": result.level,
        "decided by": result.decided_by,
        "mass g": result.mass_g,
        "load N": result.load_N,
        "efficiency": result.efficiency,
        "lost": result.lost,
        "score": result.score,
        "tests": result.tests,
        "predicted N": bridge.predicted_N,
        "predicted g": bridge.predicted_g,
        "not ranked": result.why_not,
        "reason": result.reason.kept if result.reason else None,
    }


def lines_of(found: Standings) -> list[dict[str, Any]]:
    """The list as it is kept."""
    return [line_of(result) for result in found.results]


def publications(session: Session, contest_id: int) -> list[Publication]:
    """What was published, the newest last."""
    query = select(Publication).where(Publication.contest_id == contest_id)
    return list(session.scalars(query.order_by(Publication.number)))


def publish(session: Session, by: Person, contest: Contest, notice: str) -> Publication:
    """Make the list public as it stands now.

    Raises
    ------
    Refusal
        A place nobody else has looked at, a protest without an answer, or a correction without a notice.
    """
    version, __ = in_force(session, contest.id)
    with speaking(ENGLISH):  # whoever publishes it: programs read 'not ranked', people the reason in their language
        found = standings(session, contest.id)
        lines = lines_of(found)
    if found.unconfirmed:
        numbers = ", ".join(str(number) for number in sorted(found.unconfirmed))
        raise Refusal(
            _("A second pair of eyes has not looked yet at: {numbers}. Confirm these results first.", numbers=numbers)
        )
    open_ones = [one for one in protests(session, [e.id for e in found.entries.values()]) if one.answered_at is None]
    if open_ones:
        number = open_ones[0].entry.number
        raise Refusal(_("A protest about number {number} waits for its answer. Answer it first.", number=number))
    earlier = publications(session, contest.id)
    words = notice.strip()[:1000]
    if earlier and not words:
        raise Refusal(_("This list was published already. Say what is corrected and why: everybody reads the notice."))
    if earlier and _as_figures(earlier[-1].lines) == _as_figures(lines):
        raise Refusal(_("Nothing has changed since the list was published."))
    made = Publication(contest_id=contest.id, number=len(earlier) + 1, rules_id=version.id, lines=lines)
    made.notice, made.by_id = words if earlier else "", by.id
    session.add(made)
    note(session, by.id, "contest list published", "contest", contest.id, f"list {made.number}")
    _keep_records(session, contest, found)
    session.flush()
    return made


def _as_figures(lines: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Without the reason in parts, which lists of earlier days do not hold."""
    return [{name: value for name, value in line.items() if name != "reason"} for line in lines]


def records(session: Session) -> list[SchoolRecord]:
    """The winners of all years, the best first."""
    query = select(SchoolRecord).order_by(SchoolRecord.efficiency.desc(), SchoolRecord.year, SchoolRecord.id)
    return list(session.scalars(query))


def note_record(session: Session, year: str, title: str, alias: str, efficiency: str) -> None:
    """A result of an earlier year, from the school's own papers.

    Raises
    ------
    Refusal
        Something is missing, or it is noted already.
    """
    try:
        found = SchoolRecord(contest_id=None, year=int(year), efficiency=float(efficiency.replace(",", ".")))
    except ValueError:
        raise Refusal(_("Write the year and the efficiency as numbers, such as 2019 and 412.5.")) from None
    if not 1900 <= found.year <= 2200 or not 0 < found.efficiency < 1e6 or not alias.strip() or not title.strip():
        raise Refusal(_("Write the year, the contest, an alias and the efficiency."))
    found.contest_title, found.alias, found.division = title.strip()[:200], alias.strip()[:40], ""
    found.load_N = found.mass_g = None
    if session.scalar(select(SchoolRecord.id).filter_by(**_of_papers(found)).limit(1)) is not None:
        raise Refusal(_("This record is noted already."))
    session.add(found)


def _of_papers(one: SchoolRecord) -> dict[str, Any]:
    """What tells a result of an earlier year from others."""
    names = ("contest_id", "year", "contest_title", "alias", "efficiency")
    return {name: getattr(one, name) for name in names}


def _keep_records(session: Session, contest: Contest, found: Standings) -> None:
    """The winner of each division; a correction puts its own in place of what stood."""
    session.execute(delete(SchoolRecord).where(SchoolRecord.contest_id == contest.id))
    year = (found.rules.dates.day or now()).year
    for result in found.results:
        if result.place == 1 and result.efficiency is not None:
            kept = {"year": year, "contest_title": contest.title, "division": result.bridge.division}
            numbers = {"efficiency": result.efficiency, "load_N": result.load_N, "mass_g": result.mass_g}
            session.add(SchoolRecord(contest_id=contest.id, alias=result.bridge.alias, **kept, **numbers))
