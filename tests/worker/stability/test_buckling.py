"""Linear buckling of the whole truss."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.stability_trusses import guyed_column, pyramid
from tests.trusses import AREA_MM2, MODULUS_MPA, mapped, member, pratt, turned, two_bar, warren
from worker.stability import WholeBuckling, buckling
from worker.statics import StiffnessMissing, solve
from worker.truss.model import Member, Support, Truss


def factor(truss: Truss) -> float | None:
    return buckling(truss, solve(truss).forces).factor


def test_a_truss_whose_members_only_pull_never_buckles() -> None:
    assert buckling(two_bar(load=-50.0), solve(two_bar(load=-50.0)).forces) == WholeBuckling(None, {})


def test_a_truss_without_forces_never_buckles() -> None:
    assert buckling(warren(), dict.fromkeys((m.name for m in warren().members), 0.0)).factor is None


def test_a_truss_held_at_every_joint_never_buckles() -> None:
    joints = {"a": (0.0, 0.0), "b": (100.0, 0.0)}
    held = Truss(joints, (member("a", "b"),), dict.fromkeys(joints, Support.pin()))
    assert buckling(held, {"a-b": -1e9}) == WholeBuckling(None, {})


def test_the_motion_is_of_the_soft_hinge_and_its_largest_movement_is_one() -> None:
    truss = guyed_column(3, 80.0, 0.5, push=1.0)
    motion = buckling(truss, solve(truss).forces).motion
    assert list(motion) == list(truss.joints)
    assert motion["h1"][1] == pytest.approx(-motion["h2"][1])
    assert abs(motion["h1"][1]) == pytest.approx(1.0)
    assert motion["h0"] == motion["g1"] == (0.0, 0.0)


def test_the_softest_of_two_springs_square_to_each_other_decides_in_space() -> None:
    ends, k = {"a": (0.0, 0.0, 0.0), "b": (80.0, 0.0, 0.0), "c": (160.0, 0.0, 0.0)}, {"y": 0.9, "z": 0.4}
    feet = {"y": (80.0, 40.0, 0.0), "z": (80.0, 0.0, 40.0)}
    springs = tuple(Member(f"b-{f}", "b", f, area_mm2=1.0, modulus_MPa=40 * k[f]) for f in feet)
    pin = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
    supports = dict.fromkeys(("a", "y", "z"), Support("pin", pin)) | {"c": Support("guide", pin[1:])}
    truss = Truss(ends | feet, (member("a", "b"), member("b", "c"), *springs), supports, {"c": (-2.0, 0.0, 0.0)})
    found = buckling(truss, solve(truss).forces)
    assert found.factor == pytest.approx(0.4 * 80 / 2 / 2.0)
    assert abs(found.motion["b"][2]) == pytest.approx(1.0)


@pytest.mark.parametrize("slope_deg", [10.0, 45.0, 90.0, -35.0, 160.0])
def test_a_column_whose_head_rolls_on_a_slope_buckles_as_a_level_one(slope_deg: float) -> None:
    column = mapped(guyed_column(2, 120.0, 0.6, push=3.0), turned(slope_deg))
    assert factor(column) == pytest.approx(0.6 * 120 / 2 / 3.0, rel=1e-12)


def test_a_stiffer_web_never_lowers_the_factor_of_a_girder() -> None:
    found = []
    for area in (5.0, 20.0, 80.0):
        members = tuple(replace(m, area_mm2=area) if m.name[0] == "t" else m for m in pratt().members)
        found.append(factor(replace(pratt(), members=members)))
    assert found == sorted(found)


def test_a_mechanism_has_no_buckling_factor() -> None:
    weak = replace(warren(), members=warren().members[1:])
    with pytest.raises(ValueError, match="is a mechanism: it moves under no load"):
        buckling(weak, {m.name: -1.0 for m in weak.members})


def test_a_joint_in_line_between_two_pins_has_no_buckling_factor() -> None:
    joints = {"a": (0.0, 0.0), "b": (50.0, 0.0), "c": (100.0, 0.0)}
    line = Truss(joints, (member("a", "b"), member("b", "c")), {"a": Support.pin(), "c": Support.pin()})
    with pytest.raises(ValueError, match="mechanism"):
        buckling(line, {"a-b": -1.0, "b-c": -1.0})


def test_an_unknown_stiffness_is_asked_for_by_name() -> None:
    bare = replace(warren(), members=(replace(warren().members[0], area_mm2=None), *warren().members[1:]))
    with pytest.raises(StiffnessMissing, match="Give an area and a modulus for b0-b1"):
        buckling(bare, solve(bare).forces)


def test_a_pyramid_buckles_linearly_as_its_closed_form_says() -> None:
    """Down: n EA s^2 / L + factor N n c^2 / L = 0 with N = -P / (n s), so P = n EA s^3 / c^2."""
    truss = pyramid(5, 45.0, load=AREA_MM2 * MODULUS_MPA)
    s = c = 2**-0.5
    sideways = 5 / 2 * c**2 / (s**2 + 1) * 2 * s  # N / L (1 - c^2 / 2) against EA / L c^2 / 2 in each leg
    assert factor(truss) == pytest.approx(min(5 * s**3 / c**2, sideways))


def test_a_lightly_pushed_part_buckles_however_hard_another_is_pulled() -> None:
    column, tie = guyed_column(2, 80.0, 0.7, push=1e-3), two_bar(100.0, 5.0, load=-1e4)
    both = Truss(
        {**column.joints, **tie.joints},
        column.members + tie.members,
        {**column.supports, **tie.supports},
        {**column.loads, **tie.loads},
    )
    assert factor(both) == pytest.approx(0.7 * 80 / 2 / 1e-3, rel=1e-6)


def test_forces_that_are_there_already_take_their_part_of_the_factor() -> None:
    """With k times the same forces there before, the factor falls by just k; beyond it nothing is left."""
    truss = warren()
    forces = solve(truss).forces
    alone = buckling(truss, forces).factor
    assert alone is not None
    for k in (0.0, 0.3, 0.9):
        before = {name: k * alone * force for name, force in forces.items()}
        assert buckling(truss, forces, before).factor == pytest.approx((1 - k) * alone, rel=1e-9)
    assert buckling(truss, forces, {name: 1.01 * alone * force for name, force in forces.items()}).factor == 0.0
