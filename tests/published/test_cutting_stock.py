"""Cutting stock on instances whose fewest sticks are known.

Sources:

- the textbook example of 13 lengths from sticks of 5600 mm: 73 sticks, first-fit decreasing 82 (Wikipedia, "Cutting
  stock problem");
- small instances counted by hand, kerf included;
- triplets: three pieces made to fill each stick without waste, so their number is the optimum (the construction of
  Falkenauer, 1996, from memory);
- an instance whose linear programme rounds up to 2 while 3 sticks are needed (from memory of the literature on the
  integer round-up property; the tests count it by trying everything);
- first-fit decreasing needs at most 11/9 of the optimum + 6/9 (Dosa, 2007, from memory).
"""

from __future__ import annotations

import random
from collections import Counter

import pytest

from tests.worker.advice.test_cutting import fewest, named
from worker.advice.cutting import cut_list
from worker.advice.patterns import best_patterns, counted_bound, first_fit

TEXTBOOK = {
    1380: 22,
    1520: 25,
    1560: 12,
    1710: 14,
    1820: 18,
    1880: 18,
    1930: 20,
    2000: 10,
    2050: 12,
    2100: 14,
    2140: 16,
    2150: 18,
    2200: 20,
}


def test_the_textbook_example_needs_73_sticks_and_is_proven() -> None:
    found = cut_list([(str(mm), float(mm)) for mm, count in TEXTBOOK.items() for _ in range(count)], 5600.0)
    assert (len(found.sticks), found.bound, found.optimal) == (73, 73, True)
    assert Counter(int(mm) for stick in found.sticks for _, mm in stick) == TEXTBOOK


def test_first_fit_decreasing_needs_82_sticks_for_the_textbook_example() -> None:
    assert len(first_fit(TEXTBOOK, 5600)) == 82


@pytest.mark.parametrize(
    ("pieces", "stick", "kerf", "sticks"),
    [
        ([4] * 3 + [3] * 6, 10, 0, 3),
        ([100] * 9, 900, 0, 1),
        ([100] * 9, 900, 1, 2),
        ([99] * 9, 900, 1, 1),
        ([450] * 4, 900, 0, 2),
        ([450] * 4, 900, 1, 4),
        ([900] * 3, 900, 3, 3),
        ([6, 6, 5, 5, 4, 4], 10, 0, 3),
        ([7, 6, 5, 4, 4, 4], 10, 0, 4),
    ],
)
def test_small_lists_counted_by_hand(pieces, stick, kerf, sticks) -> None:
    found = cut_list(named([float(mm) for mm in pieces]), float(stick), float(kerf))
    assert (len(found.sticks), found.optimal) == (sticks, True)


def test_first_fit_decreasing_wastes_a_stick_where_each_should_hold_4_3_3() -> None:
    assert len(first_fit({4: 3, 3: 6}, 10)) == 4
    assert best_patterns({4: 3, 3: 6}, 10) == ([(4, 3, 3)] * 3, 3)


def test_rounding_up_the_linear_programme_can_be_one_too_few() -> None:
    found = cut_list(named([44.0] * 2 + [33.0] * 3 + [12.0] * 6), 132.0)
    assert 2 * 44 + 3 * 33 + 6 * 12 <= 2 * 132
    assert (len(found.sticks), found.bound) == (3, 3)
    assert fewest((44,) * 2 + (33,) * 3 + (12,) * 6, 132) == 3


@pytest.mark.parametrize("seed", range(4))
def test_triplets_fill_every_stick(seed) -> None:
    rng, pieces = random.Random(seed), []
    for _ in range(12):
        a = rng.randint(380, 490)
        b = (1000 - a) // 2 + rng.randint(-60, 60)
        pieces += [a, b, 1000 - a - b]
    found = cut_list(named([float(mm) for mm in pieces]), 1000.0)
    assert (len(found.sticks), found.optimal) == (12, True)
    assert all(sum(mm for _, mm in stick) == 1000 for stick in found.sticks)


@pytest.mark.parametrize("seed", range(20))
def test_first_fit_decreasing_keeps_its_guarantee(seed) -> None:
    rng = random.Random(seed)
    demand = dict(Counter(rng.randint(10, 70) for _ in range(30)))
    found, bound = best_patterns(demand, 100)
    assert len(found) == bound >= counted_bound(demand, 100)
    assert 9 * len(first_fit(demand, 100)) <= 11 * len(found) + 6
