"""Scatter against closed forms.

Sources: quantiles of the lognormal and the normal distribution; reliability index and series systems
as in any text on structural reliability (R. E. Melchers, Structural Reliability: Analysis and Prediction,
from memory); the equally correlated series system of C. W. Dunnett and M. Sobel, Biometrika 42 (1955)
258-260 (from memory), integrated here; SHA-256 of FIPS 180-4.

Sampling errors: a part p of n samples has the standard error sqrt(p (1 - p) / n), and four of them are allowed.
"""

from __future__ import annotations

import math
from statistics import NormalDist

import numpy as np
import pytest
from scipy.integrate import quad

from tests.bridges import CRUSHING_MPA, MODULUS_MPA, SHEAR_MPA, TENSION_MPA, brief, chain, filled
from worker import statics
from worker.chance import FailureLoads, failure_loads, seed
from worker.chance.likeness import PROPERTIES
from worker.chance.sampling import common_parts, generator, own_normals
from worker.strength.columns import euler_N
from worker.strength.scatter import Scatter
from worker.truss.model import Truss

N01 = NormalDist()
NONE = Scatter(0, 0, 0, 0, 0, 0)
MANY = 40_000


def tried(truss: Truss, given=None, scatter: Scatter = NONE, between: float = 0.0, samples: int = MANY) -> FailureLoads:
    given = given or brief()
    whole = filled(truss, given)
    found = failure_loads(whole, statics.solve(whole), given, scatter, 1, samples, between)
    assert found is not None
    return found


def lognormal(mean: float, V: float, part: float) -> float:
    """x = m exp(z s) / sqrt(1 + V^2), s^2 = ln(1 + V^2)."""
    return mean * math.exp(N01.inv_cdf(part) * math.sqrt(math.log1p(V**2))) / math.sqrt(1 + V**2)


def slack(part: float, samples: int = MANY) -> float:
    return 4 * math.sqrt(part * (1 - part) / samples)


@pytest.mark.parametrize("V", [0.1, 0.25, 0.4])
def test_one_tie_has_the_quantiles_of_the_lognormal_distribution(V: float) -> None:
    """All in common: strata leave no error of sampling beyond the four digits of the answer."""
    found = tried(chain(["bar"]), scatter=Scatter(V, 0, 0, 0, 0, 0), between=1.0)
    expected = [lognormal(TENSION_MPA * 10, V, part) for part in (0.1, 0.5, 0.9)]
    assert [found.low_N, found.median_N, found.high_N] == pytest.approx(expected, rel=6e-4)


@pytest.mark.parametrize("V", [0.1, 0.25])
def test_one_tie_has_the_quantiles_of_the_normal_distribution(V: float) -> None:
    found = tried(chain(["bar"]), scatter=Scatter(V, 0, 0, 0, 0, 0, "normal"), between=1.0)
    expected = [NormalDist(200, 200 * V).inv_cdf(part) for part in (0.1, 0.5, 0.9)]
    assert [found.low_N, found.median_N, found.high_N] == pytest.approx(expected, rel=6e-4)


@pytest.mark.parametrize("between", [0.0, 0.5, 0.9])
def test_one_tie_scatters_alike_however_much_sticks_have_in_common(between: float) -> None:
    """The standard error of a quantile is sqrt(p (1 - p) / n) over the density there."""
    V = 0.25
    s = math.sqrt(math.log1p(V**2))
    found = tried(chain(["bar"]), scatter=Scatter(V, 0, 0, 0, 0, 0), between=between)
    for value, part in ((found.low_N, 0.1), (found.median_N, 0.5), (found.high_N, 0.9)):
        error = slack(part) * s / N01.pdf(N01.inv_cdf(part))
        assert value == pytest.approx(lognormal(200, V, part), rel=error)


@pytest.mark.parametrize("part", [0.01, 0.2, 0.5, 0.99])
def test_one_tie_carries_its_own_fractile_with_the_chance_left(part: float) -> None:
    target = lognormal(TENSION_MPA * 10, 0.25, part)
    found = tried(chain(["bar"]), brief(target_N=target), Scatter(tension=0.25), between=1.0)
    assert found.chance == pytest.approx(1 - part, abs=2 / MANY)


