"""Who may open which page: every route of the application against every kind of person."""

from __future__ import annotations

import re

import pytest
from werkzeug.routing import Rule

from service.api.tokens import make
from service.classes import plans
from service.contest import rulebook
from service.contest.complaints import protest
from service.people.guards import PROGRAMS, PUBLIC
from service.records.contest_models import ContestPrint, Entry
from service.records.models import Contest, Notice, Person, SecondMarking, Trial, Version, now
from service.records.report_models import ClassReport
from tests.service.contest.day import enter, read, stations, typed
from tests.service.site import Site, token

PUBLIC_PAGES = {
    "static",
    "health",
    "people.sign_in",
    "people.staff_entrance",
    "people.goodbye",
    "classes.truss_file_help",
    "help.rubric",
    "help.brief",
    "help.measures",
    "help.schema",
    "words.glossary",
    "tasks.contents",
    "tasks.task",
    "privacy.kept",
    "live.board",
    "live.now_part",
    "live.results",
}

OWN, CLASSMATE, STRANGER = "Ada Fern", "Ben Holt", "Cleo Marsh"
TEACHER, OTHER_TEACHER, COORDINATOR = "Tess Birch", "Owen Reed", "Cora Vale"
EVERYBODY = (OWN, CLASSMATE, STRANGER, TEACHER, OTHER_TEACHER, COORDINATOR)

STUDENTS_OF_CLASS = {OWN, CLASSMATE}
STUDENTS = {OWN, CLASSMATE, STRANGER}
STAFF_OF_CLASS = {TEACHER, COORDINATOR}
STAFF = {TEACHER, OTHER_TEACHER, COORDINATOR}

