"""How the working by hand is read: each force as the student wrote it."""

from __future__ import annotations

import pytest

from rubric import library
from worker.truss.model import Working, Written
from worker.truss.reader import read_truss

BRIEF = library.brief("footbridge")
GOOD = """\
joints: {a: [0, 0], b: [300, 0], c: [600, 0], d: [300, 150]}
members: {a-b: square5, b-c: square5, a-d: square5 x2, d-c: square5 x2, b-d: square3}
"""


def read(working: str, before: str = "") -> Working:
    found = read_truss(f"{before}{GOOD}working: {working}\n".encode(), BRIEF).working
    assert found is not None
    return found


def test_a_force_keeps_its_figures_its_last_digit_and_its_sense() -> None:
    assert read("{forces: {a-b: 62.50 T}}").forces == {"a-b": Written("62.50 N T", 62.5, 1.0, 4, 0.01)}


def test_noughts_at_the_end_of_a_whole_number_are_no_figures() -> None:
    assert read("{forces: {a-d: 100C}}").forces == {"a-d": Written("100 N C", -100.0, -1.0, 1, 1.0)}


def test_t_or_c_alone_has_a_sense_and_no_size() -> None:
    forces = read("{forces: {a-b: T, a-d: C, b-d: 0}}").forces
    assert forces == {
        "a-b": Written("T", None, 1.0),
        "a-d": Written("C", None, -1.0),
        "b-d": Written("0 N", 0.0, 0.0, 1, 1.0),
    }


@pytest.mark.parametrize(
    ("written", "force_N", "said", "mass"),
    [
        ("0.0625 kN T", 62.5, "0.0625 kN T", False),
        ("14.05 lbf T", 14.05 * 4.4482216152605, "14.05 lbf T", False),
        ("6.37 kg T", 6.37 * 9.80665, "6.37 kg T", True),
        ("6370g T", 6.370 * 9.80665, "6370 g T", True),
    ],
)
def test_a_force_may_bring_its_unit_and_a_mass_stands_for_its_weight(written, force_N, said, mass) -> None:
    force = read(f"{{forces: {{a-b: {written}}}}}").forces["a-b"]
    assert force.force_N == pytest.approx(force_N)
    assert (force.said, force.mass) == (said, mass)


def test_a_force_without_a_unit_is_in_the_unit_of_the_file() -> None:
    force = read("{forces: {a-b: 0.06 T}}", before="force: kN\n").forces["a-b"]
    assert (force.said, force.force_N, force.step_N) == ("0.06 kN T", 60.0, 10.0)


def test_a_reaction_may_have_two_directions_and_units() -> None:
    found = read("{reactions: {a: 50 N up 0.02 kN left, c: 50 up}}").reactions
    assert {name: (w.said, w.force_N) for name, w in found.items()} == {
        "a y": ("50 N up", 50.0),
        "a x": ("0.02 kN left", -20.0),
        "c y": ("50 N up", 50.0),
    }


def test_a_support_may_be_said_to_push_with_nothing() -> None:
    assert read("{reactions: {a: 0}}").reactions["a y"].force_N == 0.0


@pytest.mark.parametrize("block", ["[b-d, b-a]", "'b-d, b-a'", "{b-d, b-a}"])
def test_zero_members_are_named_in_a_list_by_their_ends_in_either_order(block: str) -> None:
    assert read(f"{{zero members: {block}}}").zeros == ("b-d", "a-b")


def test_none_is_an_answer_and_silence_is_none() -> None:
    assert read("{zero members: none}").zeros == ()
    assert read("{forces: {a-b: T}}").zeros is None


def test_a_table_holds_working_too() -> None:
    rows = ["joint,a,0,0", "joint,b,300,0", "joint,c,600,0", "joint,d,300,150", "member,a-b,square5"]
    rows += ["working reaction,a,50 up", "working force,a-b,62.5 T", "working zero,a-b"]
    found = read_truss("\n".join(rows).encode(), BRIEF).working
    assert found is not None
    assert (list(found.reactions), list(found.forces), found.zeros) == (["a y"], ["a-b"], ("a-b",))