def test_a_slender_strut_scatters_as_its_modulus_alone() -> None:
    mm, V = 300.0, 0.22
    found = tried(chain(["bar"], mm, down=1.0), scatter=Scatter(0.5, 0.18, 0.5, V, 0.5, 0.5), between=1.0)
    mean_N = euler_N(MODULUS_MPA, 5 * 2**3 / 12, mm)
    expected = [lognormal(mean_N, V, part) for part in (0.1, 0.5, 0.9)]
    assert [found.low_N, found.median_N, found.high_N] == pytest.approx(expected, rel=1e-3)


def test_a_stocky_strut_scatters_as_its_crushing_strength_alone() -> None:
    V = 0.18
    found = tried(chain(["bar"], 0.5, down=1.0), scatter=Scatter(0.5, V, 0.5, 0.22, 0.5, 0.5), between=1.0)
    expected = [lognormal(CRUSHING_MPA * 10, V, part) for part in (0.1, 0.5, 0.9)]
    assert [found.low_N, found.median_N, found.high_N] == pytest.approx(expected, rel=2e-3)


def test_a_joint_fails_in_the_glue_or_in_the_wood_whichever_is_weaker() -> None:
    """Independent of each other: P(fails) = 1 - (1 - Pg)(1 - Pw)."""
    lap, target = 4.0, 36.0
    given = brief(target_N=target, glue=(2.2, lap))
    found = tried(chain(["bar"]), given, Scatter(0, 0, 0.14, 0, 0, 0.2))

    def fails(mean_MPa: float, V: float) -> float:
        s = math.sqrt(math.log1p(V**2))
        return N01.cdf((math.log(target / (5 * lap) / mean_MPa) + s**2 / 2) / s)

    expected = (1 - fails(2.2, 0.2)) * (1 - fails(SHEAR_MPA, 0.14))
    assert 0.2 < expected < 0.8
    assert found.chance == pytest.approx(expected, abs=slack(expected))


def series(count: int, between: float, sides: int = 1) -> float:
    """Chance that a chain fails of which each link fails with 0.01."""
    target = sides * lognormal(TENSION_MPA * 10, 0.25, 0.01)
    return 1 - tried(chain(["bar"] * count), brief(target_N=target, sides=sides), Scatter(tension=0.25), between).chance


def test_ten_independent_links_fail_as_a_series_system() -> None:
    """1 - 0.99^10 = 0.0956179."""
    assert series(10, 0.0) == pytest.approx(0.0956179, abs=slack(0.0956179))


def test_ten_links_of_one_quality_fail_as_one() -> None:
    assert series(10, 1.0) == pytest.approx(0.01, abs=2 / MANY)


@pytest.mark.parametrize("between", [0.2, 0.5, 0.8])
def test_links_with_something_in_common_fail_as_dunnett_and_sobel_integrate(between: float) -> None:
    """Pf = 1 - integral of phi(t) Phi((beta + sqrt(r) t) / sqrt(1 - r))^n."""
    beta = -N01.inv_cdf(0.01)

    def all_hold(t: float) -> float:
        return N01.pdf(t) * N01.cdf((beta + math.sqrt(between) * t) / math.sqrt(1 - between)) ** 10

    expected = 1 - quad(all_hold, -8, 8)[0]
    assert 0.01 < expected < 0.0956179
    assert series(10, between) == pytest.approx(expected, abs=slack(expected))


def test_two_side_trusses_are_a_series_system_of_both() -> None:
    """1 - 0.99^2 = 0.0199."""
    assert series(1, 0.0, sides=2) == pytest.approx(0.0199, abs=slack(0.0199))


def test_like_links_fail_first_alike_often() -> None:
    shares = tried(chain(["bar"] * 4), scatter=Scatter(tension=0.25), between=0.5).fails_first
    assert set(shares) == {"m0", "m1", "m2", "m3"}
    assert list(shares.values()) == pytest.approx([0.25] * 4, abs=slack(0.25))


