"""Trying a draft out, saving it, marking a class again, taking that back in one step."""

from __future__ import annotations

import json
import re
from typing import Any

import pytest
from flask.testing import FlaskClient

from rubric import library
from rubric.brief import read_brief
from rubric.messages.names import PRINT, TRY
from service.classes.samples import samples
from service.marks import marks_now
from service.records.models import Assignment, Change, Job, Submission, Trial, TrialWork, Version
from service.sweep import give_up
from tests.service.site import HEAVY_GIRDER, MISTAKEN, Site, post
from worker.analysis import solve
from worker.truss.reader import read_truss

BRIEF, RUBRIC = library.brief_text("footbridge").decode(), library.rubric_text("footbridge").decode()
HARDER = RUBRIC.replace("earns: {100: 0, 600: 25}", "earns: {400: 0, 4000: 25}")
"""The scale of efficiency drawn out: whoever earned points there earns fewer."""
HEAVIER = BRIEF.replace("target: 200 N", "target: 400 N")


@pytest.fixture
def teacher(site: Site) -> FlaskClient:
    """The teacher, after two students of the class have handed in and are marked."""
    for name in ("Ada Fern", "Ben Holt"):
        site.hand_in(site.signed_in(name), HEAVY_GIRDER)
    site.work()
    return site.signed_in("Tess Birch")


def begin(site: Site, client: FlaskClient, brief: str = BRIEF, rubric: str = HARDER) -> str:
    """Try a draft out; the address of the trial."""
    answer = post(client, f"/staff/assignments/{site.assignment}/writing", brief=brief, rubric=rubric, do="try")
    assert answer.status_code == 303, answer.text
    return str(answer.location)


def plain(text: str) -> str:
    return " ".join(re.sub(r"<[^>]*>", " ", text).split())


def submissions(site: Site) -> list[Any]:
    with site.records.read() as session:
        found = session.query(Submission).filter_by(assignment_id=site.assignment).order_by(Submission.id)
        return [(one.version.number, one.total, marks_now(one).total) for one in found]


def test_a_draft_of_the_rubric_is_tried_out_at_once_and_changes_nothing(site: Site, teacher: FlaskClient) -> None:
    before = submissions(site)
    page = plain(teacher.get(begin(site, teacher)).text)
    assert "Nothing is changed yet. This is not saved." in page
    assert "0 students gain, 2 lose, 0 stay the same." in page
    assert "It is light for what it carries: " in page
    assert submissions(site) == before
    with site.records.read() as session:
        assert session.query(Version).count() == 2  # one for each assignment of the site
        assert [work.for_worker for work in session.get_one(Trial, 1).works] == [False] * 2 + [True] * 4


def test_a_changed_brief_is_solved_again_by_workers(site: Site, teacher: FlaskClient) -> None:
    address = begin(site, teacher, brief=HEAVIER, rubric=RUBRIC)
    assert "6 files are still being solved again." in plain(teacher.get(address).text)
    assert {job.kind for job in site.sender.sent} == {TRY}
    site.work()
    page = plain(teacher.get(address).text)
    assert "2 lose" in page
    assert "It carries the target load: " in page
    assert [number for number, _, _ in submissions(site)] == [1, 1]


def test_saving_makes_a_version_for_new_work_alone(site: Site, teacher: FlaskClient) -> None:
    before = submissions(site)
    answer = post(teacher, f"{begin(site, teacher)}/save", do="save", why="The scale was too kind.")
    assert answer.status_code == 303
    assert submissions(site) == before
    site.sender.sent.clear()
    site.hand_in(site.signed_in("Ada Fern"), HEAVY_GIRDER + b"# again\n")
    site.work()
    assert [number for number, _, _ in submissions(site)] == [1, 1, 2]
    page = plain(teacher.get(f"/staff/assignments/{site.assignment}/versions").text)
    assert "Version 2 (stands now)" in page
    assert "by Tess Birch The scale was too kind." in page


