"""The rules of a contest: kept in versions, the newest holds."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from rubric.contest.rules import ContestRules, read_rules
from rubric.language import _, later
from service.records.contest_models import RulesVersion
from service.records.models import Contest


class Refusal(Exception):
    """Why something about a contest is not done, in words for the person who asked."""


NO_RULES = later("This contest has no rules yet. The coordinator writes them first.")


def newest(session: Session, contest_id: int) -> RulesVersion | None:
    """The version that holds, or None before any was written."""
    query = select(RulesVersion).where(RulesVersion.contest_id == contest_id)
    return session.scalar(query.order_by(RulesVersion.number.desc()).limit(1))


def versions(session: Session, contest_id: int) -> list[RulesVersion]:
    """All versions, the newest last."""
    query = select(RulesVersion).where(RulesVersion.contest_id == contest_id)
    return list(session.scalars(query.order_by(RulesVersion.number)))


def in_force(session: Session, contest_id: int) -> tuple[RulesVersion, ContestRules]:
    """The version that holds, and what it says.

    Raises
    ------
    Refusal
        There are none yet.
    """
    found = newest(session, contest_id)
    if found is None:
        raise Refusal(_(NO_RULES))
    return found, rules_of(found)


def rules_of(version: RulesVersion) -> ContestRules:
    """The rules as a value."""
    return ContestRules.model_validate(version.rules)


def save(session: Session, contest: Contest, text: str, why: str, by_id: int | None) -> RulesVersion:
    """One more version of the rules.

    Raises
    ------
    Refused
        With every problem of the text.
    Refusal
        They are changed without a reason.
    """
    read = read_rules(text.encode())
    last = newest(session, contest.id)
    reason = " ".join(why.split())[:600]
    if last is not None and not reason:
        raise Refusal(_("The rules stand already. Say why they change: those who take part can read it."))
    made = RulesVersion(
        contest_id=contest.id,
        number=last.number + 1 if last else 1,
        rules=read.model_dump(mode="json"),
        text=text,
        why=reason,
        by_id=by_id,
    )
    session.add(made)
    session.flush()
    return made


def is_open(rules: ContestRules, moment: datetime) -> bool:
    """Whether entries can be named, at a moment on the school's own clock."""
    return rules.dates.opens is None or moment >= rules.dates.opens


def is_frozen(rules: ContestRules, moment: datetime) -> bool:
    """Whether entries are locked by their date."""
    return rules.dates.freeze is not None and moment >= rules.dates.freeze