def test_the_stronger_of_two_links_fails_first_as_often_as_the_index_says() -> None:
    """P(R1 < R2), lognormal and independent: Phi(-beta), beta = ln(m1 / m2) / sqrt(s1^2 + s2^2)."""
    s = math.sqrt(math.log1p(0.25**2))
    expected = N01.cdf(-math.log(1.5) / math.sqrt(2 * s**2))
    given = brief({"bar": (5.0, 2.0), "thick": (5.0, 3.0)})
    found = tried(chain(["bar", "thick"]), given, Scatter(tension=0.25))
    assert found.fails_first["m1"] == pytest.approx(expected, abs=slack(expected))


def test_the_mass_scatters_as_the_density() -> None:
    """Failure load without scatter over a weight that has it: quantiles of 1 / mass, the high mass at the low end."""
    found = tried(chain(["bar"]), scatter=Scatter(0, 0, 0, 0, 0.1, 0), between=1.0)
    grams = 160e-6 * 10 * 100
    expected = [200 / (lognormal(grams, 0.1, part) * 9.80665e-3) for part in (0.9, 0.5, 0.1)]
    assert found.efficiency == pytest.approx(expected, rel=1e-3)


def test_the_mass_of_four_independent_sticks_scatters_half_as_much() -> None:
    """Variance of a mean of n: V / sqrt(n)."""
    V = 0.1
    found = tried(chain(["bar"] * 4), scatter=Scatter(0, 0, 0, 0, V, 0))
    grams = 4 * 160e-6 * 10 * 100
    for value, part in zip(found.efficiency or (), (0.9, 0.5, 0.1), strict=True):
        error = slack(part) * V / 2 / N01.pdf(N01.inv_cdf(part))
        assert value == pytest.approx(200 / (lognormal(grams, V / 2, part) * 9.80665e-3), rel=error)


BETA = [  # R (mean, sd), S (mean, sd), beta, Pf
    ((200.0, 20.0), (100.0, 15.0), 4.0, 3.16712e-5),
    ((50.0, 9.0), (30.0, 3.0), 2.108185, 1.750749e-2),
]


@pytest.mark.parametrize(("R", "S", "beta", "fails"), BETA)
def test_normal_strength_and_load_fail_as_the_reliability_index_says(R, S, beta, fails) -> None:
    """beta = (mR - mS) / sqrt(sR^2 + sS^2), Pf = Phi(-beta); the own parts reach far enough into the tail."""
    samples = 4_000_000
    z = own_normals(generator(3), 2, samples)
    part = np.mean(R[0] + R[1] * z[0] < S[0] + S[1] * z[1])
    assert (R[0] - S[0]) / math.hypot(R[1], S[1]) == pytest.approx(beta, rel=1e-6)
    assert N01.cdf(-beta) == pytest.approx(fails, rel=1e-5)
    assert part == pytest.approx(fails, abs=slack(fails, samples))


def test_the_common_parts_are_correlated_as_the_model_code_has_it() -> None:
    """JCSS Probabilistic Model Code, part 3, timber: R_t,0, R_c,0, E_m, density and R_v."""
    z = dict(zip(PROPERTIES, common_parts(generator(5), MANY), strict=True))
    table = [
        ("tension", "compression", 0.5),
        ("modulus", "tension", 0.6),
        ("modulus", "compression", 0.6),
        ("modulus", "density", 0.6),
        ("modulus", "shear", 0.4),
        ("density", "tension", 0.4),
        ("density", "compression", 0.8),
        ("density", "shear", 0.6),
        ("tension", "shear", 0.6),
        ("compression", "shear", 0.4),
    ]
    for one, two, expected in table:
        error = 4 * (1 - expected**2) / math.sqrt(MANY)
        assert np.corrcoef(z[one], z[two])[0, 1] == pytest.approx(expected, abs=error)


@pytest.mark.parametrize(("data", "start"), [(b"", 0xE3B0C44298FC1C14), (b"abc", 0xBA7816BF8F01CFEA)])
def test_the_seed_is_the_start_of_the_sha_256_of_the_file(data: bytes, start: int) -> None:
    """FIPS 180-4 example values."""
    assert seed(data) == start
