"""What a class's work shows: counts, members by where they lie, questions made from what was found."""

from __future__ import annotations

import re
from typing import Any

import pytest

from rubric.criteria.common import CriterionMark
from rubric.evidence import Answer
from rubric.language import speaking
from rubric.marking import Marks
from rubric.messages.outcomes import Analysis, Failure, JointRow, Marked, MemberRow, Mistake
from service.classes.bars import bar
from service.classes.insight import Seen, failures, most_lost, part_of, spreads, standing
from service.classes.questions import questions
from tests.service.site import GIRDER, HEAVY_GIRDER, MECHANISM, MISTAKEN, Site

PLACES = {"a": (0, 0), "b": (100, 0), "c": (100, 80), "d": (200, 95), "e": (200, -60), "f": (300, -70)}
JOINTS = {name: JointRow(name=name, x_mm=x, y_mm=y) for name, (x, y) in PLACES.items()}


def row(name: str, points: float | None, out_of: float = 10, counts_as: Any = "points") -> CriterionMark:
    said = {"seen": "", "asked": "", "why": ""}
    return CriterionMark(name=name, kind="scale", points=points, out_of=out_of, counts_as=counts_as, **said)


def marks(*rows: CriterionMark) -> Marks:
    return Marks(criteria=rows, total=0, out_of=20)


def member(name: str, used: float = 0.5, mode: Any = "buckling") -> MemberRow:
    start, end = name.split("-")
    plain = {"stick": "s", "count": 1, "length_mm": 100, "area_mm2": 25, "slenderness": 9, "stress_MPa": 1}
    return MemberRow(name=name, start=start, end=end, force_N=-1, capacity_N=2, utilisation=used, mode=mode, **plain)


def bridge(*members: MemberRow, first: str = "", state: Any = "stable", efficiency: float = 200) -> Analysis:
    failure = next((Failure(member=m.name, mode=m.mode, load_N=99) for m in members if m.name == first), None)
    return Analysis(
        state=state,
        joints=tuple(JOINTS.values()),
        members=members,
        degree=0,
        mechanisms=int(state != "stable"),
        mass_g=50,
        first_failure=failure,
        efficiency=efficiency,
    )


def seen(analysis: Analysis | None = None, reserve: float = 1.2, **more: Any) -> Seen:
    given = marks(row("Load", 10))
    return Seen(
        given, Marked(job=1, attempt="a", analysis=analysis, measures={"reserve factor": reserve}, marks=given, **more)
    )


def test_marks_are_counted_by_how_much_of_the_points_they_earned() -> None:
    works = [Seen(marks(row("Load", p)), seen().outcome) for p in (0, 5, 6, 10, 10, None)]
    (load,) = spreads(works)
    assert (load.bands, load.waiting, load.marked) == ((1, 1, 1, 2), 1, 5)
    assert (load.mean, load.lost) == (6.2, 19)


def test_a_bonus_cannot_be_lost_and_a_deduction_counts_as_kept_where_nothing_is_taken() -> None:
    works = [
        Seen(marks(row("Extra", 0, counts_as="bonus"), row("Late", p, 0, "deduction")), seen().outcome) for p in (0, -4)
    ]
    extra, late = spreads(works)
    assert extra.lost == 0
    assert (late.bands, late.lost) == ((1, 0, 0, 1), 4)
    assert most_lost([extra, late]) == late
    assert most_lost([extra]) is None


@pytest.mark.parametrize(
    ("name", "part"),
    [
        ("a-b", "deck member"),
        ("b-c", "post"),
        ("c-d", "top chord member"),
        ("e-f", "bottom chord member"),
        ("a-c", "diagonal"),
        ("d-f", "diagonal"),
    ],
)
def test_a_member_is_told_by_where_it_lies(name: str, part: str) -> None:
    assert part_of(member(name), JOINTS) == part


def test_what_breaks_first_and_what_is_too_weak_is_counted_by_part_and_mode() -> None:
    weak = bridge(member("c-d", 1.5), member("b-c", 1.1), member("a-b", 0.4, "tension"), first="c-d")
    strong = bridge(member("c-d", 0.9), member("a-b", 0.2, "tension"), first="c-d")
    found = [(f.part, f.mode, f.first, f.over) for f in failures([weak, strong])]
    assert found == [("top chord member", "buckling", 2, 1), ("post", "buckling", 0, 1)]


