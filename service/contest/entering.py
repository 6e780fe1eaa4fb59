"""Entries: which attempt a pupil builds and brings; locked from the freeze on, changed late only with a reason."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import func, select, update
from sqlalchemy.orm import Session

from rubric.contest.order import Runner, running_order
from rubric.contest.rules import ContestRules
from rubric.evidence import Evidence
from rubric.language import _, counted
from rubric.wording import listed
from service.contest.rulebook import Refusal, in_force, is_frozen, is_open
from service.records.acts import note
from service.records.contest_models import Entry, EntryChange, RawReading
from service.records.models import MARKED, STUDENT, Contest, Person, Submission, now


@dataclass(frozen=True)
class Asked:
    """What somebody wants entered; ``division`` counts where there is a choice."""

    division: str = ""
    age: int | None = None
    why: str = ""


def name_entry(session: Session, by: Person, submission: Submission, asked: Asked, local: datetime) -> Entry:
    """Enter the bridge of an attempt.

    Parameters
    ----------
    local
        The present moment on the school's own clock.

    Raises
    ------
    Refusal
        With the reason.
    """
    contest = _contest_of(session, submission)
    __, rules = in_force(session, contest.id)
    session.execute(select(Contest.id).where(Contest.id == contest.id).with_for_update())  # numbers are given in turn
    locked = is_locked(session, rules, contest.id, local)
    if not is_open(rules, local):
        raise Refusal(_("Entries can be named from {when} on.", when=f"{rules.dates.opens:%d.%m.%Y %H:%M}"))
    if locked:
        _late(by, asked.why)
    _eligible(rules, submission)
    own = entries_of(session, contest.id, submission.student_id)
    if any(entry.submission_id == submission.id for entry in own):
        raise Refusal(_("This attempt is entered already."))
    if len(own) >= rules.entries:
        raise Refusal(
            counted(
                "Only {count} bridge a pupil may be entered. Change an entry or withdraw one.",
                "Only {count} bridges a pupil may be entered. Change an entry or withdraw one.",
                rules.entries,
            )
        )
    division = division_of(rules, submission.student, asked)
    entry = session.scalar(select(Entry).where(Entry.submission_id == submission.id))  # withdrawn before: it comes back
    if entry is None:
        highest = session.scalar(select(func.max(Entry.number)).where(Entry.contest_id == contest.id)) or 0
        entry = Entry(contest_id=contest.id, student_id=submission.student_id, number=highest + 1)
        entry.submission_id = submission.id
        session.add(entry)
    entry.division, entry.predicted, entry.by_id = division, predicted(submission), by.id
    entry.age = asked.age if rules.asks_age else None
    entry.withdrawn_at, entry.named_at = None, now()
    entry.frozen_at = now() if locked else None
    session.flush()
    if locked:
        _note(session, entry, by, "entered late", ("", attempt_said(submission)), asked.why)
    return entry


def change_entry(
    session: Session, by: Person, entry: Entry, submission: Submission, asked: Asked, local: datetime
) -> None:
    """Put another attempt, or another division, in place of what is entered.

    Raises
    ------
    Refusal
        With the reason.
    """
    __, rules = in_force(session, entry.contest_id)
    locked = _may_change(session, rules, by, entry, asked.why, local)
    if submission.student_id != entry.student_id or _contest_of(session, submission).id != entry.contest_id:
        raise Refusal(_("That attempt is another pupil's or belongs to another contest."))
    _eligible(rules, submission)
    other = select(Entry.id).where(Entry.submission_id == submission.id, Entry.id != entry.id)
    if session.scalar(other) is not None:
        raise Refusal(_("That attempt is entered already, under another number."))
    division = division_of(rules, entry.student, asked)
    before = f"{attempt_said(entry.submission)}, {entry.division}"
    entry.submission_id, entry.division, entry.predicted = submission.id, division, predicted(submission)
    entry.age = asked.age if rules.asks_age else None
    session.flush()
    if locked:
        after = f"{attempt_said(submission)}, {division}"
        _note(session, entry, by, "changed late", (before, after), asked.why)


def withdraw(session: Session, by: Person, entry: Entry, why: str, local: datetime) -> None:
    """Take an entry out of the contest; its number is not given again.

    Raises
    ------
    Refusal
        With the reason.
    """
    __, rules = in_force(session, entry.contest_id)
    locked = _may_change(session, rules, by, entry, why, local)
    entry.withdrawn_at = now()
    if locked:
        _note(session, entry, by, "withdrawn", (attempt_said(entry.submission), ""), why)


def freeze(session: Session, contest_id: int, by: Person | None = None) -> int:
    """Lock all entries, and put down anew what is predicted for each; how many there are."""
    entries = entered(session, contest_id)
    still_open = [entry for entry in entries if entry.frozen_at is None]
    for entry in still_open:
        entry.predicted, entry.frozen_at = predicted(entry.submission), now()
    if still_open:
        note(session, by.id if by else None, "entries locked", "contest", contest_id)
    return len(entries)


def draw_order(session: Session, contest_id: int, seed: int, by: Person | None = None) -> None:
    """A running order of all entries, made anew; the same seed gives the same order."""
    entries = entered(session, contest_id)
    runners = [Runner(e.number, str(e.student.class_id), e.student_id) for e in entries]
    place = {number: place for place, number in enumerate(running_order(runners, seed), 1)}
    session.execute(update(Entry).where(Entry.contest_id == contest_id).values(running=None))
    for entry in entries:
        entry.running = place[entry.number]
    if entries:
        note(session, by.id if by else None, "running order drawn", "contest", contest_id, f"with {seed}")


def entered(session: Session, contest_id: int) -> list[Entry]:
    """All entries that take part, by number."""
    query = select(Entry).where(Entry.contest_id == contest_id, Entry.withdrawn_at.is_(None))
    return list(session.scalars(query.order_by(Entry.number)))


def entries_of(session: Session, contest_id: int, student_id: int) -> list[Entry]:
    """The entries of one pupil that take part, by number."""
    return [entry for entry in entered(session, contest_id) if entry.student_id == student_id]


def is_locked(session: Session, rules: ContestRules, contest_id: int, local: datetime) -> bool:
    """Whether the freeze has come: by its date, or because the coordinator locked the entries."""
    frozen = select(Entry.id).where(Entry.contest_id == contest_id, Entry.frozen_at.is_not(None)).limit(1)
    return is_frozen(rules, local) or session.scalar(frozen) is not None


def division_of(rules: ContestRules, student: Person, asked: Asked) -> str:
    """Where a pupil stands.

    Raises
    ------
    Refusal
        An age or a choice is missing, or no division takes them.
    """
    code = student.school_class.code if student.school_class else ""
    if rules.asks_age and asked.age is None:
        raise Refusal(_("The divisions of this contest go by age. Write the age on the day."))
    may = rules.divisions_for(code, asked.age)
    if not may:
        raise Refusal(_("No division of this contest takes this pupil. Ask the coordinator."))
    if len(may) == 1:
        return may[0]
    if asked.division not in may:
        raise Refusal(_("Choose the division: {divisions}.", divisions=listed(may)))
    return asked.division


def predicted(submission: Submission) -> dict[str, Any]:
    """What was predicted for an attempt: its measures, and what fails first."""
    outcome = submission.outcome or {}
    first = (outcome.get("analysis") or {}).get("first_failure") or {}
    return {
        "measures": outcome.get("measures", {}),
        "member": first.get("member", ""),
        "mode": first.get("mode", ""),
        "axis": first.get("axis") or "",
        "members": [row["name"] for row in (outcome.get("analysis") or {}).get("members", ())],
    }


def attempt_said(submission: Submission) -> str:
    """``attempt 2 at Footbridge``."""
    return f"attempt {submission.number} at {submission.assignment.title}"


def why_not_eligible(rules: ContestRules, submission: Submission) -> str:
    """Why an attempt cannot be entered; nothing where it can."""
    if submission.state != MARKED or submission.has_mistakes:
        return _("Only an attempt that was read without mistakes and marked can be entered.")
    if submission.held:
        return _("This attempt waits for its mark to be given. Then it can be entered.")
    evidence = Evidence(measures=predicted(submission)["measures"])
    broken = [one.why(evidence) for one in rules.entry if not one.holds(evidence)]
    return _("It is not eligible: {reasons}.", reasons="; ".join(broken)) if broken else ""


def _eligible(rules: ContestRules, submission: Submission) -> None:
    why = why_not_eligible(rules, submission)
    if why:
        raise Refusal(why)


def _contest_of(session: Session, submission: Submission) -> Contest:
    contest = session.get(Contest, submission.assignment.contest_id) if submission.assignment.contest_id else None
    if contest is None:
        raise Refusal(_("This work counts for no contest."))
    return contest


def _may_change(session: Session, rules: ContestRules, by: Person, entry: Entry, why: str, local: datetime) -> bool:
    """Whether the change is a late one."""
    if entry.withdrawn_at is not None:
        raise Refusal(_("This entry was withdrawn."))
    if session.scalar(select(RawReading.id).where(RawReading.entry_id == entry.id).limit(1)) is not None:
        raise Refusal(_("This bridge has been on the scale or the rig already. It cannot become another one now."))
    locked = is_locked(session, rules, entry.contest_id, local)
    if locked:
        _late(by, why)
    return locked


def _late(by: Person, why: str) -> None:
    if by.role == STUDENT:
        raise Refusal(_("The entries are locked. Ask your teacher if yours has to change."))
    if not why.strip():
        raise Refusal(_("The entries are locked. Write the reason for the late change: it is kept with it."))


def _note(session: Session, entry: Entry, by: Person, what: str, ends: tuple[str, str], why: str) -> None:
    before, after = (end[:200] for end in ends)
    reason = " ".join(why.split())[:600]
    session.add(EntryChange(entry_id=entry.id, by_id=by.id, what=what, before=before, after=after, why=reason))
