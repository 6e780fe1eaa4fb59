"""Pairs worth a look: what is rare and shared, not what everybody makes."""

from __future__ import annotations

import random
from dataclasses import replace

from rubric.messages.likeness import Fingerprint, Pair, Work
from tests.worker.likeness.corpus import OWN, lopsided, mirrored, nudged, original, renamed, warren
from tests.worker.likeness.test_fingerprint import mark
from worker.likeness import suspects
from worker.likeness.suspects import alike, shared
from worker.truss.model import Truss

WARREN = warren(600.0, 4, 120.0, posts=False)
ODD = replace(WARREN, joints={j: (x, y) if y == 0 else (x + 7.3, y - 2.7) for j, (x, y) in WARREN.joints.items()})
"""The same Warren, its top chord at the very same odd numbers in every copy."""


def work(of: Truss | Fingerprint, submission: int, student: int | None = None, group: int = 1) -> Work:
    found = of if isinstance(of, Fingerprint) else mark(of)
    return Work(
        submission=submission, student=submission if student is None else student, group=group, fingerprint=found
    )


def own(seed: int) -> Truss:
    return original(random.Random(seed), OWN)


def numbers(pairs: tuple[Pair, ...]) -> set[frozenset[int]]:
    return {frozenset((pair.one, pair.other)) for pair in pairs}


def test_two_plain_warrens_with_round_numbers_are_a_common_solution() -> None:
    assert suspects([work(WARREN, 1), work(renamed(WARREN, random.Random(1)), 2)]) == ()


def test_two_warrens_with_the_very_same_odd_numbers_are_suspicious() -> None:
    odd = nudged(WARREN, random.Random(5))
    (pair,) = suspects([work(odd, 1), work(renamed(odd, random.Random(1)), 2), work(WARREN, 3)])
    assert (pair.one, pair.other, pair.likeness) == (1, 2, 1.0)


def test_one_odd_number_alone_proves_nothing() -> None:
    deep = warren(600.0, 4, 123.7, posts=False)
    assert suspects([work(deep, 1), work(deep, 2)]) == ()


def test_two_warrens_nudged_each_in_its_own_way_are_left_alone() -> None:
    works = [work(nudged(WARREN, random.Random(seed)), seed) for seed in range(1, 9)]
    assert suspects(works) == ()


def test_a_copy_in_another_class_or_year_is_found() -> None:
    pairs = suspects([work(own(1), 1, group=1), work(own(2), 2, group=1), work(own(1), 3, group=9)])
    assert numbers(pairs) == {frozenset((1, 3))}


def test_a_mirrored_copy_says_that_it_is_turned() -> None:
    rng = random.Random(3)
    drawn = lopsided(rng)
    (pair,) = suspects([work(drawn, 1), work(mirrored(drawn, rng), 2)])
    (same,) = suspects([work(drawn, 1), work(renamed(drawn, rng), 2)])
    assert (pair.turned, same.turned) == (True, False)


def test_a_student_is_never_compared_with_himself() -> None:
    assert suspects([work(own(1), 1, student=7), work(own(1), 2, student=7)]) == ()


def test_of_several_attempts_of_two_students_the_strongest_pair_is_told() -> None:
    near = nudged(own(4), random.Random(1))
    pairs = suspects([work(own(4), 1, student=1), work(near, 2, student=2), work(own(4), 3, student=2)])
    assert numbers(pairs) == {frozenset((1, 3))}


def test_asked_about_one_class_only_pairs_with_it_are_told() -> None:
    works = [work(own(1), 1, group=1), work(own(1), 2, group=2), work(own(1), 3, group=3)]
    assert numbers(suspects(works, about=1)) == {frozenset((1, 2)), frozenset((1, 3))}


def test_what_a_quarter_of_a_class_has_is_told_as_shared_and_not_as_pairs() -> None:
    works = [work(own(1), n) for n in range(1, 7)] + [work(own(n), n) for n in range(20, 34)]
    assert suspects(works) == ()
    (found,) = shared(works, alike(works))
    assert found.submissions == (1, 2, 3, 4, 5, 6)


def test_what_a_class_shares_is_still_told_where_it_turns_up_in_another_class() -> None:
    works = [work(own(1), n) for n in range(1, 7)] + [work(own(1), 9, group=2)]
    assert all(9 in pair for pair in numbers(suspects(works)))
    assert len(suspects(works)) == 6


def test_the_order_of_the_works_changes_nothing() -> None:
    works = [work(own(n % 5), n) for n in range(10)] + [work(WARREN, 20), work(ODD, 21)]
    turned = suspects(works[::-1])
    assert {(frozenset((p.one, p.other)), p.bits) for p in suspects(works)} == {
        (frozenset((p.one, p.other)), p.bits) for p in turned
    }


def test_of_no_work_there_is_nothing_to_say() -> None:
    assert suspects([]) == ()
    assert suspects([work(own(1), 1)]) == ()
