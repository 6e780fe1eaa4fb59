"""The answer sheet: everything that is to be worked out of a truss, in an order in which it can be."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from worker.statics import Solution
from worker.truss.model import Truss, Working, Written
from worker.working.balance import Equation, reaction_names

NOTHING = 1e-9
"""Part of the largest force: a smaller one is none."""


@dataclass(frozen=True)
class Entry:
    """One reaction or member force.

    name:   the member, or joint and direction: ``a x``, ``a y``
    joint:  where it can be worked out; nothing for a reaction
    true_N: what holds, exactly 0.0 where it is none
    """

    name: str
    joint: str
    true_N: float
    written: Written | None

    @property
    def is_reaction(self) -> bool:
        """Whether it is a support's; names of joints and members hold no space."""
        return " " in self.name

    @property
    def given_N(self) -> float | None:
        """What the student wrote, with its sign; None where nothing or T or C alone was written."""
        return self.written.force_N if self.written else None


def sheet(truss: Truss, solution: Solution, equations: Sequence[Equation]) -> tuple[Entry, ...]:
    """Reactions first, then members as the method of joints comes to them."""
    working = truss.working or Working()
    reactions = reaction_names(truss)
    true = {name: solution.reactions[joint][axis] for name, (joint, axis) in reactions.items()}
    true |= {name: 0.0 for name in working.reactions if name not in true}
    written = {**working.reactions, **_zeros(working), **working.forces}
    places = dict.fromkeys(true, "") | _in_order(truss, reactions, equations)
    true |= solution.forces
    least = NOTHING * max((abs(force) for force in true.values()), default=0.0)
    return tuple(
        Entry(name, joint, true[name] if abs(true[name]) > least else 0.0, written.get(name))
        for name, joint in places.items()
    )


def _zeros(working: Working) -> dict[str, Written]:
    """To name a zero member is to write 0 for it."""
    return {name: Written("0", 0.0, 0.0) for name in working.zeros or ()}


def _in_order(truss: Truss, reactions: Mapping[str, object], equations: Sequence[Equation]) -> dict[str, str]:
    """Members in the order of the method of joints, each with its joint; what it cannot reach comes last.

    A joint is taken when it can be worked out whole, the first of those; where there is none, whatever
    one equation gives, such as a zero member seen by inspection.
    """
    known: dict[str, str] = {}
    at: dict[str, list[tuple[Equation, set[str]]]] = {}
    for equation in equations:
        if equation.where in truss.joints:
            at.setdefault(equation.where, []).append((equation, equation.terms.keys() - reactions.keys()))
    names = {joint: set().union(*(names for _, names in here)) for joint, here in at.items()}
    left = list(at)
    while left:
        whole = (joint for joint in left if len(names[joint].difference(known)) <= 2)
        gained = next((joint for joint in whole if _work_out(at[joint], joint, known)), None)
        gained = gained or next((joint for joint in left if _work_out(at[joint], joint, known)), None)
        if gained is None:
            break
        left = [joint for joint in left if names[joint].difference(known)]
    return known | {m.name: m.start for m in truss.members if m.name not in known}


def _work_out(at: Sequence[tuple[Equation, set[str]]], joint: str, known: dict[str, str]) -> bool:
    """Add what the equations of a joint give one after another; whether that was anything."""
    before = len(known)
    for _ in range(2):
        for equation, names in at:
            missing = names.difference(known)
            if len(missing) == 1 and not (equation.without and equation.without <= known.keys()):
                known[missing.pop()] = joint
    return len(known) > before
