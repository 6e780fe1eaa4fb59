"""The wood of a brief: its own values where it gives them, published means or laws elsewhere."""

from __future__ import annotations

from dataclasses import dataclass, fields
from functools import lru_cache

from rubric.brief import Wood as Given
from rubric.woods import WOODS
from worker.strength.density import by_density
from worker.strength.scatter import Scatter, at_fractile


@dataclass(frozen=True)
class Wood:
    """Values along the grain, kg/m3 and MPa, at the level that the brief asks for.

    Density and modulus are always means: mass and deflection are judged by what is likely.
    ``column_modulus_MPa`` is the modulus for the column curve: the brief's own, else E at the same
    level as the strengths, so that the curve sees a strut of one quality.  ``bending_MPa`` is the brief's own,
    else the tensile strength, for which the tables give the bending strength anyway.
    """

    density_kg_m3: float
    modulus_MPa: float
    tension_MPa: float
    compression_MPa: float
    shear_MPa: float
    column_modulus_MPa: float
    bending_MPa: float


@lru_cache(maxsize=64)
def wood(given: Given) -> Wood:
    """The values to compute with.

    What the brief gives counts, as a mean.  The rest is the published mean of the material, or with
    'strengths: by density' follows the density.  Without that, a brief that gives a density but no
    strengths keeps the published strengths: the mass follows the density, the strengths do not.
    """
    spread, mean = scatter(given), {name: _mean(given, name) for name in _NAMES}
    column, bending = given.column_modulus_MPa, given.bending_MPa or mean["tension_MPa"]
    return Wood(
        density_kg_m3=mean["density_kg_m3"],
        modulus_MPa=mean["modulus_MPa"],
        tension_MPa=at_level(given, mean["tension_MPa"], spread.tension),
        compression_MPa=at_level(given, mean["compression_MPa"], spread.compression),
        shear_MPa=at_level(given, mean["shear_MPa"], spread.shear),
        column_modulus_MPa=column if column is not None else at_level(given, mean["modulus_MPa"], spread.modulus),
        bending_MPa=at_level(given, bending, spread.tension),
    )


_NAMES = ("density_kg_m3", "modulus_MPa", "tension_MPa", "compression_MPa", "shear_MPa")


def _mean(given: Given, name: str) -> float:
    own = getattr(given, name)
    if own is not None:
        return float(own)
    known = WOODS.get(given.material)
    if given.strengths == "table" or name == "density_kg_m3":
        return float(getattr(known, name))
    law = by_density(known.kind if known else None, _mean(given, "density_kg_m3"))
    return float(getattr(law, name))


@lru_cache(maxsize=64)
def scatter(given: Given) -> Scatter:
    """The scatter of the brief's wood: its own values, else the published ones."""
    own = {field.name: getattr(given.scatter, field.name) for field in fields(Scatter)}
    return Scatter(**{name: value for name, value in own.items() if value is not None})


def at_level(given: Given, mean: float, cov: float) -> float:
    """A mean at the level that the brief asks for: as it is, or its lower fractile."""
    if given.fractile is None:
        return mean
    return at_fractile(mean, cov, given.fractile, given.scatter.distribution)
