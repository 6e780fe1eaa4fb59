"""Buckling of a straight, pin-ended strut: Euler's curve for slender ones, Johnson's for the rest.

Sources: Euler, pi^2 E I / (K L)^2; J. B. Johnson's parabola, which meets Euler's hyperbola with
the same slope at half the crushing stress (both in any machine-design text).
Limits: straight, concentric, uniform struts.  A glued stick is none of these exactly, so the
real strut fails somewhat earlier (common practice).
"""

from __future__ import annotations

import math


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
    """Mean stress at which a strut of this slenderness buckles, MPa; never above crushing."""
    if slenderness >= transition_slenderness(modulus_MPa, compression_MPa):
        return math.pi**2 * modulus_MPa / slenderness**2
    return johnson_stress_MPa(modulus_MPa, compression_MPa, slenderness)
