"""The class report: asked for by a teacher, set by a worker, and every number that of the mark book."""

from __future__ import annotations

import csv
import io
import re
import subprocess
from statistics import fmean, median

import pytest
from flask.testing import FlaskClient

from rubric import library
from rubric.messages.names import REPORT
from rubric.messages.report import ReportOrder
from service.classes.setting import set_assignment
from service.orders import order_for
from service.privacy.erasing import erase_pupil
from service.records.models import Assignment, Job, Notice, Person, SchoolClass, Submission
from service.records.report_models import ClassReport
from service.sweep import give_up
from tests.service.site import GIRDER, HEAVY_GIRDER, MECHANISM, MISTAKEN, Site, post
from worker.feedback.report import report_pdf
from worker.tasks import WORK

TESS, ADA, BEN = "Tess Birch", "Ada Fern", "Ben Holt"


@pytest.fixture
def teacher(site: Site) -> FlaskClient:
    """Ada handed in three times, Ben a file with a mistake."""
    ada, ben = site.signed_in(ADA), site.signed_in(BEN)
    for text in (MECHANISM, HEAVY_GIRDER, GIRDER):
        site.hand_in(ada, text)
    site.hand_in(ben, MISTAKEN)
    site.work()
    return site.signed_in(TESS)


def asked(site: Site, client: FlaskClient, paper: str = "A4") -> Job:
    """Ask for the report; the job that waits."""
    assert post(client, f"/staff/assignments/{site.assignment}/report", paper=paper).status_code == 303
    (job,) = site.sender.sent
    return job


def ordered(site: Site, client: FlaskClient) -> ReportOrder:
    """What a worker is asked for, as it comes out of the broker."""
    job = asked(site, client)
    with site.records.read() as session:
        return ReportOrder.model_validate(order_for(session, session.get_one(Job, job.id)))


def lines(pdf: bytes) -> list[str]:
    """The text of a PDF, line by line as it is laid out."""
    read = subprocess.run(["pdftotext", "-layout", "-", "-"], input=pdf, capture_output=True, check=True)
    return read.stdout.decode().splitlines()


def row_of(pdf: bytes, name: str) -> list[str]:
    """What stands after the name in a student's row, word by word."""
    return next(line.split()[len(name.split()) :] for line in lines(pdf) if line.strip().startswith(f"{name}  "))


def numbers_after(text: list[str], at: int) -> list[str]:
    """The words of the next line that holds any."""
    return next(line.split() for line in text[at + 1 :] if line.strip())


def mark_book(site: Site, client: FlaskClient) -> dict[str, dict[str, str]]:
    text = client.get(f"/staff/assignments/{site.assignment}/marks.csv").data.decode("utf-8-sig")
    return {row["Student"]: row for row in csv.DictReader(io.StringIO(text))}


def page(site: Site, client: FlaskClient) -> str:
    return client.get(f"/staff/assignments/{site.assignment}/marks").text


def test_a_report_is_asked_for_waited_for_and_made_anew(site: Site, teacher: FlaskClient) -> None:
    assert "data-look-again" not in page(site, teacher)
    asked(site, teacher)
    assert "data-look-again" in page(site, teacher)
    site.work()
    told = page(site, teacher)
    assert "Made " in told
    assert "Make it anew" in told
    answer = teacher.get(f"/staff/assignments/{site.assignment}/report.pdf")
    assert (answer.mimetype, answer.data[:5]) == ("application/pdf", b"%PDF-")
    asked(site, teacher, "Letter")
    assert teacher.get(f"/staff/assignments/{site.assignment}/report.pdf").status_code == 404


def test_the_page_says_when_marks_have_changed_since_the_report(site: Site, teacher: FlaskClient) -> None:
    def stale() -> bool:
        return "Marks have changed since this report was made: make it anew." in page(site, teacher)

    asked(site, teacher)
    site.work()
    attempt = f"/attempts/{counting(site)}"
    for change, seen in (({"comment": "Tidy."}, False), ({"points-0": "3", "why-0": "It leans."}, True)):
        assert not stale()
        assert post(teacher, f"{attempt}/corrections", **change).status_code == 303
        assert stale() == seen
    site.work()
    asked(site, teacher)
    site.work()
    assert not stale()
    site.hand_in(site.signed_in(BEN), GIRDER)
    assert not stale()
    site.work()
    assert stale()