MAY_OPEN = {
    "people.home": set(EVERYBODY),
    "people.sign_out": set(EVERYBODY),
    "people.account": set(EVERYBODY),
    "people.language": STAFF,
    "people.sign_out_everywhere": set(EVERYBODY),
    "people.alias": STUDENTS,
    "class_desk.alias": STAFF_OF_CLASS,
    "class_desk.archive": STAFF_OF_CLASS,
    "class_desk.language": STAFF_OF_CLASS,
    "classes.desk": STUDENTS,
    "classes.assignment": STUDENTS_OF_CLASS,
    "classes.attempt": STUDENTS_OF_CLASS,
    "looking.look": STUDENTS_OF_CLASS,
    "looking.seen": STUDENTS_OF_CLASS,
    "attempts.attempt": {OWN} | STAFF_OF_CLASS,
    "attempts.parts": {OWN} | STAFF_OF_CLASS,
    "attempts.sheet": {OWN} | STAFF_OF_CLASS,
    "plans.ask": {OWN} | STAFF_OF_CLASS,
    "plans.plan": {OWN} | STAFF_OF_CLASS,
    "attempts.file": {OWN} | STAFF_OF_CLASS,
    "comparing.beside": {OWN} | STAFF_OF_CLASS,
    "attempts.judgement": STAFF_OF_CLASS,
    "attempts.send_again": STAFF_OF_CLASS,
    "marks.corrections": STAFF_OF_CLASS,
    "marks.release_one": STAFF_OF_CLASS,
    "marks.release": STAFF_OF_CLASS,
    "marks.release_setting": STAFF_OF_CLASS,
    "second.asked": STAFF,
    "second.blind": {OTHER_TEACHER},
    "second.ask": STAFF_OF_CLASS,
    "second.settle": STAFF_OF_CLASS,
    "second.withdraw": STAFF_OF_CLASS,
    "api.attempt_state": {OWN} | STAFF_OF_CLASS,
    "contest.assignment_board": STUDENTS_OF_CLASS | STAFF_OF_CLASS,
    "contest.contest_board": set(EVERYBODY),
    "teaching.staff_desk": STAFF,
    "teaching.class_table": STAFF_OF_CLASS,
    "teaching.marks": STAFF_OF_CLASS,
    "teaching.sheets": STAFF_OF_CLASS,
    "teaching.sheets_to_print": STAFF_OF_CLASS,
    "teaching.class_list": STAFF_OF_CLASS,
    "teaching.passphrase": STAFF_OF_CLASS,
    "classes.as_a_student": STAFF_OF_CLASS,
    "calendar.due_dates": set(EVERYBODY),
    "teaching.table_rows": STAFF_OF_CLASS,
    "students.student": STAFF_OF_CLASS,
    "students.hand_in_for": STAFF_OF_CLASS,
    "students.bundle": STAFF_OF_CLASS,
    "students.look": STAFF_OF_CLASS,
    "students.take": STAFF_OF_CLASS,
    "handing_on.choices": STAFF_OF_CLASS,
    "handing_on.as_json": STAFF_OF_CLASS,
    "handing_on.oneroster": STAFF_OF_CLASS,
    "reports.ask": STAFF_OF_CLASS,
    "reports.pdf": STAFF_OF_CLASS,
    "setting.begin": STAFF_OF_CLASS,
    "setting.work": STAFF_OF_CLASS,
    "setting.copy": STAFF_OF_CLASS,
    "setting.change_dates": STAFF_OF_CLASS,
    "setting.extend": STAFF_OF_CLASS,
    "setting.more_attempts": STAFF_OF_CLASS,
    "office.office": {COORDINATOR},
    "office.add_class": {COORDINATOR},
    "office.rename_class": {COORDINATOR},
    "office.add_person": {COORDINATOR},
    "office.new_password": {COORDINATOR},
    "office.teaches": {COORDINATOR},
    "privacy.own_data": STUDENTS,
    "privacy.data_of": STAFF_OF_CLASS,
    "privacy.delete_student": STAFF_OF_CLASS,
    "privacy.delete_class": {COORDINATOR},
    "privacy.delete_year": {COORDINATOR},
    "privacy.time_of_keeping": {COORDINATOR},
    "doings.record": {COORDINATOR},
    "rosters.bring": STAFF_OF_CLASS,
    "rosters.look": STAFF_OF_CLASS,
    "rosters.write": STAFF_OF_CLASS,
    "rosters.reissue": STAFF_OF_CLASS,
    "rosters.leave": STAFF_OF_CLASS,
    "teaching.settle": STAFF_OF_CLASS,
    "alike.look": STAFF_OF_CLASS,
    "insight.shown": STAFF_OF_CLASS,
    "alike.look_again": STAFF_OF_CLASS,
    "versions.table": STAFF_OF_CLASS,
    "versions.file": STAFF_OF_CLASS,
    "versions.try_version": STAFF_OF_CLASS,
    "versions.trial": STAFF_OF_CLASS,
    "versions.save": STAFF_OF_CLASS,
    "versions.undo": STAFF_OF_CLASS,
    "writing.editor": STAFF_OF_CLASS,
    "writing.work": STAFF_OF_CLASS,
    "writing.check_typed": STAFF,
    "contest_desk.desk": STAFF,
    "contest_rules.rules": {COORDINATOR},
    "contest_rules.write": {COORDINATOR},
    "contest_rules.check_typed": {COORDINATOR},
    "contest_desk.freeze": {COORDINATOR},
    "contest_desk.draw_order": {COORDINATOR},
    "contest_desk.order": STAFF,
    "contest_desk.bridge_labels": STAFF,
    "contest_desk.official_list": STAFF,
    "contest_desk.publish": {COORDINATOR},
    "contest_desk.note_record": {COORDINATOR},
    "contest_desk.confirm": STAFF,
    "contest_desk.rule": {COORDINATOR},
    "contest_desk.protest": STAFF_OF_CLASS,
    "contest_desk.answer": {COORDINATOR},
    "entering.entry": {OWN} | STAFF_OF_CLASS,
    "entering.enter": {OWN} | STAFF_OF_CLASS,
    "entering.withdraw": {OWN} | STAFF_OF_CLASS,
    "stations.stations": STAFF,
    "stations.open_station": STAFF,
    "stations.station": STAFF,
    "stations.call": STAFF,
    "stations.read": STAFF,
    "stations.last": STAFF,
    "stations.undo": STAFF,
    "stations.close": STAFF,
    "stations.bridge": STAFF,
    "stations.away": STAFF,
    "contest_files.as_csv": STAFF,
    "contest_files.everything": STAFF,
    "contest_files.compared": STAFF,
    "awards.ask": {COORDINATOR},
    "awards.pdf": {COORDINATOR},
    "tokens.table": STAFF_OF_CLASS,
    "tokens.add": STAFF_OF_CLASS,
    "tokens.close": STAFF_OF_CLASS,
}
"""Of every page that needs a sign-in: who gets it.  The objects are those of Ada Fern, of class 8B."""


def rules(site: Site) -> list[Rule]:
    """All but public pages and those of programs, which tests/service/api holds against tokens."""
    every = (rule for rule in site.app.url_map.iter_rules() if not rule.endpoint.startswith(f"{PROGRAMS}."))
    return [rule for rule in every if rule.endpoint not in PUBLIC_PAGES]


def address(site: Site, rule: Rule, submission: int, notice: int) -> str:
    values = {
        "assignment_id": site.assignment,
        "submission_id": submission,
        "contest_id": site.contest,
        "class_id": 1,
        "student_id": site.ids[OWN],
        "person_id": site.ids[TEACHER],
        "notice_id": notice,
        "marking_id": 1,
        "version_id": 1,
        "trial_id": 1,
        "year": 2026,
        "entry_id": 1,
        "station_id": 1,
        "reading_id": 1,
        "protest_id": 1,
        "number": 1,
        "what": "booklet",
        "token_id": 1,
        "name": "brief.yaml",
    }
    wanted = {name: values[name] for name in rule.arguments}
    return str(site.app.url_map.bind("localhost").build(rule.endpoint, wanted, method=method(rule)))


