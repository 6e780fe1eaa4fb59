"""The order of certificates or of a booklet: the list as it was published last."""

from __future__ import annotations

from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from rubric.contest.factor import class_factor
from rubric.contest.reasons import reason_of
from rubric.drawing.agreement import Dot, agreement
from rubric.language import ENGLISH, Language, _, as_language
from rubric.messages.orders import AwardLine, AwardOrder
from rubric.messages.outcomes import Figure
from rubric.wording import figure, localised
from service.contest.publishing import publications, records
from service.contest.rulebook import rules_of
from service.records.contest_models import ContestPrint, Entry, RulesVersion
from service.records.models import Assignment, Contest, Job, School, SchoolClass
from service.saying import day_said


def award_order(session: Session, job: Job) -> AwardOrder | None:
    """All that a worker needs; None where the list or the request is gone."""
    wanted = session.get(ContestPrint, job.subject_id)
    lists = publications(session, wanted.contest_id) if wanted else []
    if wanted is None or not lists:
        return None
    newest = lists[-1]
    contest = session.get_one(Contest, wanted.contest_id)
    rules = rules_of(session.get_one(RulesVersion, newest.rules_id))
    school = session.scalar(select(School).limit(1))
    named = wanted.what == "certificates"
    names = _names(session, contest.id) if named else {}
    return AwardOrder.model_validate(
        {
            "job": job.id,
            "attempt": job.attempt,
            "what": wanted.what,
            "paper": wanted.paper,
            "contest": contest.title,
            "school": school.name if school else "",
            "day": day_said(rules.dates.day or newest.at),
            "notices": [one.notice for one in lists if one.notice],
            "rules": () if named else rules.said,
            "lines": [_line(line, names) for line in newest.lines if not named or line["place"]],
            "records": () if named else _records_said(session),
            "drawing": None if named else _plot(newest.lines),
        }
    )


def award_language(session: Session, job: Job) -> Language:
    """The language of the classes that took part; English where they have more than one."""
    wanted = session.get(ContestPrint, job.subject_id)
    classes = select(SchoolClass.language).join(Assignment)
    languages = set(session.scalars(classes.where(Assignment.contest_id == wanted.contest_id))) if wanted else set()
    return as_language(languages.pop()) if len(languages) == 1 else ENGLISH


def _names(session: Session, contest_id: int) -> dict[int, str]:
    """Names of pupils by the number of their bridge: they reach the certificates alone."""
    entries = session.scalars(select(Entry).where(Entry.contest_id == contest_id))
    return {entry.number: entry.student.name for entry in entries}


def _line(line: dict[str, Any], names: dict[int, str]) -> AwardLine:
    lost = _("{part} % off for mass", part=figure(100 * line["lost"])) if line["lost"] else ""
    decided: str = line["decided by"]
    parted = _("parted by {what}", what=_(decided)) if decided else ""
    return AwardLine(
        name=names.get(line["number"], ""),
        alias=line["alias"],
        division=line["division"],
        place=line["place"],
        mass_g=line["mass g"],
        load_N=line["load N"],
        efficiency=line["efficiency"],
        predicted_N=line["predicted N"],
        remark=reason_of(line) or ", ".join(part for part in (lost, parted) if part),
    )


def _records_said(session: Session) -> list[str]:
    return [f"{localised(f'{r.efficiency:.1f}')}: {r.alias}, {r.contest_title} {r.year}" for r in records(session)[:10]]


def _plot(lines: list[dict[str, Any]]) -> Figure | None:
    tested = [line for line in lines if line["load N"] is not None and line["predicted N"]]
    dots = [Dot(line["number"], line["predicted N"], line["load N"]) for line in tested]
    return agreement(dots, class_factor([(dot.predicted_N, dot.measured_N) for dot in dots])) if dots else None
