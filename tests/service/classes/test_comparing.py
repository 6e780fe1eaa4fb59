"""Two attempts side by side: what was changed and what it did."""

from __future__ import annotations

import pytest

from rubric import library
from service.classes.comparing import Comparison, Line, Side, compare
from service.records.models import Submission
from tests.rubric.reading import AGE_12, grade
from tests.service.site import GIRDER, HEAVY_GIRDER, MECHANISM, MISTAKEN, Site
from worker.marker import mark_file

BRIEF, RUBRIC = library.brief("footbridge"), library.rubric("footbridge")
RENAMED = GIRDER.replace(b"d: [", b"top: [").replace(b"a-d:", b"a-top:").replace(b"d-h:", b"top-h:")
RENAMED = RENAMED.replace(b"b-d:", b"b-top:").replace(b"d-c:", b"top-c:")
RAISED = GIRDER.replace(b"h: [300, 120]", b"h: [295, 130]")


def side(file: bytes, number: int) -> Side:
    outcome = mark_file(file, BRIEF, RUBRIC)
    return Side(number, outcome, outcome.marks)


def compared(before: bytes, after: bytes) -> Comparison:
    return compare(side(before, 1), side(after, 2))


def test_the_same_truss_twice_changed_nothing_and_did_nothing() -> None:
    found = compared(GIRDER, GIRDER)
    assert found.changed == ("Nothing: both trusses are the same.",)
    assert found.did == ("Member a-d still breaks first.", "It earns as many points as before: 90.")
    assert {line.change for line in found.numbers} == {"0 N", "0 g", "0", "0 mm", "the same"}


def test_joints_that_only_have_other_names_are_no_change() -> None:
    assert compared(GIRDER, RENAMED).changed == ("Nothing: both trusses are the same.",)


@pytest.mark.parametrize(
    ("before", "after", "said"),
    [
        (GIRDER, HEAVY_GIRDER, "Now of square5, not square3: b-d, h-c and g-e."),
        (MECHANISM, GIRDER, "1 new member: d-c."),
        (GIRDER, MECHANISM, "1 member taken out: d-c."),
        (GIRDER, RAISED, "Joint h moved 10 mm up and 5 mm to the left."),
        (GIRDER, GIRDER.replace(b"d-h: square5 x2", b"h-d: square5"), "Now of square5, not square5 × 2: h-d."),
    ],
)
def test_a_change_is_told_in_a_sentence(before: bytes, after: bytes, said: str) -> None:
    assert compared(before, after).changed == (said,)


def test_a_truss_that_lost_a_member_now_moves_and_its_load_has_no_change() -> None:
    found = compared(GIRDER, MECHANISM)
    assert found.did[0] == "Now the truss can move. Before, it stood."
    assert found.numbers[0] == Line("Failure load", "237 N", "–", "–")


def test_a_file_with_mistakes_is_compared_by_its_points_alone() -> None:
    found = compared(MISTAKEN, GIRDER)
    assert found.changed == ("The file of attempt 1 has mistakes, so there are not two trusses to compare.",)
    assert [line.name for line in found.numbers] == ["Points"]


def test_before_after_and_change_agree_as_printed() -> None:
    for line in compared(GIRDER, RAISED).numbers[:4]:
        before, after = (float(text.split()[0]) for text in (line.before, line.after))
        change = float(line.change.split()[0].replace("−", "-"))
        assert before + change == pytest.approx(after, abs=1e-9)


def test_what_is_told_is_read_at_twelve() -> None:
    for files in ((GIRDER, HEAVY_GIRDER), (MECHANISM, GIRDER), (GIRDER, RAISED), (MISTAKEN, GIRDER)):
        found = compared(*files)
        assert grade(" ".join((*found.changed, *found.did)), ("square5 × 2", "square5", "square3")) <= AGE_12


def both(site: Site, person: str = "Ada Fern") -> tuple[int, int]:
    client = site.signed_in(person)
    first, second = site.hand_in(client), site.hand_in(client, HEAVY_GIRDER)
    site.work()
    return first, second


def test_a_student_and_the_teacher_see_two_attempts_side_by_side(site: Site) -> None:
    first, second = both(site)
    for name in ("Ada Fern", "Tess Birch"):
        page = site.signed_in(name).get(f"/attempts/{second}/beside").text
        assert "Attempts 1 and 2" in page
        assert "Now of square5, not square3: b-d, h-c and g-e." in page
        assert page.count('role="group"') == 2
        assert "#member-" not in page
    assert f"/attempts/{first}/beside" in site.signed_in("Ada Fern").get(f"/attempts/{first}").text


def test_an_attempt_of_somebody_else_or_one_that_is_held_is_never_set_beside(site: Site) -> None:
    first, second = both(site)
    theirs = both(site, "Ben Holt")[0]
    ada = site.signed_in("Ada Fern")
    assert ada.get(f"/attempts/{theirs}/beside").status_code == 404
    assert f'attempts/{theirs}"' not in ada.get(f"/attempts/{second}/beside?other={theirs}").text
    with site.records.write() as session:
        session.get_one(Submission, first).held = True
    assert "There are not two marked attempts" in ada.get(f"/attempts/{second}/beside?other={first}").text
    assert "Attempts 1 and 2" in site.signed_in("Tess Birch").get(f"/attempts/{second}/beside").text


def test_attempts_over_time_stand_on_the_student_s_page_and_nothing_of_a_held_one(site: Site) -> None:
    second = both(site)[1]
    page = site.signed_in("Ada Fern").get(f"/assignments/{site.assignment}").text
    assert "Points of 2 attempts, out of 100. attempt 1: 90, attempt 2: 90." in page
    with site.records.write() as session:
        session.get_one(Submission, second).held = True
    assert "Points of 2 attempts" not in site.signed_in("Ada Fern").get(f"/assignments/{site.assignment}").text
