"""What sheet and page tell of a truss in the same words."""

from __future__ import annotations

import pytest

from rubric import library
from rubric.messages.outcomes import Analysis, Failure, Figure, Marked, MemberRow, Travel
from service.drawings import drawing_fault
from tests import trusses
from tests.service.site import GIRDER, MECHANISM
from tests.worker.feedback import samples
from worker.feedback import telling
from worker.feedback.sheets import sheet_html
from worker.feedback.telling import for_a_page, told
from worker.marker import mark_file

BRIEF, RUBRIC = library.brief("footbridge"), library.rubric("footbridge")
ROW = MemberRow(
    name="a-b", start="a", end="b", stick="bar", count=1, length_mm=100, area_mm2=10, slenderness=50, force_N=0,
    stress_MPa=-3, capacity_N=60, utilisation=0.5, mode="buckling", range_N=(-30, 12), worst_N=-30, worst_at="c",
)  # fmt: skip
MOVING = Analysis(
    state="stable", joints=(), members=(ROW,), degree=0, mechanisms=0, mass_g=40, failure_load_N=90,
    first_failure=Failure(member="a-b", mode="buckling", load_N=90),
    travel=Travel(joints=("b", "c"), places_mm=(100, 200), worst="c", member="a-b", forces_N=(12, -30)),
)  # fmt: skip
PROBLEM = library.brief("forces-by-hand")
ANSWERS = b"working: {reactions: {a: 45 up, d: 40 up}, forces: {a-b: 60 T}}\n"


@pytest.fixture(scope="module")
def girder() -> Marked:
    return mark_file(GIRDER, BRIEF, RUBRIC)


def test_the_first_failure_names_the_joint_on_which_the_load_then_stands() -> None:
    said = telling._carries(MOVING, BRIEF).says[1]
    assert said == (
        "Member a-b breaks first when the load stands on joint c: "
        "it buckles, which means it bends under the push out sideways."
    )


def test_every_sentence_of_the_outcome_stands_on_the_sheet(girder: Marked) -> None:
    assert girder.told is not None
    sheet = sheet_html(samples.HEAD, BRIEF, girder).replace("\u00a0", " ")
    parts = (girder.told.first, girder.told.check, girder.told.supports, girder.told.failing)
    for said in [said for part in parts for said in (part.title, *part.says)] + [*girder.told.then, girder.told.signs]:
        assert said in sheet
    for one in girder.told.joints:
        assert f"Joint {one.joint}, {one.role}" in sheet


def test_a_mechanism_is_told_why_it_moves_and_no_load() -> None:
    found = mark_file(MECHANISM, BRIEF, RUBRIC)
    assert found.told is not None
    assert (found.told.first.title, found.told.why.title) == ("How it moves", "Why it moves")
    assert found.told.joints == found.told.pictures == ()
    assert all(said in sheet_html(samples.HEAD, BRIEF, found) for said in found.told.why.says)


def test_a_problem_set_is_told_no_failure_load_and_no_mass() -> None:
    found = mark_file(ANSWERS, PROBLEM, library.rubric("forces-by-hand"))
    assert found.analysis is not None
    assert (found.analysis.first_failure, found.analysis.failure_load_N, found.analysis.outlook) == (None, None, None)
    sheet = sheet_html(samples.HEAD, PROBLEM, found)
    for word in ("breaks", "fail", "weighs", "efficiency", "Can take"):
        assert word not in sheet
    assert sheet.index("You wrote") < sheet.index("What holds") < sheet.index("Check it yourself")


def test_all_that_a_page_is_sent_stays_small_and_passes_the_check_of_drawings(girder: Marked) -> None:
    assert len(girder.model_dump_json()) < 150_000
    assert girder.told is not None
    assert girder.drawing is not None
    assert [drawing_fault(one.svg) for one in (girder.drawing, *girder.told.drawings) if drawing_fault(one.svg)] == []


def test_drawings_of_a_large_truss_are_left_to_the_sheet() -> None:
    whole = told(samples.analysis_of(trusses.warren(74, 15, 90, 15)), BRIEF)
    page = for_a_page(whole, Figure(svg="." * (telling.MOST_ON_A_PAGE - 40_000), alternative=""))
    assert sum(len(one.svg) for one in page.drawings) < 40_000 < sum(len(d.svg) for d in whole.drawings)
    assert [one.title for one in page.pictures] == [one.title for one in whole.pictures]


def test_each_member_of_the_page_s_drawing_links_to_its_row_and_no_other_drawing_does(girder: Marked) -> None:
    assert girder.analysis is not None
    assert girder.told is not None
    assert girder.drawing is not None
    for index, row in enumerate(girder.analysis.members):
        assert f'<a id="drawn-{index}" href="#member-{index}"><title>{row.name}: ' in girder.drawing.svg
    assert not any("<a " in one.svg for one in girder.told.drawings)
    assert "<a " not in sheet_html(samples.HEAD, BRIEF, girder)
