"""One joint cut free: arrows at their true angles, away from the joint or towards it, with the numbers of the sums."""

from __future__ import annotations

import math
import re

import pytest

from rubric.drawing import palette
from rubric.messages.outcomes import Figure
from tests import trusses
from tests.worker.feedback import gallery, samples, seen
from worker.feedback.figures import joint_body
from worker.feedback.figures.joint_body import WIDE
from worker.feedback.worked.equilibrium import balance

Point = tuple[float, float]
CENTRE = (WIDE / 2, 0.0)


def heads(figure: Figure, colour: str) -> list[tuple[Point, Point]]:
    """Tip and direction of each arrowhead of a colour."""
    found = []
    for shape in seen.within(seen.all_of(figure, "g")[0], "polygon"):
        if shape.get("fill") == colour:
            tip, one, two = [tuple(map(float, pair.split(","))) for pair in shape.get("points").split()]
            back = ((one[0] + two[0]) / 2, (one[1] + two[1]) / 2)
            size = math.dist(tip, back)
            found.append((tip, ((tip[0] - back[0]) / size, (tip[1] - back[1]) / size)))
    return found


def outward(tip: Point, way: Point) -> float:
    """1 where an arrow leaves the joint straight, -1 where it enters it straight."""
    away = (tip[0] - CENTRE[0], tip[1] - CENTRE[1])
    return (away[0] * way[0] + away[1] * way[1]) / math.hypot(*away)


@pytest.mark.parametrize(("colour", "sign"), [(palette.TENSION, 1.0), (palette.COMPRESSION, -1.0)])
def test_tension_leaves_the_joint_and_compression_enters_it(colour: str, sign: float) -> None:
    analysis = gallery.case("warren 6").analysis
    for joint in analysis.joints:
        for tip, way in heads(joint_body(analysis, joint.name), colour):
            assert outward(tip, way) == pytest.approx(sign, abs=0.02)


@pytest.mark.parametrize("depth", [6.0, 80.0, 900.0])
def test_arrows_have_the_angles_of_the_truss_however_flat_or_deep_it_is(depth: float) -> None:
    analysis = gallery.solved(gallery.warren(6, depth), gallery.brief()).analysis
    (_, way) = heads(joint_body(analysis, "b0"), palette.COMPRESSION)[0]
    assert math.degrees(math.atan2(abs(way[1]), abs(way[0]))) == pytest.approx(
        math.degrees(math.atan2(depth, 50)), abs=1
    )


def test_each_force_has_its_name_its_size_with_unit_and_t_or_c_and_its_angle() -> None:
    words = seen.words_of(joint_body(gallery.case("king post").analysis, "d"))
    assert {"a-d", "d-c", "b-d", "111.8 N C", "100.0 N T", "at 26.57\N{DEGREE SIGN}", "x", "y"} <= set(words)


@pytest.mark.parametrize("name", ["king post", "bow", "below the deck", "a load that travels", "deep"])
def test_the_numbers_are_those_of_the_worked_sums(name: str) -> None:
    analysis = gallery.case(name).analysis
    for joint in analysis.joints:
        figure = joint_body(analysis, joint.name)
        for pull in balance(analysis, joint).pulls:
            assert pull.force in figure.alternative.replace(" N ", " ")
            assert pull.angle.removeprefix("0.00") in figure.alternative or pull.angle in ("0.00°", "90.00°")


def test_a_support_is_told_by_its_upright_and_its_level_part() -> None:
    truss = trusses.two_bar(300, 400, 100)
    words = seen.words_of(joint_body(samples.analysis_of(truss), "a"))
    assert words.count("support") == 2
    assert {"50.00 N", "37.50 N"} <= set(words)


def test_a_joint_with_its_own_weight_shows_it_with_a_dashed_arrow() -> None:
    figure = joint_body(gallery.case("a load that travels").analysis, "b3")
    assert "own weight" in seen.words_of(figure)
    assert [line for line in seen.all_of(figure, "line") if line.get("stroke-dasharray") == "4 3"]


COLOURS = (palette.INK, palette.PAPER, palette.TENSION, palette.COMPRESSION)


@pytest.mark.parametrize("name", ["a load that travels", "flat", "flat triangle", "deep", "bow"])
def test_no_two_arrows_end_in_one_place(name: str) -> None:
    analysis = gallery.case(name).analysis
    for joint in analysis.joints:
        figure = joint_body(analysis, joint.name)
        tips = [tip for colour in COLOURS for tip, _ in heads(figure, colour)]
        assert all(math.dist(a, b) > 7 for i, a in enumerate(tips) for b in tips[:i])


def test_forces_without_room_are_counted_and_still_read_out() -> None:
    figure = joint_body(gallery.case("fan").analysis, "top")
    said = sum(word in figure.alternative for word in ("d0-top", "d1-top", "d2-top", "d3-top", "d4-top", "d5-top"))
    assert said == 6
    counted = [
        found for word in seen.words_of(figure) if (found := re.fullmatch(r"(\d+) forces? had no room here\.", word))
    ]
    missing = int(counted[0][1]) if counted else 0
    shown = sum(f"d{i}-top" in seen.words_of(figure) for i in range(9))
    assert shown + missing == 9


def test_a_joint_that_is_not_there_is_refused() -> None:
    with pytest.raises(KeyError):
        joint_body(gallery.case("king post").analysis, "z")
