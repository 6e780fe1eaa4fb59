"""What a student can check with a calculator: every sum adds up as printed, every product gives what is said."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rubric import library
from rubric.brief import TRAVELLING, Brief
from rubric.messages.outcomes import Analysis
from tests.corpus.mistaken import G as GOOD
from tests.trusses import made_redundant, pratt, triangulated
from worker.analysis import analysis, solve
from worker.demand import loaded_at
from worker.feedback.worked.equilibrium import balance, balances, with_stiff_joints
from worker.feedback.worked.failure import failure
from worker.feedback.worked.numbers import Decimals
from worker.feedback.worked.reactions import reactions
from worker.truss.model import Truss
from worker.truss.reader import read_truss

FOOTBRIDGE = library.brief("footbridge")
CURVES = ("Euler and Johnson", "EN 1995-1-1", "NDS")


def analysed(brief: Brief = FOOTBRIDGE, text: str = GOOD) -> Analysis:
    return analysis(solve(read_truss(text.encode(), brief), brief))


def of_sticks(truss: Truss, stick: str = "square5") -> Truss:
    return replace(truss, members=tuple(replace(m, stick=stick) for m in truss.members))


def number(text: str) -> float:
    return float(text.replace("−", "-").split()[0])


def changed(**values: object) -> Brief:
    return FOOTBRIDGE.model_copy(update=values)


@given(seed=st.integers(0, 10_000), extra=st.integers(0, 3), weight=st.sampled_from(["left out", "counted"]))
@settings(max_examples=40, deadline=None)
def test_the_parts_at_every_joint_add_up_to_nothing_within_their_rounding(seed: int, extra: int, weight: str) -> None:
    brief = changed(self_weight=weight)
    truss = triangulated(seed)
    found = analysis(solve(of_sticks(made_redundant(truss, seed, extra) if extra else truss), brief))
    for joint in found.joints:
        worked = balance(found, joint)
        for parts in ([p.across for p in worked.pulls], [p.up for p in worked.pulls]):
            decimals = max((len(part.partition(".")[2]) for part in parts), default=0)
            assert abs(sum(map(number, parts))) <= len(parts) * 0.5 * 10**-decimals + 1e-9


@given(seed=st.integers(0, 10_000))
@settings(max_examples=40, deadline=None)
def test_force_times_cosine_and_sine_of_the_printed_angle_is_the_printed_part(seed: int) -> None:
    found = analysis(solve(of_sticks(triangulated(seed)), FOOTBRIDGE))
    for pull in balance(found, found.joints[0]).pulls:
        if pull.angle:
            force, angle = number(pull.force), math.radians(float(pull.angle.rstrip("°")))
            unit = 10 ** -len(pull.across.partition(".")[2])
            wrong = 0.5 * unit + 0.5 * unit + force * math.radians(0.005)  # of the part, of the force, of the angle
            assert abs(number(pull.across)) == pytest.approx(force * math.cos(angle), abs=wrong)
            assert abs(number(pull.up)) == pytest.approx(force * math.sin(angle), abs=wrong)


def test_the_supports_and_the_ends_of_the_member_that_breaks_first_are_worked() -> None:
    found = balances(analysed())
    assert [(b.joint, b.role) for b in found] == [
        ("a", "a support, and an end of a-d, which breaks first"),
        ("c", "a support"),
        ("d", "an end of a-d, which breaks first"),
    ]
    assert all(b.exact for b in found)


def test_a_mechanism_has_no_equilibrium_to_show() -> None:
    loose = analysed(text=GOOD.replace("  b-d: square3\n", ""))
    assert balances(loose) == ()
    assert reactions(loose) == ()
    assert failure(loose, FOOTBRIDGE) == ()


def test_reactions_are_found_by_turning_about_the_left_support() -> None:
    assert reactions(analysed()) == (
        "Turning about a: 100.0 × 300 = 30000 N mm. The support at c is 600 mm away. "
        "So it pushes up with 30000 / 600 = 50.0 N.",
        "All loads add up to 100.0 N. The support at a gives the rest: 100.0 − 50.0 = 50.0 N.",
    )


def test_reactions_count_own_weight_and_a_moving_load_where_it_is_drawn() -> None:
    load = FOOTBRIDGE.load.model_copy(update={"places": TRAVELLING})
    brief = changed(load=load, self_weight="counted")
    found = analysis(solve(loaded_at(of_sticks(pratt(6)), "b1", brief), brief))
    right = next(joint for joint in found.joints if joint.x_mm == 600)
    said = reactions(found)
    assert right.reaction_N is not None
    assert said[0].endswith(
        f"= {Decimals.of([sum(j.own_weight_N - j.load_N[1] for j in found.joints)]).said(right.reaction_N[1])} N."
    )


def test_supports_that_push_sideways_are_left_to_the_joints() -> None:
    brief = changed(supports=FOOTBRIDGE.supports.model_copy(update={"right": "pin"}))
    assert reactions(analysed(brief)) == ()


@pytest.mark.parametrize("curve", CURVES)
@pytest.mark.parametrize("shown", ["in words", "as a ratio", "by formula"])
def test_buckling_is_worked_as_deep_as_the_brief_asks(curve: str, shown: str) -> None:
    brief = changed(column_curve=curve, buckling_shown=shown)
    said = " ".join(failure(analysed(brief), brief))
    assert ("slenderness" in said) == (shown != "in words")
    named = {"Euler and Johnson": "formula, for slenderness", "EN 1995-1-1": "EN 1995-1-1, 6.3.2", "NDS": "NDS, 3.7.1"}
    assert (named[curve] in said) == (shown == "by formula")


PRODUCT = re.compile(r"((?:[\d.]+ × )+[\d.]+) = ([\d.]+) ")


@pytest.mark.parametrize("curve", CURVES)
@pytest.mark.parametrize("stick", ["square5", "square3"])
@pytest.mark.parametrize("wood", ["balsa", "birch"])
def test_every_product_that_is_printed_gives_what_is_printed(curve: str, stick: str, wood: str) -> None:
    brief = changed(
        column_curve=curve, buckling_shown="by formula", wood=FOOTBRIDGE.wood.model_copy(update={"material": wood})
    )
    found = analysed(brief, GOOD.replace("square5 x2", stick))
    products = [match for sentence in failure(found, brief) for match in PRODUCT.findall(sentence)]
    assert products
    for factors, product in products:
        assert math.prod(map(float, factors.split(" × "))) == pytest.approx(float(product), rel=2e-3)


def test_a_glued_end_is_worked_from_its_area() -> None:
    brief = changed(glue=FOOTBRIDGE.glue.model_copy(update={"lap_mm": 1.0}) if FOOTBRIDGE.glue else None)
    said = " ".join(failure(analysed(brief), brief))
    assert "At each end it is glued over 1 × 3 = 3 mm²." in said
    assert "There the wood beside the glue shears at 2.1 MPa, so an end can take 3 × 2.1 = 6.3 N." in said


def test_stiff_joints_are_named_as_the_reason_for_what_is_left() -> None:
    assert with_stiff_joints(FOOTBRIDGE) == ""
    assert "sideways" in with_stiff_joints(changed(joints="rigid"))
    bent = " ".join(failure(analysed(changed(joints="rigid")), changed(joints="rigid")))
    assert "Its stiff joints bend it as well" in bent
    assert "Twice the load" not in bent


def test_numbers_of_one_sum_have_the_same_decimals() -> None:
    decimals = Decimals.of([0.5, -123.456])
    assert [decimals.said(v) for v in (0.5, -123.456, -0.0001)] == ["0.5", "−123.5", "0.0"]
    assert decimals.signed(2) == "+2.0"
    assert Decimals.of([]).said(0.0) == "0"