def test_a_class_is_marked_again_in_one_step_and_each_student_is_told(site: Site, teacher: FlaskClient) -> None:
    before = submissions(site)
    site.sender.sent.clear()
    post(teacher, f"{begin(site, teacher)}/save", do="both", why="The scale was too kind.")
    after = submissions(site)
    assert [number for number, _, _ in after] == [2, 2]
    assert all(new[1] < old[1] and new[1] == new[2] for new, old in zip(after, before, strict=True))
    assert [job.kind for job in site.sender.sent if job.kind == PRINT] == [PRINT, PRINT]
    text = plain(site.signed_in("Ada Fern").get("/attempts/1").text)
    assert "because The scale was too kind." in text
    with site.records.read() as session:
        change = session.query(Change).filter_by(submission_id=1).one()
        assert (change.what, change.criterion) == ("marked again, version 2", "It is light for what it carries")
        assert (change.total_before, change.total_after, change.told) == (before[0][1], after[0][1], True)


def test_marking_again_is_taken_back_in_one_step(site: Site, teacher: FlaskClient) -> None:
    before = submissions(site)
    post(teacher, f"{begin(site, teacher)}/save", do="both", why="The scale was too kind.")
    undo = f"/staff/assignments/{site.assignment}/undo"
    assert post(teacher, undo, why=" ").status_code == 422
    assert post(teacher, undo, why="It was right as it was.").status_code == 303
    assert submissions(site) == before
    assert "It was right as it was." in site.signed_in("Ben Holt").get("/attempts/2").text
    assert post(teacher, undo, why="Once more.").status_code == 422


def last_shown(site: Site, client: FlaskClient) -> str:
    """The marking that the page of versions offers to take back, as its form names it."""
    page = client.get(f"/staff/assignments/{site.assignment}/versions").text
    found = re.search(r'name="trial" value="(\d+)"', page)
    return found[1] if found else ""


def test_markings_are_taken_back_one_by_one_to_where_they_began(site: Site, teacher: FlaskClient) -> None:
    undo, stood = f"/staff/assignments/{site.assignment}/undo", [submissions(site)]
    for brief, rubric in ((HEAVIER, RUBRIC), (HEAVIER, HARDER), (BRIEF, HARDER)):
        address = begin(site, teacher, brief=brief, rubric=rubric)
        site.work()
        assert post(teacher, f"{address}/save", do="both", why="Step on.").status_code == 303
        stood.append(submissions(site))
    assert len({str(one) for one in stood}) == 4
    site.hand_in(site.signed_in("Ben Holt"), HEAVY_GIRDER + b"# later\n")
    site.work()
    later = submissions(site)[2]
    assert "2 earlier markings can be taken back too" in plain(
        teacher.get(f"/staff/assignments/{site.assignment}/versions").text
    )
    for before in reversed(stood[:-1]):
        assert post(teacher, undo, why="Step back.", trial=last_shown(site, teacher)).status_code == 303
        assert submissions(site) == [*before, later]  # what came in since keeps the version it came in under
    assert last_shown(site, teacher) == ""


def test_a_form_sent_twice_takes_one_marking_back(site: Site, teacher: FlaskClient) -> None:
    undo = f"/staff/assignments/{site.assignment}/undo"
    for rubric in (HARDER, RUBRIC.replace("600: 25", "900: 25")):
        post(teacher, f"{begin(site, teacher, rubric=rubric)}/save", do="both", why="Step on.")
    shown = last_shown(site, teacher)
    assert post(teacher, undo, why="Back.", trial=shown).status_code == 303
    after = submissions(site)
    again = post(teacher, undo, why="Back.", trial=shown)
    assert (again.status_code, submissions(site)) == (422, after)
    assert "not the last any more" in again.text