def counting(site: Site) -> int:
    """Ada's newest attempt."""
    with site.records.read() as session:
        return session.query(Submission).filter_by(student_id=site.ids[ADA]).order_by(Submission.id.desc()).first().id


def test_the_report_and_its_page_say_the_same_moment(site: Site, teacher: FlaskClient) -> None:
    order = ordered(site, teacher)
    site.work()
    clock = re.search(r"[0-9]{2}:[0-9]{2}", order.head.made)
    assert clock is not None
    assert re.search(rf"Made <time[^>]*>[^<]*{clock[0]}</time>, for A4", page(site, teacher))


def test_what_is_being_set_is_not_set_twice_and_unknown_paper_not_at_all(site: Site, teacher: FlaskClient) -> None:
    asked(site, teacher)
    for paper, said in (("A4", "being set already"), ("A9", "Choose the paper: A4 or Letter.")):
        post(teacher, f"/staff/assignments/{site.assignment}/report", paper=paper)
        assert said in page(site, teacher)
    assert len(site.sender.sent) == 1


def test_every_number_of_a_student_is_that_of_the_mark_book(site: Site, teacher: FlaskClient) -> None:
    order = ordered(site, teacher)
    book, pdf = mark_book(site, teacher), report_pdf(order)
    ada = row_of(pdf, ADA)
    as_json = teacher.get(f"/staff/assignments/{site.assignment}/marks.json").json
    assert as_json is not None
    assert ada[:2] == [book[ADA]["Attempts"], "stands"]
    assert float(ada[2].rstrip("*†")) == float(book[ADA]["Points"]) == as_json["students"][0]["points"]
    assert ada[4] == book[ADA]["Best efficiency"]
    ben = row_of(pdf, BEN)
    assert (ben[0], ben[-5]) == (book[BEN]["Attempts"], "–")
    assert f"{float(book[BEN]['Points']):g}" in [word.rstrip("*†") for word in ben[:-5]]
    with site.records.read() as session:
        number = int(book[ADA]["Attempt that counts"])
        counts = session.query(Submission).filter_by(student_id=site.ids[ADA], number=number).one()
        found = counts.outcome["analysis"]
    assert ada[3] == f"{found['efficiency']:.1f}"
    assert ada[5:7] == [f"{found['failure_load_N']:.3g}", f"{found['mass_g']:.3g}"]
    assert ada[7] == f"{found['first_failure']['member']},"


def test_what_is_told_of_the_class_follows_from_the_mark_book(site: Site, teacher: FlaskClient) -> None:
    pdf = report_pdf(ordered(site, teacher))
    marks = [float(row["Points"]) for row in mark_book(site, teacher).values()]
    text = lines(pdf)
    at = next(i for i, line in enumerate(text) if "mean" in line and "median" in line)
    given, mean, middle, least, most = map(float, numbers_after(text, at))
    assert given == len(marks)
    assert mean == pytest.approx(fmean(marks), abs=0.05)
    assert (middle, least, most) == (median(marks), min(marks), max(marks))
    at = next(i for i, line in enumerate(text) if "handed in" in line and "not started" in line)
    assert numbers_after(text, at) == ["2", "2", "1", "0", "1", "0"]


def test_a_criterion_is_told_as_the_page_of_what_the_work_shows_tells_it(site: Site, teacher: FlaskClient) -> None:
    shown = teacher.get(f"/staff/assignments/{site.assignment}/insight").text
    text = " ".join(lines(report_pdf(ordered(site, teacher))))
    found = re.findall(
        r'<th scope="row"><bdi>([^<]+)</bdi></th>.*?data-name="On average"[^>]*>([^<]+)</td>', shown, re.S
    )
    assert len(found) >= 4
    for name, mean in found:
        assert name in text
        assert mean == "–" or re.search(rf"\b{re.escape(mean)}\b", text), name
    for asked_there in re.findall(r"<li>([^<]+) <strong>", shown):
        assert asked_there.replace("&#39;", "'") in re.sub(r"\s+", " ", text)


