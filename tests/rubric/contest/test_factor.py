"""The factor of a class: known factors found again, in spite of bridges that failed by their glue."""

from __future__ import annotations

import math
from random import Random

import pytest

from rubric.contest.factor import class_factor, proposals


def bridges(factor: float, count: int, seed: int, wrong: float = 0.0) -> list[tuple[float, float]]:
    """Predicted and measured loads that scatter by 12 %, of which a part carries next to nothing."""
    random = Random(seed)
    made = []
    for _ in range(count):
        predicted = random.uniform(80, 400)
        measured = predicted * factor * math.exp(random.gauss(0, 0.12))
        made.append((predicted, measured * (0.1 if random.random() < wrong else 1)))
    return made


@pytest.mark.parametrize("factor", [0.6, 0.85, 1.0, 1.3])
def test_a_known_factor_is_found_though_a_tenth_of_the_bridges_failed_by_their_glue(factor: float) -> None:
    found = class_factor(bridges(factor, 150, 5, wrong=0.1))
    assert found is not None
    assert found.factor == pytest.approx(factor, rel=0.04)  # those that failed are all low: a small shift stays
    pairs = bridges(factor, 150, 5, wrong=0.1)
    mean = sum(m / p for p, m in pairs) / len(pairs)
    assert abs(found.factor - factor) < 0.5 * abs(mean - factor)


def test_the_interval_holds_the_known_factor_in_95_of_100_classes() -> None:
    held = 0
    for seed in range(1000):
        found = class_factor(bridges(0.8, 28, seed))
        assert found is not None
        held += found.low <= 0.8 <= found.high
    # 28 bridges: binomial, 96.4 %; three standard deviations of 1000 draws are 1.8 %
    assert 0.946 <= held / 1000 <= 0.982


def test_outliers_without_end_do_not_carry_the_factor_away() -> None:
    sound = bridges(0.8, 20, 3)
    found = class_factor([*sound, *[(100.0, 1e9)] * 5, *[(100.0, 1e-9)] * 5])
    assert found is not None
    assert found.factor == pytest.approx(0.8, rel=0.1)


def test_the_interval_is_that_of_the_published_table() -> None:
    # order statistics for the median: n = 10 takes the 2nd from either end (97.9 %), n = 20 the 6th (95.9 %), n = 6
    # the 1st (96.9 %): the binomial distribution with p = 1/2, as in tables of the sign test
    for n, rank, held in [(6, 1, 0.969), (10, 2, 0.979), (20, 6, 0.959)]:
        found = class_factor([(1.0, float(k)) for k in range(1, n + 1)])
        assert found is not None
        assert (found.low, found.high) == (rank, n + 1 - rank)
        assert found.confidence == pytest.approx(held, abs=0.0006)


def test_eight_of_ten_bridges_lie_in_the_band() -> None:
    pairs = bridges(0.8, 4000, 8)
    found = class_factor(pairs)
    assert found is not None
    inside = sum(found.spread_low <= m / p <= found.spread_high for p, m in pairs) / len(pairs)
    assert inside == pytest.approx(0.8, abs=0.03)


def test_five_bridges_are_too_few_to_say() -> None:
    assert class_factor(bridges(0.8, 5, 1)) is None


def test_a_strength_is_proposed_only_where_it_was_off_by_more_than_chance() -> None:
    weak = [("joint", p, m) for p, m in bridges(0.5, 20, 2)]
    sound = [("tension", p, m) for p, m in bridges(1.0, 20, 2)]
    (proposal,) = proposals([*weak, *sound])
    assert (proposal.mode, proposal.what) == ("joint", "the strength of the glue")
    assert proposal.factor.factor == pytest.approx(0.5, rel=0.06)
