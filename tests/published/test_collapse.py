"""Collapse of brittle trusses against closed forms.

Sources beside each: S. P. Timoshenko, Strength of Materials, part I, statically indeterminate bars (from
memory); H. E. Daniels, The statistical theory of the strength of bundles of threads I, Proceedings
of the Royal Society A 183 (1945) 405-435 (from memory); the crossed panel by least work, derived here.
"""

from __future__ import annotations

import math

import pytest

from tests.bridges import TENSION_MPA, brief, bundle, chain, crossed_panel, filled, lath, three_bars
from worker.collapse import Collapse, collapse
from worker.strength.columns import euler_N
from worker.truss.model import Truss

THREE_BARS = [  # section of the middle over that of the others, angle, P1 / T, P2 / T, kept
    (1.0, 45.0, 1.70711, 1.41421, 0.82843),
    (1.0, 30.0, 2.29904, 1.73205, 0.75338),
    (1 / 3, 30.0, 1.63237, 1.73205, 1.06107),
    (3.0, 60.0, 3.25, 1.0, 0.30769),
]


def collapsed(truss: Truss, given=None) -> Collapse:
    given = given or brief()
    return collapse(filled(truss, given), given, lath(given))


@pytest.mark.parametrize(("k", "angle", "first", "second", "kept"), THREE_BARS)
def test_three_brittle_bars_fail_as_by_hand(k, angle, first, second, kept) -> None:
    """Timoshenko: the middle bar takes k P / (k + 2 cos^3 b); once it has gone, the others P / (2 cos b)."""
    sections = {"middle": (6 * k, 2.0), "outer": (6.0, 2.0)}
    T = TENSION_MPA * 12
    found = collapsed(three_bars(angle, "middle", "outer"), brief(sections))
    assert [step.members for step in found.steps] == [("middle",), ("left", "right")]
    assert [step.load_N / T for step in found.steps] == pytest.approx([first, second], rel=1e-5)
    assert found.kept_after_first == pytest.approx(kept, rel=2e-5)
    assert found.peak_load_N == pytest.approx(T * max(first, second), rel=1e-5)
    assert found.steps[1].at_once == (second < first)


BUNDLES = [  # sections of one area, so alike stiff; what their laps carry; loads of the stages; peak
    ([(24.0, 1.0), (8.0, 3.0), (6.0, 4.0)], [6.0, 8.0, 24.0], [18.0, 16.0, 24.0]),
    ([(6.0, 4.0), (8.0, 3.0), (12.0, 2.0)], [6.0, 8.0, 12.0], [18.0, 16.0, 12.0]),
    ([(12.0, 2.0), (24.0, 1.0)], [12.0, 24.0], [24.0, 24.0]),
    ([(48.0, 1.0), (24.0, 2.0), (16.0, 3.0), (12.0, 4.0)], [12.0, 16.0, 24.0, 48.0], [48.0, 48.0, 48.0, 48.0]),
]


@pytest.mark.parametrize(("sections", "strengths", "stages"), BUNDLES)
def test_a_bundle_of_brittle_threads_fails_as_daniels_says(sections, strengths, stages) -> None:
    """Daniels: threads share the load alike; of n sorted strengths t, the k-th goes at (n - k + 1) t_k."""
    lap_mm, shear_MPa = 1.0, 1.0
    given = brief({f"s{i}": s for i, s in enumerate(sections)}, glue=(shear_MPa, lap_mm))
    found = collapsed(bundle([f"s{i}" for i in range(len(sections))]), given)
    assert sorted(max(section) * lap_mm * shear_MPa for section in sections) == strengths
    assert [step.load_N for step in found.steps] == pytest.approx(stages)
    assert found.peak_load_N == pytest.approx(max(stages))


@pytest.mark.parametrize("count", [2, 3, 7])
def test_like_threads_all_go_together(count: int) -> None:
    """Daniels with strengths all alike: the bundle carries n t and keeps nothing."""
    found = collapsed(bundle(["bar"] * count))
    assert len(found.steps) == 1
    assert len(found.steps[0].members) == count
    assert found.peak_load_N == pytest.approx(count * TENSION_MPA * 10)
    assert found.kept_after_first == 0


def test_a_crossed_panel_loses_its_pushed_diagonal_and_then_racks() -> None:
    """Least work, all EA alike, side 1, load H: with x in the pulled diagonal the posts carry -x / sqrt 2 and
    H - x / sqrt 2, the top -x / sqrt 2, the other diagonal x - sqrt 2 H, and dU/dx = 0 gives
    x (3/2 + 2 sqrt 2) = H (2 + 1 / sqrt 2): x = 0.625425 H, and -0.788789 H in the other.
    """
    mm = 400.0
    pushed_N = euler_N(lath(brief()).modulus_MPa, 5 * 2**3 / 12, mm * math.sqrt(2))
    post_N = euler_N(lath(brief()).modulus_MPa, 5 * 2**3 / 12, mm)
    found = collapsed(crossed_panel(mm))
    assert [step.members for step in found.steps] == [("b-d",), ("b-c", "d-c")]
    assert found.steps[0].load_N == pytest.approx(pushed_N / 0.788789, rel=1e-6)
    assert found.steps[1].load_N == pytest.approx(post_N, rel=1e-9)  # alone, a-c carries sqrt 2 H, post and top H
    assert found.kept_after_first == pytest.approx(2 * 0.788789, rel=1e-6)


def test_a_chain_is_as_strong_as_its_weakest_link_and_keeps_nothing() -> None:
    """A determinate truss: one failure, and it falls."""
    given = brief({"strong": (5.0, 3.0), "weak": (5.0, 1.0)})
    found = collapsed(chain(["strong", "weak", "strong"]), given)
    assert [step.members for step in found.steps] == [("m1",)]
    assert found.peak_load_N == pytest.approx(TENSION_MPA * 5)
    assert (found.kept_after_first, found.ends) == (0.0, "mechanism")