def test_a_changed_brief_puts_new_outcomes_in_place_and_the_old_ones_back(site: Site, teacher: FlaskClient) -> None:
    with site.records.read() as session:
        old = session.get_one(Submission, 1).outcome
    address = begin(site, teacher, brief=HEAVIER, rubric=RUBRIC)
    assert post(teacher, f"{address}/save", do="both", why="Twice the load.").status_code == 422  # workers have it
    site.work()
    assert post(teacher, f"{address}/save", do="both", why="Twice the load.").status_code == 303
    with site.records.read() as session:
        new = session.get_one(Submission, 1).outcome
    assert new["measures"]["reserve factor"] == pytest.approx(old["measures"]["reserve factor"] / 2, rel=1e-3)
    assert "400 N" in site.signed_in("Ada Fern").get("/attempts/1").text
    post(teacher, f"/staff/assignments/{site.assignment}/undo", why="Back.")
    with site.records.read() as session:
        assert session.get_one(Submission, 1).outcome == old


def test_points_that_a_teacher_gave_are_kept(site: Site, teacher: FlaskClient) -> None:
    post(teacher, "/attempts/1/judgement", **{"points-4": "7", "comment-4": "Clear."})
    post(teacher, f"{begin(site, teacher)}/save", do="both", why="The scale was too kind.")
    post(teacher, "/attempts/2/judgement", **{"points-4": "9", "comment-4": ""})
    post(teacher, f"/staff/assignments/{site.assignment}/undo", why="Back.")
    with site.records.read() as session:
        given = [marks_now(session.get_one(Submission, n)).criteria[4].points for n in (1, 2)]
    assert given == [7, 9]


def test_a_class_goes_back_to_an_earlier_version_by_marking_again(site: Site, teacher: FlaskClient) -> None:
    before = submissions(site)
    post(teacher, f"{begin(site, teacher)}/save", do="both", why="The scale was too kind.")
    with site.records.read() as session:
        first = session.get_one(Assignment, site.assignment).versions[0].id
    address = str(post(teacher, f"/staff/versions/{first}/trial").location)
    assert "Who would change under version 1" in plain(teacher.get(address).text)
    assert "2 students gain" in plain(teacher.get(address).text)
    post(teacher, f"{address}/save", do="again", why="Back to the first.")
    assert submissions(site) == before


def test_nothing_is_saved_without_a_reason_or_twice_or_unchanged(site: Site, teacher: FlaskClient) -> None:
    address = begin(site, teacher)
    assert "Write why." in post(teacher, f"{address}/save", do="save", why="").text
    assert "over 600 letters" in post(teacher, f"{address}/save", do="save", why="x" * 601).text
    assert post(teacher, f"{address}/save", do="save", why="Kind.").status_code == 303
    assert "This is version 2 already." in post(teacher, f"{address}/save", do="save", why="Kind.").text
    again = begin(site, teacher)
    assert "says the same as version 2" in post(teacher, f"{again}/save", do="save", why="Kind.").text
    assert post(teacher, f"{again}/save", do="nonsense", why="Kind.").status_code == 422


def test_held_marks_change_without_a_sheet_or_a_notice(site: Site, teacher: FlaskClient) -> None:
    with site.records.write() as session:
        one = session.get_one(Submission, 1)
        one.held, one.given_at = True, None
    site.sender.sent.clear()
    post(teacher, f"{begin(site, teacher)}/save", do="both", why="The scale was too kind.")
    assert [job.subject_id for job in site.sender.sent if job.kind == PRINT] == [2]
    with site.records.read() as session:
        assert [change.told for change in session.query(Change).order_by(Change.submission_id)] == [False, True]


def test_an_entry_condition_of_a_new_rubric_takes_a_bridge_off_the_board(site: Site, teacher: FlaskClient) -> None:
    entry = "entry: [{measure: members, at most: 3, if not: off the board}]\ncriteria:"
    strict = RUBRIC.replace("criteria:", entry, 1)
    post(teacher, f"{begin(site, teacher, rubric=strict)}/save", do="both", why="Few members.")
    with site.records.read() as session:
        assert [one.on_board for one in session.query(Submission).order_by(Submission.id)] == [False, False]
    post(teacher, f"/staff/assignments/{site.assignment}/undo", why="Back.")
    with site.records.read() as session:
        assert [one.on_board for one in session.query(Submission).order_by(Submission.id)] == [True, True]


