"""Against plain sampling: loops, another generator, NumPy's own correlated normals, and the scalar strength functions."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import replace

import numpy as np
import pytest

from rubric.brief import Brief
from tests.bridges import brief, filled, lath, three_bars
from tests.trusses import warren
from worker import statics
from worker.chance import FailureLoads, failure_loads
from worker.chance.likeness import PROPERTIES, WITHIN_A_STICK
from worker.strength.bridge import check
from worker.strength.scatter import Scatter
from worker.truss.model import Truss

BETWEEN = 0.5
SCATTER = Scatter()


def plain_factors(rng: np.random.Generator, sticks: int, bridges: int) -> Iterator[list[dict[str, float]]]:
    """Value over mean of every property of so many sticks, bridge by bridge."""
    both = np.kron(np.full((sticks, sticks), BETWEEN) + (1 - BETWEEN) * np.eye(sticks), WITHIN_A_STICK)
    spread = {name: math.sqrt(math.log1p(getattr(SCATTER, name) ** 2)) for name in PROPERTIES}
    for z in rng.multivariate_normal(np.zeros(len(both)), both, size=bridges, method="cholesky"):
        rows = z.reshape(sticks, -1)
        yield [{name: math.exp(s * row[p] - s**2 / 2) for p, (name, s) in enumerate(spread.items())} for row in rows]


def scattered(given: Brief, f: dict[str, float]):
    """The brief's glue and wood with the values of one stick."""
    w, glue = lath(given), given.glue
    if glue is not None:
        given = given.model_copy(
            update={"glue": glue.model_copy(update={"strength_MPa": glue.strength_MPa * f["glue"]})}
        )
    sampled = replace(
        w,
        tension_MPa=w.tension_MPa * f["tension"],
        compression_MPa=w.compression_MPa * f["compression"],
        shear_MPa=w.shear_MPa * f["shear"],
        modulus_MPa=w.modulus_MPa * f["modulus"],
        column_modulus_MPa=w.column_modulus_MPa * f["modulus"],
    )
    return given, sampled


def forces_of(truss: Truss, own: list[dict[str, float]]) -> Mapping[str, float]:
    """Member forces with each stick's own modulus."""
    both = zip(truss.members, own, strict=True)
    return statics.solve(
        replace(truss, members=tuple(replace(m, modulus_MPa=m.modulus_MPa * f["modulus"]) for m, f in both))
    ).forces


def plain(truss: Truss, given: Brief, bridges: int, seed: int) -> list[tuple[float, str]]:
    """Failure load and the member that fails first, bridge by bridge, member by member."""
    mean, count, found = statics.solve(truss), len(truss.members), []
    for each in plain_factors(np.random.default_rng(seed), given.sides * count, bridges):
        worst = (0.0, "")
        for side in range(given.sides):
            own = each[side * count : (side + 1) * count]
            forces = forces_of(truss, own) if mean.degree else mean.forces
            share = 1.0 if side == 0 else (1 - given.side_share) / (given.sides - 1) / given.side_share
            for m, f in zip(truss.members, own, strict=True):
                used = check(truss, m, share * forces[m.name], *scattered(given, f)).utilisation
                worst = max(worst, (used, m.name))
        found.append((given.load.target_N / worst[0], worst[1]))
    return found


def agree(ours: FailureLoads, theirs: list[tuple[float, str]], target_N: float) -> None:
    """Each of our quantiles cuts theirs, and each of our shares matches theirs, within four standard errors."""
    loads, n = np.array([load for load, _ in theirs]), len(theirs)
    parts = [(0.1, np.mean(loads <= ours.low_N)), (0.5, np.mean(loads <= ours.median_N))]
    parts += [(0.9, np.mean(loads <= ours.high_N)), (ours.chance, np.mean(loads >= target_N))]
    parts += [(part, np.mean([name == who for _, who in theirs])) for name, part in ours.fails_first.items()]
    for part, plain_part in parts:
        assert plain_part == pytest.approx(part, abs=4 * math.sqrt(max(part * (1 - part), 1 / n) / n))


@pytest.mark.parametrize("curve", ["Euler and Johnson", "EN 1995-1-1", "NDS"])
def test_a_girder_of_two_sides_unevenly_loaded(curve: str) -> None:
    """Struts of middling slenderness and joints near their limit, so that every way of failing counts."""
    given = brief({"bar": (6.0, 4.0)}, 300.0, sides=2, glue=(2.2, 20.0), share=0.55, **{"column curve": curve})
    girder = warren(3, panel=60.0, depth=50.0, load=1 / 2)
    truss = filled(replace(girder, members=tuple(replace(m, stick="bar") for m in girder.members)), given)
    ours = failure_loads(truss, statics.solve(truss), given, SCATTER, 5, 40_000, BETWEEN)
    assert ours is not None
    assert len(ours.fails_first) > 5
    agree(ours, plain(truss, given, 1500, seed=9), given.load.target_N)


def test_a_redundant_truss_whose_forces_follow_its_stiffness() -> None:
    given = brief({"bar": (5.0, 2.0), "thin": (5.0, 1.5)}, 300.0)
    truss = filled(three_bars(40.0, "thin", "bar"), given)
    ours = failure_loads(truss, statics.solve(truss), given, SCATTER, 5, 40_000, BETWEEN)
    assert ours is not None
    assert set(ours.fails_first) == {"left", "middle", "right"}
    agree(ours, plain(truss, given, 1500, seed=9), given.load.target_N)
