"""Layers: no two sticks in one layer are in each other's way."""

from __future__ import annotations

import math
from itertools import combinations

import pytest

from rubric.brief import Brief, Glue
from rubric.messages.outcomes import MemberRow
from tests import trusses
from tests.worker.feedback.plan import bridges
from worker.feedback.plan.laying import layers, meetings
from worker.truss.model import Truss

GUSSETS = bridges.brief(
    600, glue=Glue.model_validate({"strength": 5, "lap": 12, "gusset": {"thickness": 1, "strength": 20}})
)


def names(truss: Truss, brief: Brief = bridges.BRIEF) -> list[list[str]]:
    return [[member.name for member in layer] for layer in layers(bridges.analysis_of(truss), brief)]


def test_chords_lie_on_the_board_and_diagonals_over_them() -> None:
    assert names(bridges.TYPICAL) == [
        ["b0-b1", "b1-b2", "b2-b3", "b3-b4", "t0-t1", "t1-t2", "t2-t3"],
        ["b0-t0", "b1-t1", "b2-t2", "b3-t3"],
        ["t0-b1", "t1-b2", "t2-b3", "t3-b4"],
    ]


def angle_deg(truss: Truss, joint: str, one: MemberRow, other: MemberRow) -> float:
    ways = []
    for member in (one, other):
        far = member.end if member.start == joint else member.start
        ways.append(math.atan2(*(truss.joints[far][i] - truss.joints[joint][i] for i in (1, 0))))
    return abs(math.degrees(math.remainder(ways[0] - ways[1], 2 * math.pi)))


@pytest.mark.parametrize("seed", range(40))
def test_in_one_layer_sticks_meet_end_to_end_or_not_at_all(seed: int) -> None:
    truss = trusses.triangulated(seed)
    for layer in layers(bridges.analysis_of(truss), bridges.BRIEF):
        for one, other in combinations(layer, 2):
            for joint in {one.start, one.end} & {other.start, other.end}:
                assert angle_deg(truss, joint, one, other) >= 119.9


def test_every_member_lies_in_exactly_one_layer() -> None:
    laid = [name for layer in names(bridges.FLAT) for name in layer]
    assert sorted(laid) == sorted(member.name for member in bridges.FLAT.members)


def test_under_gussets_all_sticks_lie_in_one_layer() -> None:
    assert len(names(bridges.TYPICAL, GUSSETS)) == 1


def test_crossing_diagonals_lie_over_each_other_even_under_gussets() -> None:
    joints = {"a": (0.0, 0.0), "b": (100.0, 0.0), "c": (100.0, 80.0), "d": (0.0, 80.0)}
    pairs = ("ab", "bc", "cd", "da", "ac", "bd")
    square = Truss(joints, tuple(trusses.member(*pair) for pair in pairs), trusses.warren(1).supports)
    crossed = Truss(square.joints, square.members, dict(zip("ab", trusses.warren(1).supports.values(), strict=True)))
    loaded = Truss(crossed.joints, crossed.members, crossed.supports, {"c": (0.0, -10.0)})
    assert names(loaded, GUSSETS) == [["a-b", "b-c", "c-d", "d-a", "a-c"], ["b-d"]]


def test_a_joint_lists_what_meets_there_in_the_order_it_is_laid() -> None:
    found = bridges.analysis_of(bridges.TYPICAL)
    there = {one.name: one for one in meetings(found, layers(found, bridges.BRIEF))}
    assert there["b1"].layers == (("b0-b1", "b1-b2"), ("b1-t1",), ("t0-b1",))
    assert (there["t0"].x_mm, there["t0"].y_mm) == (75.0, 120.0)
    assert len(there) == len(bridges.TYPICAL.joints)
