"""Buckling of a straight, pin-ended strut by three column curves.

All three take a modulus E and a crushing strength fc in MPa and a slenderness l = K L / r, a pure
number, and give the mean stress in MPa at which the strut fails; none gives more than fc.

Which E and fc go in is the caller's choice, and the curve holds for that level: mean values give the
mean failure stress, 5 % values (E0.05 and fc,0,k in EN 1995-1-1) a stress that 95 % of struts reach.
E'min of the NDS also holds a safety factor of 1.66 (its Appendix D), which has no place in a failure
load; a brief that wants it gives it as its column modulus.

Limits: straight, concentric, uniform struts that buckle by bending; thin walls that wrinkle and open
sections that twist are not checked.  A glued stick is none of these exactly, so the real strut fails
somewhat earlier than by Euler and Johnson (common practice); the other two curves were fitted to
timber with its usual crookedness.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from rubric.brief import ColumnCurve

SAWN = 0.8
"""c of the NDS for sawn lumber, 3.7.1.5."""

SOLID_TIMBER = 0.2
"""beta_c of EN 1995-1-1 for solid timber, eq. 6.29."""

STOCKY = 0.3
"""Relative slenderness up to which EN 1995-1-1, 6.3.2(2), sees no buckling."""


def euler_N(modulus_MPa: float, second_moment_mm4: float, effective_length_mm: float) -> float:
    """Euler's buckling force, N: pi^2 E I / (K L)^2."""
    return math.pi**2 * modulus_MPa * second_moment_mm4 / effective_length_mm**2


def johnson_stress_MPa(modulus_MPa: float, compression_MPa: float, slenderness: float) -> float:
    """Johnson's buckling stress, MPa: fc (1 - fc l^2 / (4 pi^2 E))."""
    return compression_MPa * (1 - compression_MPa * slenderness**2 / (4 * math.pi**2 * modulus_MPa))


def transition_slenderness(modulus_MPa: float, compression_MPa: float) -> float:
    """Where the two curves meet: pi sqrt(2 E / fc)."""
    return math.pi * math.sqrt(2 * modulus_MPa / compression_MPa)


def buckling_stress_MPa(modulus_MPa: float, compression_MPa: float, slenderness: float) -> float:
    """Euler's curve for slender struts, Johnson's parabola for the rest, MPa.

    Sources: Euler; J. B. Johnson's parabola, which meets Euler's hyperbola with the same slope at
    half the crushing stress (both in any machine-design text).
    """
    if slenderness >= transition_slenderness(modulus_MPa, compression_MPa):
        return math.pi**2 * modulus_MPa / slenderness**2
    return johnson_stress_MPa(modulus_MPa, compression_MPa, slenderness)


def relative_slenderness(modulus_MPa: float, compression_MPa: float, slenderness: float) -> float:
    """EN 1995-1-1, eq. 6.21 and 6.22: (l / pi) sqrt(fc / E)."""
    return slenderness / math.pi * math.sqrt(compression_MPa / modulus_MPa)


def instability_factor(relative: float, straightness: float = SOLID_TIMBER) -> float:
    """EN 1995-1-1, eq. 6.25 to 6.29: kc = 1 / (k + sqrt(k^2 - lrel^2)), k = (1 + bc (lrel - 0.3) + lrel^2) / 2."""
    if relative <= STOCKY:
        return 1.0
    k = 0.5 * (1 + straightness * (relative - STOCKY) + relative**2)
    return 1 / (k + math.sqrt(k**2 - relative**2))


def en_1995_stress_MPa(modulus_MPa: float, compression_MPa: float, slenderness: float) -> float:
    """EN 1995-1-1, 6.3.2, solid timber: kc fc, MPa."""
    return instability_factor(relative_slenderness(modulus_MPa, compression_MPa, slenderness)) * compression_MPa


def column_stability_factor(ratio: float, c: float = SAWN) -> float:
    """NDS 2018, eq. 3.7-1, of a = FcE / Fc*: C_P = (1 + a) / 2c - sqrt(((1 + a) / 2c)^2 - a / c).

    Written as the smaller root of c x^2 - (1 + a) x + a = 0, which loses no figures where a is small.
    """
    half = (1 + ratio) / (2 * c)
    return ratio / c / (half + math.sqrt(half**2 - ratio / c))


def nds_stress_MPa(modulus_MPa: float, compression_MPa: float, slenderness: float) -> float:
    """NDS 2018, 3.7.1, sawn lumber: C_P Fc*, MPa, with FcE = 0.822 E / (le / d)^2.

    For other shapes than a rectangle r sqrt(12) stands for d (common practice; for a round it stays
    2 % under the square of the same area that 3.7.3 asks for).  The limit le / d <= 50 of 3.7.1.4 is
    checked with the brief's limits.
    """
    critical_MPa = 0.822 * modulus_MPa / le_over_d(slenderness) ** 2
    return column_stability_factor(critical_MPa / compression_MPa) * compression_MPa


def le_over_d(slenderness: float) -> float:
    """Effective length over the depth of a rectangle: l / sqrt(12), because r = d / sqrt(12)."""
    return slenderness / math.sqrt(12)


CURVES: dict[ColumnCurve, Callable[[float, float, float], float]] = {
    "Euler and Johnson": buckling_stress_MPa,
    "EN 1995-1-1": en_1995_stress_MPa,
    "NDS": nds_stress_MPa,
}
"""Stress, MPa, of modulus MPa, crushing strength MPa and slenderness, by the brief's word for the curve."""
