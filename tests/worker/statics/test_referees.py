"""More than a thousand generated trusses, with those judged by PyNite alone: the disagreement is nothing but rounding."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from tests import opensees, pynite
from tests.trusses import MODULUS_MPA, two_bar
from tests.worker.statics.referees import KINDS, Gap, Row, gap, row, space_redundant, table
from worker.statics import solve

WIDEST = {"near-critical": 1e-6, "long and thin": 1e-7}
"""A stiffness matrix squares the condition of the truss, so OpenSees itself is this far off there."""


@pytest.fixture(scope="module")
def rows() -> dict[str, Row]:
    return {kind: row(kind) for kind in KINDS}


@pytest.mark.parametrize("kind", KINDS)
def test_the_answers_lie_no_farther_apart_than_rounding(rows: dict[str, Row], kind: str) -> None:
    widest = rows[kind].widest
    assert max(widest.forces, widest.reactions, widest.displacements) < WIDEST.get(kind, 1e-11), table(rows.values())


def test_the_trusses_are_of_every_kind_and_size(rows: dict[str, Row]) -> None:
    assert sum(r.trusses for r in rows.values()) + 320 >= 1200
    assert sum(r.redundant for r in rows.values()) >= 400
    assert (min(r.joints[0] for r in rows.values()), max(r.joints[1] for r in rows.values())) == (3, 150)
    assert rows["near-critical"].condition > 1e4


def test_a_wrong_stiffness_would_show_in_the_gap(monkeypatch: pytest.MonkeyPatch) -> None:
    truss = space_redundant(3)
    first, *rest = truss.members
    wrong = replace(truss, members=(replace(first, modulus_MPa=1.01 * MODULUS_MPA), *rest))
    theirs = opensees.truss_model(wrong)
    monkeypatch.setattr(opensees, "truss_model", lambda _: theirs)
    assert gap(truss).displacements > 1e-5


def test_the_table_has_a_line_for_each_kind() -> None:
    found = table([Row("flat", 3, 1, (3, 150), 1234.0, Gap(1e-13, 2e-13, 3e-13))])
    assert found.splitlines()[1].split() == "flat 3 1 3 to 150 1e+03 1e-13 2e-13 3e-13".split()


@pytest.mark.parametrize("seed", range(24))
def test_pynite_agrees_on_space_trusses(seed: int) -> None:
    truss = replace(space_redundant(seed), misfits={})
    frame, solution = pynite.analysed(truss), solve(truss)
    assert solution.displacements is not None
    forces = {name: pynite.force(frame, name) for name in solution.forces}
    assert solution.forces == pytest.approx(forces, abs=1e-6 * max(map(abs, forces.values())), rel=0)
    moved = {joint: pynite.displacement_in_space(frame, joint) for joint in solution.displacements}
    furthest = max(math.hypot(*v) for v in moved.values())
    for joint, movement in solution.displacements.items():
        assert movement == pytest.approx(moved[joint], abs=1e-6 * furthest, rel=0)


def test_opensees_takes_a_member_too_long_as_we_do() -> None:
    truss = replace(two_bar(), misfits={"a-b": 1.5, "b-c": 1.5}, loads={})
    assert gap(truss).displacements < 1e-12
    moved = solve(truss).displacements
    assert moved is not None
    assert moved["b"][1] == pytest.approx(1.5 / 0.8)
