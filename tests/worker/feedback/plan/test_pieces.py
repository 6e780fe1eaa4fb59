"""What to cut: lettered by length, counted over both sides, and every stick adds up."""

from __future__ import annotations

import pytest

from rubric.brief import Stick
from tests.worker.feedback.plan import bridges
from worker.feedback.plan.pieces import cutting, letters, tenth

FOUND = cutting(bridges.analysis_of(bridges.TYPICAL, doubled=("b0-t0", "t3-b4")), bridges.BRIEF)


def test_members_of_one_stick_and_length_are_one_piece() -> None:
    assert [(piece.letter, piece.stick, piece.length_mm) for piece in FOUND.pieces] == [
        ("A", "square5", 150.0),
        ("B", "square5", 141.5),
    ]
    assert [member.name for member in FOUND.pieces[0].members] == "b0-b1 b1-b2 b2-b3 b3-b4 t0-t1 t1-t2 t2-t3".split()


def test_a_doubled_member_takes_two_pieces_on_each_side() -> None:
    assert [piece.count for piece in FOUND.pieces] == [2 * 7, 2 * (6 + 2 * 2)]


def test_every_piece_is_cut_exactly_once() -> None:
    (kind,) = FOUND.kinds
    for piece in FOUND.pieces:
        assert sum(one.sticks * one.pieces.count(piece) for one in kind.layouts) == piece.count
    assert sum(one.sticks for one in kind.layouts) == kind.needed


def test_pieces_and_what_is_left_over_add_up_to_the_stick() -> None:
    (kind,) = FOUND.kinds
    for one in kind.layouts:
        assert sum(piece.length_mm for piece in one.pieces) + one.left_over_mm == pytest.approx(900.0)


def test_each_cut_takes_its_kerf_and_never_more_than_the_stick_has() -> None:
    sawn = cutting(bridges.analysis_of(bridges.TYPICAL), bridges.brief(600, kerf_mm=2.0))
    assert sawn.kerf_mm == 2.0
    (kind,) = sawn.kinds
    for one in kind.layouts:
        used = sum(piece.length_mm for piece in one.pieces) + 2 * len(one.pieces)
        assert one.left_over_mm == pytest.approx(max(0.0, 900 - used))
        assert used <= 902


def test_each_member_finds_its_piece() -> None:
    for row in bridges.analysis_of(bridges.TYPICAL, doubled=("b0-t0", "t3-b4")).members:
        assert FOUND.of(row).length_mm == pytest.approx(row.length_mm, abs=0.05)


def test_a_piece_longer_than_its_stick_is_told_and_not_cut() -> None:
    short = Stick.model_validate({"section": "5 x 5 mm", "length": "145 mm", "count": 40})
    (kind,) = cutting(bridges.analysis_of(bridges.TYPICAL), bridges.brief(600, stock={"square5": short})).kinds
    assert [piece.letter for piece in kind.too_long] == ["A"]
    assert all(piece.letter == "B" for one in kind.layouts for piece in one.pieces)


def test_after_z_comes_aa() -> None:
    assert [letters(number) for number in (0, 25, 26, 27, 701, 702)] == ["A", "Z", "AA", "AB", "ZZ", "AAA"]


def test_lengths_that_differ_by_rounding_noise_print_alike() -> None:
    assert tenth(141.25 - 2e-14) == tenth(141.25 + 2e-14) == tenth(141.25)