def test_held_marks_are_in_it_with_a_sign_and_waiting_points_too(site: Site, teacher: FlaskClient) -> None:
    with site.records.write() as session:
        for one in session.query(Submission).filter_by(student_id=site.ids[ADA]):
            one.held = True
    pdf = report_pdf(ordered(site, teacher))
    assert row_of(pdf, ADA)[2] == "90†*"
    assert "†: held back, the student does not see this mark yet." in " ".join(lines(pdf))


def test_mistakes_of_all_attempts_are_counted_once_for_each_student(site: Site, teacher: FlaskClient) -> None:
    ben = site.signed_in(BEN)
    site.hand_in(ben, MISTAKEN + b"# again")
    site.hand_in(ben, GIRDER)
    site.work()
    order = ordered(site, teacher)
    assert [(line.pupils, line.expected) for line in order.mistakes] == [(1, "a stick of the kit")]
    assert [line.stage for line in order.pupils] == ["stands", "stands"]


def test_before_anybody_hands_in_there_is_a_report_too(site: Site) -> None:
    site.work()
    text = " ".join(lines(report_pdf(ordered(site, site.signed_in(TESS)))))
    assert "No work is marked yet." in text
    assert re.search(r"Ada Fern\s+0\s+not started", text)


def test_a_report_is_in_the_language_of_the_class(site: Site, teacher: FlaskClient) -> None:
    with site.records.write() as session:
        session.get_one(SchoolClass, 1).language = "de"
    order = ordered(site, teacher)
    assert order.language == "de"
    assert order.questions[0][0].endswith((".", "!"))
    assert "Spannweite 600 mm" in order.head.task
    assert " of " not in " ".join(found + ask for found, ask in order.questions)


def test_a_problem_set_has_no_bridges_to_tell_of(site: Site) -> None:
    brief, rubric = library.brief_text("forces-by-hand"), library.rubric_text("forces-by-hand")
    with site.records.write() as session:
        given, job = set_assignment(session, "8B", brief, rubric)
        number = given.id
    site.sender.sent.append(job)
    site.hand_in(site.signed_in(ADA), b"working:\n  reactions: {a: 45 up, d: 50 up}\n", number)
    site.work()
    client = site.signed_in(TESS)
    assert post(client, f"/staff/assignments/{number}/report", paper="A4").status_code == 303
    with site.records.read() as session:
        order = ReportOrder.model_validate(order_for(session, session.get_one(Job, site.sender.sent[0].id)))
    assert (order.bridges, order.failing) == (False, ())
    assert [line.stage for line in order.pupils] == ["solved", "not started"]
    assert all(line.load_N is None and line.efficiency is None for line in order.pupils)


def test_a_report_goes_with_a_student_who_is_deleted(site: Site, teacher: FlaskClient) -> None:
    asked(site, teacher)
    site.work()
    with site.records.write() as session:
        erase_pupil(session, session.get_one(Person, site.ids[BEN]), None)
    with site.records.read() as session:
        assert session.query(ClassReport).count() == 0
        assert session.query(Job).filter_by(kind=REPORT).count() == 0
        assert session.get(Assignment, site.assignment) is not None


def test_a_report_that_cannot_be_set_is_told_to_the_teacher(site: Site, teacher: FlaskClient) -> None:
    asked(site, teacher)
    with site.records.write() as session:
        give_up(session, session.query(Job).filter_by(kind=REPORT).one())
        assert session.query(Notice).one().class_id == 1
    assert "The class report could not be set. Ask for it again." in page(site, teacher)
    site.sender.sent.clear()
    asked(site, teacher)


def test_a_worker_knows_how_to_set_it() -> None:
    shape, function = WORK[REPORT]
    assert (shape, function.__name__) == (ReportOrder, "print_report")
