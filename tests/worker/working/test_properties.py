"""What holds of every answer sheet: names do not matter, right is right, one slip costs one answer."""

from __future__ import annotations

import random
from collections.abc import Mapping
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests import trusses
from tests.worker.working.test_answer_sheets import criterion
from worker.statics import solve
from worker.truss.model import Truss, Working, Written
from worker.working import compare
from worker.working.balance import MIRROR, equations, reaction_names

SEEDS = st.integers(0, 10_000)
FIGURES = 5


def written(force_N: float) -> Written:
    """As somebody writes a force down who keeps five figures."""
    text = f"{abs(force_N):.{FIGURES - 1}e}"
    size, sense = float(text), float(np.sign(force_N))
    return Written(f"{size} N", sense * size, sense, FIGURES, 10.0 ** (int(text[-3:]) - FIGURES + 1))


def with_working(truss: Truss, forces: Mapping[str, float], reactions: Mapping[str, float]) -> Truss:
    return replace(
        truss,
        working=Working(
            {name: written(force) for name, force in reactions.items()},
            {name: written(force) for name, force in forces.items()},
        ),
    )


def reactions_of(truss: Truss) -> dict[str, float]:
    found = solve(truss).reactions
    return {name: found[joint][axis] for name, (joint, axis) in reaction_names(truss).items()}


def worked_out(truss: Truss, slip: str, factor: float) -> dict[str, float]:
    """Forces by the method of joints, the last joint first, with one slip that all later joints carry on."""
    forces: dict[str, float] = {}
    for joint in reversed(list(truss.joints)):
        here = [m for m in truss.members if joint in (m.start, m.end)]
        away = {m.name: trusses_away(truss, joint, m.end if joint == m.start else m.start) for m in here}
        unknown = [name for name in away if name not in forces]
        push = np.array(truss.loads.get(joint, (0.0, 0.0)), dtype=float)
        push += np.array(solve(truss).reactions.get(joint, (0.0, 0.0)))
        push += sum((forces[name] * away[name] for name in away if name in forces), np.zeros(2))
        columns = np.array([away[name] for name in unknown]).reshape(-1, 2).T
        if len(unknown) == 1:  # one equation is enough, and nobody looks whether the other holds
            way = int(np.argmax(abs(columns[:, 0])))
            columns, push = columns[way : way + 1], push[way : way + 1]
        found = np.linalg.solve(columns, -push) if unknown else []
        forces |= dict(zip(unknown, map(float, found), strict=True))
        if slip in unknown:
            forces[slip] *= factor
    return forces


def trusses_away(truss: Truss, joint: str, other: str) -> np.ndarray:
    span = np.subtract(truss.joints[other], truss.joints[joint])
    return span / np.linalg.norm(span)


def verdicts(truss: Truss) -> dict[str, str]:
    return {answer.name: answer.verdict for answer in compare(truss, solve(truss), criterion())}


@settings(max_examples=60, deadline=None)
@given(SEEDS)
def test_a_fully_right_sheet_is_all_right(seed: int) -> None:
    truss = trusses.triangulated(seed)
    right = with_working(truss, solve(truss).forces, reactions_of(truss))
    assert set(verdicts(right).values()) == {"right"}


def one_slip(seed: int, factor: float = 1.3) -> tuple[Truss, str]:
    """A truss with a sheet that holds one slip carried on, and its name; joints of the first triangle close it."""
    truss = trusses.triangulated(seed)
    inner = [m.name for m in truss.members if not {m.start, m.end} <= {"j0", "j1", "j2"}]
    slip = random.Random(seed).choice(inner)
    return with_working(truss, worked_out(truss, slip, factor), reactions_of(truss)), slip


def lost(truss: Truss) -> int:
    return sum(verdict not in ("right", "follows") for verdict in verdicts(truss).values())


@settings(max_examples=60, deadline=None)
@given(SEEDS)
def test_other_names_leave_every_verdict_as_it_is(seed: int) -> None:
    truss, _ = one_slip(seed)
    names = {name: f"joint{len(truss.joints) - index}" for index, name in enumerate(truss.joints)}
    again = renamed(truss, names)
    assert list(verdicts(again).values()) == list(verdicts(truss).values())