def untimed(page: str) -> str:
    """A page without its token, which changes with the second."""
    return re.sub(r'(name="csrf_token" value=")[^"]+', r"\1", page)


def method(rule: Rule) -> str:
    return "GET" if "GET" in (rule.methods or ()) else "POST"


@pytest.fixture
def objects(site: Site) -> tuple[int, int]:
    return one_of_each(site)


def one_of_each(site: Site) -> tuple[int, int]:
    """A submission with its plan and a notice of class 8B, and a second marking of it by the teacher of another class."""
    submission = site.hand_in(site.signed_in(OWN))
    site.work()
    with site.records.write() as session:
        site.sender.send(plans.order(session, submission, "A4", again=False))
    site.work()
    with site.records.write() as session:
        notice = Notice(class_id=1, submission_id=submission, text="look at this")
        session.add(notice)
        people = {"marker_id": site.ids[OTHER_TEACHER], "asked_by_id": site.ids[TEACHER]}
        session.add(SecondMarking(submission_id=submission, done_at=now(), **people))
        kept = session.get_one(Version, 1)
        texts = {"brief": kept.brief, "rubric": kept.rubric, "brief_text": "", "rubric_text": ""}
        session.add(Trial(id=1, assignment_id=site.assignment, by_id=site.ids[TEACHER], **texts))
        make(session, 1, site.ids[TEACHER], "a mark book", ["read marks"])
        of_class = {"assignment_id": site.assignment, "by_id": site.ids[TEACHER], "paper": "A4", "printed_at": now()}
        session.add(ClassReport(pdf=b"%PDF-1.7 a report", **of_class))
    contest_day(site, submission)
    return submission, notice.id


def contest_day(site: Site, submission: int) -> None:
    """The submission entered in the contest, weighed, with a protest about it."""
    with site.records.write() as session:
        rulebook.save(session, session.get_one(Contest, site.contest), "title: T\nrig: {most: 400 N}\n", "", None)
    enter(site, [submission])
    read(site, stations(site)[0], typed(1, "60"))
    with site.records.write() as session:
        coordinator = session.get_one(Person, site.ids[COORDINATOR])
        protest(session, coordinator, session.get_one(Entry, 1), "It was weighed wet.")
        session.add(ContestPrint(contest_id=site.contest, what="booklet", list_number=1, pdf=b"%PDF-1.7 a booklet"))


def test_every_route_is_on_the_public_list_or_in_the_matrix(site: Site) -> None:
    rest = (rule.endpoint for rule in site.app.url_map.iter_rules())
    endpoints = {endpoint for endpoint in rest if not endpoint.startswith(f"{PROGRAMS}.")}
    assert PUBLIC == PUBLIC_PAGES
    assert endpoints == PUBLIC_PAGES | set(MAY_OPEN)


def test_without_a_sign_in_only_public_pages_open(site: Site, objects: tuple[int, int]) -> None:
    for rule in rules(site):
        visitor = site.visitor()
        data = {"csrf_token": token(visitor)}
        answer = visitor.open(address(site, rule, *objects), method=method(rule), data=data)
        closed = (answer.status_code, answer.headers.get("Location", ""))
        assert closed in ((302, "/sign-in"), (401, "")), rule


@pytest.mark.parametrize("name", EVERYBODY)
def test_a_page_opens_for_those_of_the_matrix_and_for_nobody_else(
    site: Site, objects: tuple[int, int], name: str
) -> None:
    for rule in rules(site):
        client = site.signed_in(name)
        data = {"csrf_token": token(client)}
        status = client.open(address(site, rule, *objects), method=method(rule), data=data).status_code
        if name in MAY_OPEN[rule.endpoint]:
            assert status in (200, 302, 303, 422), (rule, status)
        else:
            assert status in (403, 404), (rule, status)


def test_an_object_of_somebody_else_looks_like_one_that_is_not_there(site: Site, objects: tuple[int, int]) -> None:
    classmate = site.signed_in(CLASSMATE)
    theirs, missing = classmate.get(f"/attempts/{objects[0]}"), classmate.get("/attempts/999999")
    assert theirs.status_code == missing.status_code == 404
    assert untimed(theirs.text) == untimed(missing.text)


@pytest.mark.parametrize("page", ["/attempts/99999999999999999999999", "/boards/contests/0", "/attempts/-1"])
def test_an_absurd_number_is_no_page_and_no_crash(site: Site, page: str) -> None:
    assert site.signed_in(OWN).get(page).status_code == 404
