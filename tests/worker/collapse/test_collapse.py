"""The sequence of failures: its order, its bounds, and what does not change it."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rubric import library
from tests.bridges import brief, bundle, chain, filled, lath, three_bars
from tests.trusses import made_redundant, pratt, shuffled, triangulated
from worker import statics
from worker.collapse import Collapse, collapse
from worker.demand import Demand
from worker.strength.bridge import strength
from worker.strength.sections import with_sections
from worker.strength.wood import wood
from worker.truss.model import Member, Support, Truss

BRIEF = library.brief("footbridge")
WOOD = wood(BRIEF.wood)
seeds = st.integers(0, 10_000)


def of_sticks(truss: Truss) -> Truss:
    """The truss cut from the sticks of the footbridge, thick and thin in turn by length."""
    thick = [truss.length_mm(m) > 150 for m in truss.members]
    names = ("square3", "square5")
    members = tuple(replace(m, stick=names[t]) for m, t in zip(truss.members, thick, strict=True))
    return with_sections(replace(truss, members=members), BRIEF, WOOD.modulus_MPa)


def redundant(seed: int, extra: int = 3) -> Truss:
    return of_sticks(made_redundant(triangulated(seed), seed, extra))


def collapsed(truss: Truss) -> Collapse:
    return collapse(truss, BRIEF, WOOD)


def test_a_determinate_truss_falls_with_its_first_failure() -> None:
    truss = of_sticks(pratt(6))
    found = collapsed(truss)
    load_N = strength(truss, Demand.still(statics.solve(truss).forces), BRIEF, WOOD).failure_load_N
    assert len(found.steps) == 1
    assert found.peak_load_N == load_N
    assert (found.kept_after_first, found.ends) == (0.0, "mechanism")


@given(seed=seeds)
@settings(max_examples=25, deadline=None)
def test_a_redundant_truss_fails_first_as_the_analysis_says(seed: int) -> None:
    truss = redundant(seed)
    first = strength(truss, Demand.still(statics.solve(truss).forces), BRIEF, WOOD)
    found = collapsed(truss)
    assert first.first is not None
    assert first.first.member.name in found.steps[0].members
    assert found.steps[0].load_N == first.failure_load_N


@given(seed=seeds)
@settings(max_examples=25, deadline=None)
def test_the_standing_load_never_sinks_and_peaks_at_the_peak_load(seed: int) -> None:
    found = collapsed(redundant(seed))
    standing = [step.at_N for step in found.steps]
    assert standing == sorted(standing)
    assert found.peak_load_N == standing[-1] == max(step.load_N for step in found.steps)
    assert [step.at_once for step in found.steps[1:]] == [
        step.load_N <= before * (1 + 1e-9) for step, before in zip(found.steps[1:], standing, strict=False)
    ]


@given(seed=seeds, extra=st.integers(0, 5))
@settings(max_examples=25, deadline=None)
def test_no_member_fails_twice_and_each_stage_uses_up_redundancy(seed: int, extra: int) -> None:
    truss = redundant(seed, extra)
    found = collapsed(truss)
    failed = [name for step in found.steps for name in step.members]
    assert len(failed) == len(set(failed))
    assert 1 <= len(found.steps) <= statics.solve(truss).degree + 1


@given(seed=seeds, order=seeds)
@settings(max_examples=25, deadline=None)
def test_order_and_names_of_joints_and_members_change_nothing(seed: int, order: int) -> None:
    truss = redundant(seed)
    other, _ = shuffled(truss, order)
    one, two = collapsed(truss), collapsed(other)
    assert [set(step.members) for step in one.steps] == [set(step.members) for step in two.steps]
    assert [step.load_N for step in one.steps] == pytest.approx([step.load_N for step in two.steps], rel=1e-6)


@given(factor=st.floats(0.1, 10))
@settings(max_examples=25, deadline=None)
def test_stronger_and_stiffer_wood_scales_every_load_and_keeps_the_sequence(factor: float) -> None:
    truss = redundant(7)
    scaled = {name: getattr(WOOD, name) * factor for name in vars(WOOD) if name != "density_kg_m3"}
    dry = BRIEF.model_copy(update={"glue": None})
    one, two = collapse(truss, dry, WOOD), collapse(truss, dry, replace(WOOD, **scaled))
    assert [step.members for step in one.steps] == [step.members for step in two.steps]
    assert [factor * step.load_N for step in one.steps] == pytest.approx([step.load_N for step in two.steps])
    assert one.kept_after_first == pytest.approx(two.kept_after_first)


def test_a_mechanism_has_no_sequence() -> None:
    truss = of_sticks(pratt(6))
    found = collapsed(replace(truss, members=truss.members[1:]))
    assert found == Collapse((), None, 0.0, "mechanism")


def test_a_truss_without_load_never_fails() -> None:
    found = collapsed(replace(of_sticks(pratt(6)), loads={}))
    assert found == Collapse((), None, 0.0, "unloaded")


def test_members_are_told_in_the_order_of_the_file_with_their_modes() -> None:
    given_ = brief()
    found = collapse(filled(three_bars(45.0), given_), given_, lath(given_))
    assert found.steps[1].members == ("left", "right")
    assert found.steps[1].modes == ("tension", "tension")


def test_a_pushed_bundle_names_buckling() -> None:
    given_ = brief()
    pushed = replace(bundle(["bar", "bar"]), loads={"low": (0.0, 1.0)})
    assert collapse(filled(pushed, given_), given_, lath(given_)).steps[0].modes == ("buckling", "buckling")


def test_bars_a_little_unlike_fail_one_after_the_other() -> None:
    """Laps of strength lap x width on bars of one stress: the thicker fails at 1 / 4.02 of it, the other at 1 / 4."""
    given_ = brief({"one": (6.0, 4.0), "other": (6.0, 4.02)}, glue=(1.0, 1.0))
    found = collapse(filled(bundle(["one", "other"]), given_), given_, lath(given_))
    assert [step.members for step in found.steps] == [("m1",), ("m0",)]


def test_a_bar_that_hangs_loose_is_no_mechanism() -> None:
    """Two thin arms buckle together; the stem that they held then hangs from p and holds nothing."""
    given_ = brief({"bar": (5.0, 2.0), "thin": (5.0, 0.5)})
    bars = three_bars(30.0)
    joints = {**bars.joints, "s": (0.0, 60.0), "u": (-100.0, 80.0), "v": (100.0, 80.0)}
    arms = (Member("stem", "p", "s", "bar"), Member("s-u", "s", "u", "thin"), Member("s-v", "s", "v", "thin"))
    supports = {**bars.supports, "u": Support.pin(), "v": Support.pin()}
    pushed = Truss(joints, (*bars.members, *arms), supports, {"p": (0.0, 1.0)})
    found = collapse(filled(pushed, given_), given_, lath(given_))
    assert found.steps[0].members == ("s-u", "s-v")
    assert len(found.steps) == 2
    assert "stem" not in found.steps[1].members


def test_a_support_that_keeps_no_member_is_no_mechanism() -> None:
    """Two thin struts to a roller buckle together; the roller may then slide as it likes."""
    given_ = brief({"bar": (5.0, 2.0), "thin": (5.0, 0.5)})
    joints = {"w": (0.0, -100.0), "p": (-50.0, 0.0), "q": (50.0, 0.0)}
    joints |= {"a": (-150.0, 100.0), "b": (-20.0, 100.0), "c": (20.0, 100.0), "d": (150.0, 100.0)}
    pairs = {"p-a": "bar", "p-b": "bar", "q-c": "bar", "q-d": "bar", "w-p": "thin", "w-q": "thin"}
    members = tuple(Member(pair, *pair.split("-"), stick) for pair, stick in pairs.items())
    supports = {"w": Support.roller()} | dict.fromkeys("abcd", Support.pin())
    hung = Truss(joints, members, supports, {"p": (0.0, -0.5), "q": (0.0, -0.5)})
    found = collapse(filled(hung, given_), given_, lath(given_))
    assert [step.members for step in found.steps] == [("w-p", "w-q"), ("p-b", "q-c")]


def test_a_chain_of_one_bar_is_the_least_truss() -> None:
    given_ = brief()
    assert collapse(filled(chain(["bar"]), given_), given_, lath(given_)).peak_load_N == pytest.approx(200.0)
