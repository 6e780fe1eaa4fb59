"""Likeness: 1 for the same, high for near copies, low for other bridges."""

from __future__ import annotations

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.worker.likeness.corpus import DISGUISES, KINDS, OWN, mirrored, original, warren
from tests.worker.likeness.test_fingerprint import mark
from worker.likeness import likeness

seeds = st.integers(0, 10_000)


@given(seeds, seeds)
def test_it_is_a_part_of_one_and_the_same_from_either_side(one: int, other: int) -> None:
    a, b = (mark(original(random.Random(seed), random.Random(seed).choice(KINDS))) for seed in (one, other))
    assert 0 <= likeness(a, b) <= 1
    assert likeness(a, b) == pytest.approx(likeness(b, a), abs=1e-9)
    assert likeness(a, a) == 1


@given(seeds)
def test_a_mirror_image_is_the_same(seed: int) -> None:
    drawn = original(random.Random(seed), OWN)
    assert likeness(mark(drawn), mark(mirrored(drawn, random.Random(seed)))) == pytest.approx(1, abs=1e-3)


@pytest.mark.parametrize("name", DISGUISES)
def test_a_near_copy_still_scores_high(name: str) -> None:
    """Not always: where members are short, a nudge of the panel may carry a joint past its neighbour."""
    scores = []
    for seed in range(100):
        rng = random.Random(seed)
        drawn = original(rng, OWN)
        scores.append(likeness(mark(drawn), mark(DISGUISES[name](drawn, rng))))
    assert sorted(scores)[2] > 0.8
    assert sorted(scores)[50] > 0.95


def test_another_number_of_panels_or_another_depth_scores_low() -> None:
    plain = mark(warren(600.0, 4, 120.0, posts=False))
    assert likeness(plain, mark(warren(600.0, 6, 120.0, posts=False))) < 0.2
    assert likeness(plain, mark(warren(600.0, 4, 180.0, posts=False))) < 0.4