def test_lateness_counts_from_the_due_date_of_the_version(site: Site, teacher: FlaskClient) -> None:
    late = RUBRIC.replace("criteria:", "lateness: {per day: 10 %, most: 10 %}\ncriteria:", 1)
    dated = f"{BRIEF}dates: {{due: 2020-03-15 16:00}}\n"
    before = submissions(site)
    address = begin(site, teacher, brief=dated, rubric=late)
    assert "2 lose" in plain(teacher.get(address).text)  # at once: dates change no computation
    post(teacher, f"{address}/save", do="save", why="A date.")
    assert submissions(site) == before
    post(teacher, f"{begin(site, teacher, brief=dated, rubric=late + '# again')}/save", do="again", why="x")
    assert submissions(site) == before  # a draft is saved first


def test_what_was_tried_before_and_not_used_is_cleared_away(site: Site, teacher: FlaskClient) -> None:
    used = begin(site, teacher)
    post(teacher, f"{used}/save", do="both", why="Kind.")
    for _ in range(2):
        last = begin(site, teacher, brief=HEAVIER, rubric=RUBRIC)
    assert teacher.get(last).status_code == teacher.get(used).status_code == 200
    with site.records.read() as session:
        assert session.query(Trial).count() == 2
        assert session.query(Job).filter_by(kind=TRY).count() == 4 + 6


def test_what_a_worker_gives_up_is_said_and_keeps_its_version(site: Site, teacher: FlaskClient) -> None:
    address = begin(site, teacher, brief=HEAVIER, rubric=RUBRIC)
    with site.records.write() as session:
        first = session.query(TrialWork).filter_by(submission_id=1).one()
        give_up(session, session.query(Job).filter_by(kind=TRY, subject_id=first.id).one())
    site.sender.sent = [job for job in site.sender.sent if job.subject_id != first.id]
    site.work()
    assert "could not be tried" in plain(teacher.get(address).text)
    assert post(teacher, f"{address}/save", do="both", why="Twice the load.").status_code == 303
    assert [number for number, _, _ in submissions(site)] == [1, 2]
    page = plain(teacher.get(f"/staff/assignments/{site.assignment}").text)
    assert "1 attempt is marked under an earlier version than version 2." in page
    assert "Twice the load." in site.signed_in("Ada Fern").get(f"/assignments/{site.assignment}").text


def test_a_version_is_there_as_text_and_as_json(site: Site, teacher: FlaskClient) -> None:
    assert teacher.get("/staff/versions/1/brief.yaml").text == BRIEF
    assert json.loads(teacher.get("/staff/versions/1/rubric.json").text)["title"] == "Footbridge, marks out of 100"
    assert teacher.get("/staff/versions/1/secret").status_code == 404
    assert teacher.get("/staff/versions/2/brief.yaml").status_code == 404  # of another class


def test_a_file_with_mistakes_is_tried_too(site: Site, teacher: FlaskClient) -> None:
    site.hand_in(site.signed_in("Ben Holt"), MISTAKEN)
    site.work()
    text = teacher.get(begin(site, teacher)).text
    assert "Attempt 2" in text


@pytest.mark.parametrize("name", library.brief_names())
def test_the_samples_of_a_ready_brief_fit_it_and_one_moves(name: str) -> None:
    brief = library.brief(name)
    made = samples(brief)
    assert bool(made) == (brief.problem is None)
    stable = [solve(read_truss(text.encode(), brief), brief).stable for _, text in made]
    assert stable == ([True, True, True, False] if made else [])


def test_there_are_no_samples_where_no_level_deck_can_carry_the_load() -> None:
    odd = BRIEF.replace("places: midspan", "places: [100 mm, 333 mm]")
    assert samples(read_brief(odd.encode())) == ()
