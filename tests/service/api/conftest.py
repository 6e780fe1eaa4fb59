"""Tokens of class 8B for the tests of what programs may do."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from service.api.tokens import SCOPES, Rate, make
from service.contest import rulebook
from service.contest.complaints import protest
from service.records.contest_models import ContestPrint, Entry
from service.records.models import Contest, Notice, Person, Plan, SecondMarking, Trial, Version, now
from service.records.report_models import ClassReport
from tests.service.contest.day import enter, read, stations, typed
from tests.service.site import Site

Headers = dict[str, str]
WithToken = Callable[..., Headers]


@pytest.fixture
def with_token(site: Site) -> WithToken:
    """Makes a token of class 8B with these scopes, or with all; by its teacher or another person."""

    def made(*scopes: str, by: str = "Tess Birch", class_id: int = 1) -> Headers:
        with site.records.write() as session:
            _, secret = make(session, class_id, site.ids[by], "a test", list(scopes or SCOPES))
        return {"Authorization": f"Bearer {secret}"}

    return made


@pytest.fixture
def unbounded(site: Site) -> None:
    """Let programs ask as often as they like."""
    site.app.extensions["kingpost.rate"] = Rate(at_once=10**9)


NUMBERS = {"class_id": 1, "assignment_id": 1, "attempt_id": 1, "version_id": 1, "trial_id": 1} | {
    "student_id": 1,
    "notice_id": 1,
    "token_id": 1,
    "marking_id": 1,
    "person_id": 4,
    "year": 2026,
    "contest_id": 1,
    "entry_id": 1,
    "station_id": 1,
    "reading_id": 1,
    "protest_id": 1,
}
"""Of what is there, once :func:`full` made it."""


@pytest.fixture
def full(site: Site) -> Site:
    """An attempt that is marked, a trial, a notice, a token, a second marking, and a bridge in a contest, weighed, with a protest."""
    site.hand_in(site.signed_in("Ada Fern"))
    site.work()
    with site.records.write() as session:
        kept = session.get_one(Version, 1)
        texts = {"brief": kept.brief, "rubric": kept.rubric, "brief_text": "", "rubric_text": ""}
        session.add(Trial(id=1, assignment_id=site.assignment, by_id=site.ids["Tess Birch"], **texts))
        session.add(Notice(id=1, class_id=1, submission_id=1, text="Look at this."))
        make(session, 1, site.ids["Tess Birch"], "a mark book", ["read marks"])
        people = {"marker_id": site.ids["Cora Vale"], "asked_by_id": site.ids["Tess Birch"]}
        session.add(SecondMarking(id=1, submission_id=1, done_at=now(), **people))
        session.add(Plan(submission_id=1, paper="A4", pdf=b"%PDF-1.7 a plan", printed_at=now()))
        for what in ("certificates", "booklet"):
            session.add(ContestPrint(contest_id=site.contest, what=what, list_number=1, pdf=b"%PDF-1.7 awards"))
        of_class = {"assignment_id": site.assignment, "by_id": site.ids["Tess Birch"], "paper": "A4"}
        session.add(ClassReport(pdf=b"%PDF-1.7 a report", printed_at=now(), **of_class))
        rules = "title: T\nrig: {most: 400 N}\n"
        rulebook.save(session, session.get_one(Contest, site.contest), rules, "", None)
    enter(site, [1])
    read(site, stations(site)[0], typed(1, "60"))
    with site.records.write() as session:
        by = session.get_one(Person, site.ids["Cora Vale"])
        protest(session, by, session.get_one(Entry, 1), "It was weighed wet.")
    return site
