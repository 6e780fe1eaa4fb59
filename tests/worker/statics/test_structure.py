"""From a truss to arrays."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from tests.trusses import member, two_bar
from worker.statics.structure import Structure, axial_stiffness
from worker.truss.model import Member, Support, Truss


def test_joints_stand_in_the_order_of_their_coordinates_whatever_their_names() -> None:
    structure = Structure.of(Truss({"z": (0, 0), "b": (2, 1), "a": (2, 0)}, ()))
    assert structure.joint_names == ("z", "a", "b")
    assert structure.coordinates.tolist() == [[0, 0], [2, 0], [2, 1]]


def test_a_member_runs_from_its_lower_joint_whichever_end_the_file_names_first() -> None:
    truss = Truss({"a": (0, 0), "b": (3, 4)}, (Member("b-a", "b", "a"),))
    structure = Structure.of(truss)
    assert structure.ends.tolist() == [[0, 1]]
    assert structure.lengths.tolist() == [5.0]


def test_stiffness_is_area_times_modulus_and_unknown_without_either() -> None:
    assert axial_stiffness(Member("m", "a", "b", area_mm2=25.0, modulus_MPa=3000.0)) == 75_000.0
    assert math.isnan(axial_stiffness(Member("m", "a", "b", area_mm2=25.0)))
    assert math.isnan(axial_stiffness(Member("m", "a", "b", modulus_MPa=3000.0)))


@pytest.mark.parametrize("area", [0.0, -4.0, math.inf])
def test_a_stiffness_that_is_no_positive_number_is_refused_by_the_name_of_its_member(area: float) -> None:
    with pytest.raises(ValueError, match=r"member a-b has area .* must be positive"):
        Structure.of(Truss({"a": (0, 0), "b": (1, 0)}, (member("a", "b", area),)))


def test_a_member_without_length_is_refused_by_its_name() -> None:
    with pytest.raises(ValueError, match="member a-b has no length"):
        Structure.of(Truss({"a": (1, 1), "b": (1, 1)}, (member("a", "b"),)))


@pytest.mark.parametrize("field", ["loads", "settlements"])
def test_a_vector_at_a_joint_that_is_not_there_is_refused(field: str) -> None:
    with pytest.raises(ValueError, match="names joint x, but there is no such joint"):
        Structure.of(replace(two_bar(), **{field: {"x": (0.0, 1.0)}}))


def test_a_member_to_a_joint_that_is_not_there_is_refused() -> None:
    with pytest.raises(ValueError, match="member a-x names joint x"):
        Structure.of(Truss({"a": (0, 0)}, (member("a", "x"),)))


def test_a_plane_load_on_a_space_truss_is_refused() -> None:
    with pytest.raises(ValueError, match="2 components, but this truss has 3"):
        Structure.of(Truss({"a": (0, 0, 0)}, (), loads={"a": (0, 1)}))


def test_a_settlement_counts_only_along_the_directions_that_the_support_holds() -> None:
    truss = Truss({"a": (0, 0)}, (), {"a": Support.roller(30)}, settlements={"a": (0.0, -2.0)})
    assert Structure.of(truss).held_settlements == pytest.approx([-2 * math.cos(math.pi / 6)])


def test_a_space_truss_has_three_dimensions_and_an_empty_one_two() -> None:
    assert Structure.of(Truss({"a": (0, 0, 0)}, ())).dimension == 3
    assert Structure.of(Truss({}, ())).dimension == 2
    assert np.shape(Structure.of(Truss({}, ())).ends) == (0, 2)


def test_twin_members_of_unknown_stiffness_stand_in_one_order_whatever_the_file_says() -> None:
    twins = [replace(member("a", "b", area), name=name) for name, area in (("p", None), ("q", None), ("r", 9.0))]
    orders = [(0, 1, 2), (2, 1, 0), (1, 2, 0), (2, 0, 1)]
    names = {
        Structure.of(Truss({"a": (0, 0), "b": (1, 0)}, tuple(twins[i] for i in order))).member_names for order in orders
    }
    assert names == {("p", "q", "r")}


def test_a_soft_member_is_no_mistake() -> None:
    assert axial_stiffness(Member("m", "a", "b", area_mm2=0.5, modulus_MPa=0.5)) == 0.25


def test_of_several_members_the_one_without_length_is_named() -> None:
    joints = {"a": (0, 0), "b": (1, 0), "c": (2, 0), "d": (2, 0)}
    with pytest.raises(ValueError, match=r"^member c-d has no length"):
        Structure.of(Truss(joints, (member("a", "b"), member("c", "d"), member("b", "c"))))


@pytest.mark.parametrize(
    ("field", "value", "what"),
    [
        ("supports", Support.pin(), "a support"),
        ("loads", (0.0, 1.0), "a load"),
        ("settlements", (0.0, 1.0), "a settlement"),
    ],
)
def test_what_stands_at_a_joint_that_is_not_there_is_told_in_full(field: str, value: object, what: str) -> None:
    with pytest.raises(ValueError, match=f"^{what} names joint x, but there is no such joint$"):
        Structure.of(replace(two_bar(), **{field: {"x": value}}))


def test_a_misfit_of_a_member_that_is_not_there_is_refused_after_one_that_is() -> None:
    with pytest.raises(ValueError, match=r"^a misfit names member x-y, but there is no such member$"):
        Structure.of(replace(two_bar(), misfits={"a-b": 1.0, "x-y": 1.0}))
