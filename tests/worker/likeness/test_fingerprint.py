"""The fingerprint keeps the structure and nothing else."""

from __future__ import annotations

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubric.messages.likeness import Fingerprint
from tests.worker.likeness.corpus import (
    KINDS,
    OWN,
    both,
    original,
    other_sticks,
    renamed,
    shifted_and_scaled,
    shuffled,
    truss,
    warren,
)
from worker.likeness import fingerprint
from worker.truss.model import Truss

seeds = st.integers(0, 10_000)


def mark(of: Truss) -> Fingerprint:
    found = fingerprint(of)
    assert found is not None
    return found


@given(seeds, st.sampled_from(KINDS))
def test_names_order_ends_and_sticks_leave_no_trace(seed: int, kind: str) -> None:
    rng = random.Random(seed)
    drawn = original(rng, kind)
    assert mark(both(renamed, shuffled, other_sticks)(drawn, rng)) == mark(drawn)


@given(seeds)
def test_place_and_size_change_nothing_but_the_span(seed: int) -> None:
    rng = random.Random(seed)
    drawn = original(rng, OWN)
    moved, still = mark(shifted_and_scaled(drawn, rng)), mark(drawn)
    assert moved.bars == still.bars
    gaps = [abs(p - q) for pair in zip(moved.joints, still.joints, strict=True) for p, q in zip(*pair, strict=True)]
    assert max(gaps) <= 1


def test_a_joint_that_only_cuts_a_straight_member_is_left_out() -> None:
    whole = {"a": (0.0, 0.0), "b": (600.0, 0.0), "c": (300.0, 100.0)}
    bars = [("a", "c"), ("c", "b"), ("a", "b")]
    cut = truss(whole | {"m": (310.0, 4.0)}, [*bars[:2], ("a", "m"), ("m", "b")])
    assert mark(cut) == mark(truss(whole, bars))


def test_a_bend_is_no_cut() -> None:
    bent = truss({"a": (0.0, 0.0), "b": (600.0, 0.0), "c": (300.0, 100.0)}, [("a", "c"), ("c", "b")])
    assert len(mark(bent).joints) == 3


def test_it_is_measured_from_the_left_support_in_parts_of_the_span() -> None:
    assert mark(warren(600.0, 2, 150.0, posts=False)).joints == (
        (0, 0),
        (2500, 2500),
        (5000, 0),
        (7500, 2500),
        (10000, 0),
    )


@pytest.mark.parametrize(
    "empty",
    [
        Truss({}, ()),
        Truss({"a": (0.0, 0.0)}, ()),
        truss({"a": (0.0, 0.0), "b": (0.0, 90.0), "c": (0.0, 0.0)}, [("a", "b")]),
    ],
)
def test_what_spans_nothing_has_no_fingerprint(empty: Truss) -> None:
    assert fingerprint(empty) is None


@given(seeds)
def test_forty_members_need_less_than_a_kilobyte(seed: int) -> None:
    found = mark(original(random.Random(seed), OWN))
    assert len(found.model_dump_json()) < 25 * max(len(found.bars), 10)


def test_a_bar_without_its_joint_is_refused() -> None:
    with pytest.raises(ValueError, match="a joint that is not there"):
        Fingerprint(joints=((0, 0), (10_000, 0)), bars=((0, 2),), span_mm=600)