def test_how_far_a_class_has_come_is_counted() -> None:
    mistake = Mistake(line=1, column=1, found="", expected="", mend="")
    works = [seen(bridge()), seen(bridge(), 0.5), seen(bridge(state="mechanism")), seen(mistakes=(mistake,))]
    known = standing(works)
    assert (known.works, known.enough, known.weak, known.moving, known.mistaken) == (4, 1, 1, 1, 1)


def test_the_question_that_concerns_most_works_comes_first() -> None:
    buckled = bridge(member("c-d"), member("a-b", mode="tension"), first="c-d")
    works = [seen(buckled)] * 4 + [seen(bridge(state="mechanism"))]
    first, *others = questions(works)
    assert first.found == "Of 4 stable bridges, 4 break first at a top chord member: it buckles."
    assert first.ask.startswith("Why does a long thin stick that is pushed bend out")
    assert "1 of 5 bridges can lean over." in [one.found for one in others]


def test_idle_members_and_slips_by_hand_are_asked_about() -> None:
    answer = Answer(about="force", name="a-b", given="5 C", given_N=-5, true_N=5, verdict="wrong", said="")
    works = [seen(bridge(member("a-b", 0, "none"), member("b-c", 0.5)), working={"By hand": (answer,)})]
    found = [one.found for one in questions(works)]
    assert "In 1 of 1 bridge some member carries nothing." in found
    assert any(text.startswith("1 force by hand has the wrong direction") for text in found)


def test_a_class_without_faults_is_asked_about_its_best_bridge() -> None:
    works = [seen(bridge(efficiency=100)), seen(bridge(efficiency=300))]
    assert [one.found for one in questions(works)] == [
        "The best bridge has an efficiency of 300.0, the middle one of 200.0."
    ]
    assert questions([]) == ()


def test_a_bar_has_a_piece_for_each_part_in_its_own_shade() -> None:
    drawn = bar((1, 0, 3), 4, (0, 1, 2))
    assert re.findall(r'class="shade-(\d)" x="(\d+)" y="0" width="(\d+)"', drawn) == [
        ("0", "0", "250"),
        ("2", "250", "750"),
    ]
    assert "<rect" not in bar((0,), 0)


def test_the_page_shows_questions_figures_and_the_same_as_tables(site: Site) -> None:
    site.hand_in(site.signed_in("Ada Fern"), GIRDER)
    site.hand_in(site.signed_in("Ben Holt"), MECHANISM)
    site.work()
    page = site.signed_in("Tess Birch").get(f"/staff/assignments/{site.assignment}/insight").text
    assert "2 of 2 students have marked work." in page
    assert page.count("<table") == 2
    assert "1 of 2 bridges can lean over." in page
    assert "Most points were lost on" in page
    assert "style=" not in page


def test_of_each_student_only_the_attempt_that_counts_is_counted(site: Site) -> None:
    for text in (MECHANISM, GIRDER, HEAVY_GIRDER, MISTAKEN):
        site.hand_in(site.signed_in("Ada Fern"), text)
    site.work()
    page = site.signed_in("Tess Birch").get(f"/staff/assignments/{site.assignment}/insight").text
    assert "1 of 2 students has marked work." in page
    assert "can lean over" not in page


def test_before_anything_is_marked_the_page_says_so(site: Site) -> None:
    page = site.signed_in("Tess Birch").get(f"/staff/assignments/{site.assignment}/insight").text
    assert "No work is marked yet." in page


def test_questions_are_asked_in_the_language_of_the_moment() -> None:
    works = [seen(bridge(member("c-d"), first="c-d"))] * 4 + [seen(bridge(state="mechanism"))]
    with speaking("de"):
        first, *others = questions(works)
    assert first.found == "Von 4 stabilen Brücken versagen 4 zuerst hier: Stab des Obergurts. Er knickt aus."
    assert "1 von 5 Brücken kann sich verschieben." in [one.found for one in others]
