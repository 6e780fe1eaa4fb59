"""Worked trusses from outside the project; trusses.json names the source of each beside its values."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from worker.statics import solve
from worker.statics.equilibrium import equilibrium_matrix, rigidity
from worker.statics.structure import Structure
from worker.truss.model import Member, Support, Truss

Case = dict[str, Any]
CASES: list[Case] = json.loads(Path(__file__).with_name("trusses.json").read_text())
STABLE = [case for case in CASES if "unstable" not in case["expect"]]
UNSTABLE = [case for case in CASES if "unstable" in case["expect"]]

# Newtons and millimetres in each case's units; 1 lbf and 1 in as in NIST SP 811, appendix B.8.
UNITS = {
    "kN,m": (1e3, 1e3),
    "N,m": (1.0, 1e3),
    "lb,in": (4.4482216152605, 25.4),
    "kip,in": (4448.2216152605, 25.4),
    "-": (1.0, 1.0),
}


def truss_of(case: Case) -> Truss:
    """The case in N and mm; areas and moduli follow from its units."""
    newtons, mm = UNITS[case["units"]]
    axes = ((1.0, 0.0), (0.0, 1.0))
    return Truss(
        joints={name: (x * mm, y * mm) for name, (x, y) in case["joints"].items()},
        members=tuple(
            Member(f"{a}-{b}", a, b, area_mm2=area * mm**2, modulus_MPa=modulus * newtons / mm**2)
            for a, b, area, modulus in case["members"]
        ),
        supports={
            name: Support("", tuple(axis for axis, held in zip(axes, flags, strict=True) if held))
            for name, flags in case["supports"].items()
        },
        loads={name: (x * newtons, y * newtons) for name, (x, y) in case["loads"].items()},
    )


def components(expected: Any, got: Any, unit: float) -> Iterator[tuple[float, float]]:
    """(expected, found) in the case's units, a pair for each published number."""
    for name, value in expected.items():
        if isinstance(value, list):
            pairs = zip(value, got[name], strict=True)
            yield from ((wanted, found / unit) for wanted, found in pairs if wanted is not None)
        else:
            yield value, got[name] / unit


@pytest.mark.parametrize(
    ("case", "kind"),
    [
        pytest.param(case, kind, id=f"{case['name']}: {kind}")
        for case in STABLE
        for kind in ("forces", "reactions", "displacements")
        if kind in case["expect"]
    ],
)
def test_the_published_numbers_come_out(case: Case, kind: str) -> None:
    newtons, mm = UNITS[case["units"]]
    solution = solve(truss_of(case))
    unit = mm if kind == "displacements" else newtons
    pairs = list(components(case["expect"][kind], getattr(solution, kind), unit))
    # Where only members without force are published, the scale is the largest force found.
    largest = max(abs(wanted) for wanted, _ in pairs) or max(map(abs, solution.forces.values())) / newtons
    assert all(abs(found - wanted) <= case["tolerance"] * largest for wanted, found in pairs)


def test_every_stable_case_publishes_something_to_compare() -> None:
    assert len(STABLE) == 10
    assert all(case["expect"]["forces"] and case["expect"]["reactions"] for case in STABLE)
    assert sum("displacements" in case["expect"] for case in STABLE) == 3


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["name"])
def test_the_published_counts_come_out(case: Case) -> None:
    """There ``dof`` counts every joint movement, but ``rank`` is of the rows that no support holds.

    The matrix here keeps those rows, and has a column for each held direction: its rank is r higher.
    """
    counts = case["counts"]
    structure = Structure.of(truss_of(case))
    E = equilibrium_matrix(structure)
    found = rigidity(E)
    assert E.shape == (counts["dof"], counts["m"] + counts["r"])
    assert found.rank == counts["rank"] + counts["r"]
    assert (found.mechanisms, found.self_stress) == (counts["mechanisms"], counts["self_stress"])


@pytest.mark.parametrize("case", UNSTABLE, ids=lambda case: case["name"])
def test_a_published_mechanism_is_found_and_not_solved(case: Case) -> None:
    solution = solve(truss_of(case))
    assert solution.state == "mechanism"
    assert solution.mechanisms == case["counts"]["mechanisms"]
    assert (solution.forces, solution.reactions, solution.displacements) == ({}, {}, None)
