"""Filling the invented school: people at the keyboard, hand-ins over HTTP."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import asdict, dataclass
from pathlib import Path

from sqlalchemy import func, select

from rubric import library
from service.classes.setting import add_contest, set_assignment
from service.demo.school import CONTEST, COORDINATOR, SCHOOL, TEACHER, classes
from service.demo.visitor import Refused, Visitor
from service.people.enrol import SignIn, add_class, add_staff, set_school
from service.records.engine import Records
from service.records.models import COORDINATOR as COORDINATOR_ROLE
from service.records.models import RECEIVED, Assignment, Job, SchoolClass, Sheet, Submission
from service.records.models import TEACHER as TEACHER_ROLE

KEPT = "sign-ins.json"
"""In the demo's folder: a real school prints them once and keeps nothing."""


@dataclass(frozen=True)
class Progress:
    """How far marking and printing are."""

    of: int
    marked: int
    printed: int


def sign_ins(records: Records, folder: Path, send: Callable[[Job], object]) -> list[SignIn]:
    """Everybody's sign-in; the school is made where there is none yet, and ``send`` gets its drawing jobs."""
    kept = folder / KEPT
    if kept.exists():
        return [SignIn(**row) for row in json.loads(kept.read_text("utf-8"))]
    made, jobs = _make_school(records)
    for job in jobs:
        send(job)
    kept.touch(mode=0o600)
    kept.write_text(json.dumps([asdict(row) for row in made], ensure_ascii=False, indent=1), "utf-8")
    return made


def _make_school(records: Records) -> tuple[list[SignIn], list[Job]]:
    with records.write() as session:
        set_school(session, SCHOOL, "Europe/Lisbon")
        add_contest(session, CONTEST)
        made: list[SignIn] = []
        jobs: list[Job] = []
        for one in classes():
            made += add_class(session, one.name, one.code, one.students)
            brief, rubric = library.brief_text(one.ready), library.rubric_text(one.ready)
            jobs.append(set_assignment(session, one.code, brief, rubric, contest=CONTEST)[1])
        codes = [one.code for one in classes()]
        staff = [add_staff(session, COORDINATOR_ROLE, COORDINATOR), add_staff(session, TEACHER_ROLE, TEACHER, codes)]
    return [*staff, *made], jobs


def hand_all_in(
    visit: Callable[[str], Visitor], site: str, records: Records, known: list[SignIn], say: Callable[[str], None]
) -> None:
    """Hand every file in that is not in yet, each student signing in on their own."""
    secrets = {(row.class_code, row.name): row.secret for row in known}
    todo = [(one, hand_in) for one in classes() for hand_in in one.hand_ins]
    done = progress(records).of
    if done >= len(todo):
        return
    visitors: dict[tuple[str, str], Visitor] = {}
    for number, (one, hand_in) in enumerate(todo, start=1):
        key = (one.code, hand_in.student)
        if key not in visitors:
            visitors[key] = visit(site)
            visitors[key].sign_in(*_given(key, secrets))
        if number > done:
            path = f"/assignments/{_assignment_id(records, one.code)}"
            visitors[key].upload(f"{path}/attempts", path, hand_in.file_name, hand_in.text.encode())
        if number % 10 == 0 or number == len(todo):
            say(f"{number} of {len(todo)} handed in")


def _given(key: tuple[str, str], secrets: dict[tuple[str, str], str]) -> tuple[str, str]:
    if key not in secrets:
        raise Refused(f"no sign-in for {key[1]}: make the demo anew with --fresh")
    return key[0], secrets[key]


def _assignment_id(records: Records, code: str) -> int:
    with records.read() as session:
        found = select(Assignment.id).join(SchoolClass).where(SchoolClass.code == code)
        return session.scalars(found).one()


def progress(records: Records) -> Progress:
    """Counts over all hand-ins."""
    with records.read() as session:
        of = session.scalar(select(func.count(Submission.id))) or 0
        waiting = session.scalar(select(func.count(Submission.id)).where(Submission.state == RECEIVED)) or 0
        printed = session.scalar(select(func.count(Sheet.submission_id))) or 0
    return Progress(of, of - waiting, printed)
