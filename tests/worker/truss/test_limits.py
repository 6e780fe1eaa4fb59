"""What the brief allows, and what of it a truss does not keep."""

from __future__ import annotations

from rubric import library
from rubric.brief import Brief
from tests.corpus.mistaken import G as GOOD
from worker.truss.cautions import crossings
from worker.truss.limits import broken, depth_above_mm, depth_below_mm, kit_used
from worker.truss.reader import read_truss

BRIEF = library.brief("footbridge")
TRUSS = read_truss(GOOD.encode(), BRIEF)


def brief_with(**limits: object) -> Brief:
    return Brief.model_validate(
        {**BRIEF.model_dump(mode="json"), "limits": {k.replace("_", " "): v for k, v in limits.items()}}
    )


def test_depth_is_measured_from_the_deck_line_up_and_down() -> None:
    deep = read_truss(GOOD.replace("[300, 150]", "[300, -80]").encode(), BRIEF)
    assert (depth_above_mm(TRUSS), depth_below_mm(TRUSS)) == (150, 0)
    assert (depth_above_mm(deep), depth_below_mm(deep)) == (0, 80)


def test_a_limit_just_reached_is_kept() -> None:
    assert broken(TRUSS, brief_with(depth_above=150, joints=4), 50) == ()


def test_each_limit_broken_is_a_sentence_with_both_numbers() -> None:
    brief = brief_with(depth_above=149, mass=49.5, joints=3, longest_member=250, shortest_member=160)
    assert broken(TRUSS, brief, 50.0) == (
        "The highest joint is 150 mm above the deck; the brief allows 149 mm.",
        "The whole bridge has a mass of 50 g; the brief allows 49.5 g.",
        "One side has 4 joints; the brief allows 3.",
        "Member a-d is 335 mm long; the brief allows 250 mm.",
        "Member b-d is only 150 mm long; the brief asks for 160 mm or more.",
    )


def test_the_kit_is_for_the_whole_bridge() -> None:
    square5 = 2 * (300 + 300 + 2 * (300**2 + 150**2) ** 0.5)
    assert kit_used(TRUSS, BRIEF) == square5 / (14 * 900)


def test_more_wood_than_the_kit_holds_breaks_a_limit() -> None:
    brief = brief_with().model_copy(
        update={
            "stock": {
                **BRIEF.stock,
                "square3": BRIEF.stock["square3"].model_copy(update={"count": 1, "length_mm": 140.0}),
            }
        }
    )
    assert broken(TRUSS, brief, 50.0) == (
        "The whole bridge needs 300 mm of square3; the kit holds 140 mm.",
        "A member of 150 mm is longer than one square3 stick of 140 mm.",
    )


def test_a_member_that_runs_through_a_joint_is_pointed_out() -> None:
    truss = read_truss(GOOD.replace("b-c: square5", "a-c: square5").encode(), BRIEF)
    assert crossings(truss) == (
        "Member a-c runs straight through joint b but is not joined to it. "
        "If you glue them, write two members that meet at b.",
    )
    assert crossings(TRUSS) == ()


def test_a_deck_without_joints_under_a_load_along_it_breaks_a_limit() -> None:
    market = library.brief("market-bridge")
    text = "joints: {a: [0, 0], b: [30, 0], c: [770, 0], d: [800, 0], e: [400, 200]}\nmembers: {a-b: flat6, b-e: flat6, e-c: flat6, c-d: flat6}\n"
    said = broken(read_truss(text.encode(), market), market, 50.0)
    assert "The deck runs 740 mm from joint b to joint c without a joint between; the brief allows 300 mm." in said
    assert not any("The deck runs" in line for line in broken(TRUSS, BRIEF, 50.0))
