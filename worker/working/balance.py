"""The equations by which forces are worked out by hand.

In: a plane truss and what is unknown of it.  Out: equations, each with its place: joint by joint
across, upward and at right angles to a member (which takes that member out); the truss as a whole,
with moments about its supports; and what a truss that is alike on both sides repeats.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from worker.statics import Solution
from worker.truss.model import Member, Truss, Vector

WHOLE = "whole"
"""The place of an equation that holds for the truss as a whole; joints are named by themselves."""
MIRROR = "mirror image"

FLAT = 1e-9
"""A direction cosine below this is nought."""
SHARP = 0.05
"""Part of the largest coefficient: an unknown with less cannot be told from the equation."""
ALIKE = 1e-6
"""Part of the largest force, or of the largest extent: nearer is the same."""


@dataclass(frozen=True, eq=False)
class Equation:
    """The sum of coefficient times force, and ``constant``, is nought.

    ``without`` are the members that the direction of resolving was chosen to take out: while every one
    of them is known there is no reason to resolve so.
    """

    where: str
    terms: Mapping[str, float]
    constant: float
    without: frozenset[str] = frozenset()
    moments: bool = False


@dataclass(frozen=True)
class Supposed:
    """What a student may have taken in place of what holds: loads by a factor, and angles to x by other ones.

    ``angles`` gives, by the slope of a member in degrees, the slope taken for it.
    """

    loads: float = 1.0
    angles: Mapping[float, float] = field(default_factory=dict)


AS_IT_IS = Supposed()


def slope_deg(truss: Truss, member: Member) -> float:
    """How steep a member is, 0 to 90, to 0.01 degrees: members of one slope share an angle on paper."""
    (x, y, *_), (p, q, *_) = truss.joints[member.start], truss.joints[member.end]
    return round(math.degrees(math.atan2(abs(q - y), abs(p - x))), 2)


def reaction_names(truss: Truss) -> dict[str, tuple[str, int]]:
    """``a x``, ``a y``: joint and axis of every component in which a support can hold."""
    return {
        f"{joint} {'xy'[axis]}": (joint, axis)
        for joint in truss.joints
        if joint in truss.supports
        for axis in (0, 1)
        if any(abs(held[axis]) > FLAT for held in truss.supports[joint].held)
    }


def equations(truss: Truss, solution: Solution, supposed: Supposed = AS_IT_IS) -> list[Equation]:
    """All of them, joint by joint as ``walk`` goes, then of the whole, then by symmetry."""
    reactions = reaction_names(truss)
    found = [equation for joint in walk(truss) for equation in _at_joint(truss, joint, reactions, supposed)]
    found += _of_supports(truss)
    found += _of_the_whole(truss, reactions, supposed)
    found += _mirrored(truss, solution, reactions)
    return found


def walk(truss: Truss) -> list[str]:
    """The joints outward from the first support, in the order in which members reach them."""
    beside: dict[str, list[str]] = {joint: [] for joint in truss.joints}
    for member in truss.members:
        beside[member.start].append(member.end)
        beside[member.end].append(member.start)
    place = {joint: index for index, joint in enumerate(truss.joints)}
    reached: dict[str, None] = {}
    for start in [*sorted(truss.supports, key=place.__getitem__), *truss.joints]:
        front = [] if start in reached else [start]
        while front:
            reached.update(dict.fromkeys(front))
            front = sorted({n for joint in front for n in beside[joint] if n not in reached}, key=place.__getitem__)
    return list(reached)


def _at_joint(
    truss: Truss, joint: str, reactions: Mapping[str, tuple[str, int]], supposed: Supposed
) -> Iterator[Equation]:
    pulls = {
        member.name: _away(truss, member, joint, supposed)
        for member in truss.members
        if joint in (member.start, member.end)
    }
    axes = ((1.0, 0.0), (0.0, 1.0))
    pushes = {name: axes[axis] for name, (at, axis) in reactions.items() if at == joint}
    load = truss.loads.get(joint, (0.0, 0.0))
    for way in axes:
        yield _resolved(joint, {**pulls, **pushes}, load, way, supposed.loads, frozenset())
    done = list(axes)
    for x, y in pulls.values():
        way = (-y, x)
        if all(abs(_dot((-q, p), way)) > FLAT for p, q in done):
            done.append(way)
            along = frozenset(name for name, pull in pulls.items() if abs(_dot(pull, way)) <= FLAT)
            yield _resolved(joint, {**pulls, **pushes}, load, way, supposed.loads, along)


def _away(truss: Truss, member: Member, joint: str, supposed: Supposed) -> Vector:
    """The direction in which a member in tension pulls the joint."""
    other = member.end if joint == member.start else member.start
    (x, y, *_), (p, q, *_) = truss.joints[joint], truss.joints[other]
    taken = supposed.angles.get(slope_deg(truss, member)) if supposed.angles else None
    if taken is not None:
        angle = math.radians(taken)
        return math.copysign(math.cos(angle), p - x), math.copysign(math.sin(angle), q - y)
    length = math.dist((x, y), (p, q))
    return (p - x) / length, (q - y) / length


def _resolved(
    where: str, forces: Mapping[str, Vector], load: Vector, way: Vector, factor: float, without: frozenset[str]
) -> Equation:
    parts = {name: _dot(force, way) for name, force in forces.items()}
    return Equation(where, _kept(parts), factor * _dot(load, way), without)


def _of_supports(truss: Truss) -> Iterator[Equation]:
    """A roller on a slope gives nothing along it, which ties its two components together."""
    for joint, support in truss.supports.items():
        if len(support.held) == 1:
            x, y = support.held[0][:2]
            if abs(x) > FLAT and abs(y) > FLAT:
                yield Equation(joint, {f"{joint} x": -y, f"{joint} y": x}, 0.0)


def _of_the_whole(truss: Truss, reactions: Mapping[str, tuple[str, int]], supposed: Supposed) -> Iterator[Equation]:
    for axis in (0, 1):
        terms = {name: 1.0 for name, (_, along) in reactions.items() if along == axis}
        yield Equation(WHOLE, terms, supposed.loads * sum(load[axis] for load in truss.loads.values()))
    for pivot in truss.supports:
        about = truss.joints[pivot]
        arms = {
            name: _moment(truss.joints[joint], about, (1.0, 0.0) if axis == 0 else (0.0, 1.0))
            for name, (joint, axis) in reactions.items()
        }
        turning = sum(_moment(truss.joints[joint], about, load) for joint, load in truss.loads.items())
        yield Equation(WHOLE, _kept(arms), supposed.loads * turning, moments=True)


def _mirrored(truss: Truss, solution: Solution, reactions: Mapping[str, tuple[str, int]]) -> Iterator[Equation]:
    """Each force and its mirror image, where the truss and all that it carries are alike on both sides."""
    image = _images(truss)
    if image is None:
        return
    by_ends = {frozenset((member.start, member.end)): member.name for member in truss.members}
    pairs = [(m.name, by_ends.get(frozenset((image[m.start], image[m.end])))) for m in truss.members]
    upward = [(name, f"{image[joint]} y") for name, (joint, axis) in reactions.items() if axis == 1]
    true = {**solution.forces, **{name: solution.reactions[joint][axis] for name, (joint, axis) in reactions.items()}}
    near = ALIKE * max((abs(force) for force in true.values()), default=0.0)
    twins = [(one, other) for one, other in [*pairs, *upward] if one != other]
    if all(other in true and abs(true[one] - true[other]) <= near for one, other in twins if other is not None):
        yield from (Equation(MIRROR, {one: 1.0, other: -1.0}, 0.0) for one, other in twins if other and one < other)


def _images(truss: Truss) -> dict[str, str] | None:
    """The joint that each joint becomes when left and right change places; None where one has no such joint."""
    xs = [place[0] for place in truss.joints.values()]
    span, middle = max(xs) - min(xs), (max(xs) + min(xs)) / 2
    image: dict[str, str] = {}
    for name, (x, y, *_) in truss.joints.items():
        there = (2 * middle - x, y)
        twin = min(truss.joints, key=lambda other: math.dist(truss.joints[other][:2], there))
        if math.dist(truss.joints[twin][:2], there) > ALIKE * span:
            return None
        image[name] = twin
    return image


def _kept(terms: Mapping[str, float]) -> dict[str, float]:
    largest = max((abs(c) for c in terms.values()), default=0.0)
    return {name: c for name, c in terms.items() if abs(c) > FLAT * largest}


def _dot(one: Vector, other: Iterable[float]) -> float:
    return sum(a * b for a, b in zip(one, other, strict=False))


def _moment(at: Vector, about: Vector, force: Vector) -> float:
    """Anticlockwise."""
    return (at[0] - about[0]) * force[1] - (at[1] - about[1]) * force[0]
