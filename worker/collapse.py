"""Collapse: brittle members fail in turn, and the truss is solved again without them.

The load is dead load: it only ever grows, and it does not let go while a member breaks.  A member
that fails carries nothing from then on.  After each failure the remaining truss is solved afresh
(linear statics from the unloaded shape) and has a failure load of its own, the load of that stage:

- above the load already there: the bridge holds until the load has grown to it;
- at or below the load already there: the next members fail at once, and the collapse runs on by itself.

So the peak load is the largest of the loads of all stages.  It ends when what is left is a mechanism.

Three bars, by hand.  A load P hangs from one joint by a bar of length L straight up and one at an
angle b on either side; the middle bar has k times the section of the others, whose tensile capacity
is T.  The middle bar takes N = k P / (k + 2 cos^3 b), the others N cos^2 b / k each (S. P. Timoshenko,
Strength of Materials, part I, statically indeterminate bars, from memory: with k = 1, N = P / (1 + 2 cos^3 b)).
It is strained most, so it fails first, at P1 = T (k + 2 cos^3 b).  Then the others carry
P / (2 cos b) each, until P2 = 2 T cos b.

    k = 1,   b = 45 degrees: P1 = 1.7071 T, P2 = 1.4142 T: all go at once; the truss keeps 0.8284
    k = 1/3, b = 30 degrees: P1 = 1.6324 T, P2 = 1.7321 T: it carries on, to 1.0611 times P1

Limits: the swing after a sudden release is not counted, nor is buckling of the whole; wood that crushes
is tougher than this.  What is left counts as fallen as soon as any part of it can move, even where
this load would not move it.  No settlements and no misfits, so that forces grow with the load; self-weight
is there before it, and that of a broken member stays on its joints.  A load that travels stays where ``truss``
has it.  The most loaded side truss is followed; no load moves from it to the others.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import accumulate
from typing import Literal

from rubric.brief import Brief
from rubric.messages.outcomes import Mode
from worker import statics
from worker.demand import standing_still
from worker.strength.bridge import TIE, Check, strength
from worker.strength.wood import Wood
from worker.truss.model import Truss

Ends = Literal["mechanism", "unloaded"]

ALREADY = 1e-9
"""Relative: a stage this near to the load already there fails at once."""


@dataclass(frozen=True)
class CollapseStep:
    """One stage: what fails, how, and when.

    members: those that fail together, in the order of the file (utilisations within 1e-9 of each other)
    modes:   how each of them fails
    load_N:  failure load of the whole bridge without the members of the stages before
    at_N:    the load then standing on the bridge, N: the largest ``load_N`` so far
    at_once: whether it fails without any more load
    """

    members: tuple[str, ...]
    modes: tuple[Mode, ...]
    load_N: float
    at_N: float
    at_once: bool


@dataclass(frozen=True)
class Collapse:
    """The sequence of failures under a growing dead load.

    peak_load_N:      most that the bridge carries, N; None where nothing fails
    kept_after_first: largest failure load of the stages after the first over that of the first:
                      0 for a determinate truss, and above 1 where the bridge carries on
    ends:             ``mechanism``: what is left cannot hold the load; ``unloaded``: no member carries anything
    """

    steps: tuple[CollapseStep, ...]
    peak_load_N: float | None
    kept_after_first: float
    ends: Ends


def collapse(truss: Truss, brief: Brief, wood: Wood) -> Collapse:
    """Let the members of a side truss fail in turn under a growing load.

    ``truss`` carries the sections and one side's share of the target load.  Members within 1e-9 of the
    fullest one fail together, so that neither their order nor their names change the answer; no
    real pair is so much alike.  A mechanism from the start has no steps.  At most as many stages as members.
    """
    if statics.mechanisms_of(truss):
        return Collapse((), None, 0.0, "mechanism")
    stages = list(_stages(truss, brief, wood))
    if not stages:
        return Collapse((), None, 0.0, "unloaded")
    loads_N = [load_N for _, load_N in stages]
    standing_N = list(accumulate(loads_N, max))
    steps = [
        _step(failing, load_N, at_N, before_N)
        for (failing, load_N), at_N, before_N in zip(stages, standing_N, [0.0, *standing_N], strict=False)
    ]
    return Collapse(
        tuple(steps), standing_N[-1], max(loads_N[1:], default=0.0) / loads_N[0] if loads_N[0] else 0.0, "mechanism"
    )


def _stages(truss: Truss, brief: Brief, wood: Wood) -> Iterator[tuple[list[Check], float]]:
    """The checks of the members that fail in each stage, and the failure load of the whole bridge, N."""
    while not statics.mechanisms_of(truss):
        solution = statics.solve(truss)
        found = strength(truss, standing_still(truss, solution, brief), brief, wood)
        if found.first is None or found.failure_load_N is None:
            return
        most = found.first.load_factor * (1 + TIE)
        failing = [check for check in found.checks if check.load_factor <= most]
        yield failing, found.failure_load_N
        if not solution.degree:
            return  # nothing else can carry what these carried
        truss = _without(truss, {check.member.name for check in failing})


def _step(failing: list[Check], load_N: float, at_N: float, before_N: float) -> CollapseStep:
    return CollapseStep(
        members=tuple(check.member.name for check in failing),
        modes=tuple(check.mode for check in failing),
        load_N=load_N,
        at_N=at_N,
        at_once=load_N <= before_N * (1 + ALREADY),
    )


def _without(truss: Truss, names: set[str]) -> Truss:
    """The truss without some members, and without what then hangs loose.

    A joint without load that keeps no member, or one and no support, holds nothing up; it would
    only count as a mechanism.
    """
    members = tuple(member for member in truss.members if member.name not in names)
    ends = Counter(joint for member in members for joint in (member.start, member.end))
    needed = {
        name
        for name in truss.joints
        if ends[name] > 1 or name in truss.loads or (ends[name] and name in truss.supports)
    }
    left = replace(
        truss,
        members=members,
        joints={name: at for name, at in truss.joints.items() if name in needed},
        supports={name: support for name, support in truss.supports.items() if name in needed},
        permanent={name: load for name, load in truss.permanent.items() if name in needed},
    )
    dangling = {member.name for member in members if not {member.start, member.end} <= needed}
    return _without(left, dangling) if dangling else left