def renamed(truss: Truss, names: Mapping[str, str]) -> Truss:
    """Other names for the joints in the order of the file; members and working named after them."""
    assert truss.working is not None
    called = {m.name: f"{names[m.start]}-{names[m.end]}" for m in truss.members}
    working = truss.working
    return replace(
        truss,
        joints={names[name]: at for name, at in truss.joints.items()},
        members=tuple(replace(m, name=called[m.name], start=names[m.start], end=names[m.end]) for m in truss.members),
        supports={names[name]: support for name, support in truss.supports.items()},
        loads={names[name]: load for name, load in truss.loads.items()},
        working=Working(
            {f"{names[name.split()[0]]} {name[-1]}": force for name, force in working.reactions.items()},
            {called[name]: force for name, force in working.forces.items()},
        ),
    )


@settings(max_examples=60, deadline=None)
@given(SEEDS)
def test_another_order_of_the_file_costs_no_more_and_no_less(seed: int) -> None:
    truss, _ = one_slip(seed)
    order = random.Random(seed)
    again = replace(
        truss,
        joints=dict(order.sample(sorted(truss.joints.items()), len(truss.joints))),
        members=tuple(order.sample(truss.members, len(truss.members))),
    )
    assert lost(again) == lost(truss)


@settings(max_examples=120, deadline=None)
@given(SEEDS, st.sampled_from([-1.0, 0.6, 1.3, 1.7]))
def test_one_slip_carried_on_faithfully_costs_that_one_answer(seed: int, factor: float) -> None:
    truss, slip = one_slip(seed, factor)
    assert lost(truss) == 1 or (lost(truss) == 0 and abs(solve(truss).forces[slip]) < 1)


@settings(max_examples=40, deadline=None)
@given(SEEDS, st.floats(1.1, 3.0))
def test_one_wrong_answer_among_right_ones_is_never_said_to_follow(seed: int, factor: float) -> None:
    truss = trusses.triangulated(seed)
    forces = dict(solve(truss).forces)
    wrong = max(forces, key=lambda name: abs(forces[name]))
    found = verdicts(with_working(truss, forces | {wrong: forces[wrong] * factor}, reactions_of(truss)))
    assert found.pop(wrong) in ("sense", "unit", "rounded")
    assert set(found.values()) == {"right"}


@pytest.mark.parametrize("make", [trusses.warren, trusses.pratt])
def test_a_mechanism_has_no_answers(make) -> None:
    truss = make()
    moving = replace(truss, members=truss.members[1:], working=Working())
    assert compare(moving, solve(moving), criterion()) == ()


def test_a_truss_alike_on_both_sides_is_seen_as_such_and_one_that_is_not_is_not() -> None:
    def mirrored(truss: Truss) -> int:
        return sum(equation.where == MIRROR for equation in equations(truss, solve(truss)))

    even = trusses.pratt(6, panel=0.1, depth=0.12)  # joints at 0.30000000000000004 and the like
    moved = replace(even, joints=even.joints | {"t1": (0.11, 0.12)})
    loaded = replace(even, loads=even.loads | {"b1": (0.0, -11.0)})
    assert mirrored(even) == 11  # 21 members, of which the middle post is its own image, and one pair of reactions
    assert mirrored(moved) == mirrored(loaded) == 0


def test_rounding_noise_of_a_solution_makes_no_zero_member_carry_a_force() -> None:
    truss = trusses.pratt()
    solution = solve(truss)
    noisy = replace(solution, forces={name: force + 1e-11 for name, force in solution.forces.items()})
    right = with_working(truss, solution.forces, reactions_of(truss))
    assert {answer.verdict for answer in compare(right, noisy, criterion())} == {"right"}


def test_g_is_known_as_a_slip_of_units_even_to_a_strict_teacher() -> None:
    truss = trusses.two_bar()
    by_g = {name: force / 9.81 for name, force in solve(truss).forces.items()}
    found = compare(with_working(truss, by_g, reactions_of(truss)), solve(truss), criterion(within="0 %"))
    assert next(answer.verdict for answer in found if answer.about == "force") == "unit"
