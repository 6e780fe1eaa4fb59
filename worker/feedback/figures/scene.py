"""A truss on the page: where its joints lie, what is taken, and the parts that every drawing of it shows."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from statistics import quantiles

from rubric.drawing import palette
from rubric.drawing.boxes import Box, Space, strip
from rubric.drawing.labels import Label, around, placed
from rubric.drawing.svg import Point
from rubric.messages.outcomes import Analysis, JointRow, MemberRow
from rubric.wording import figure
from worker.feedback.figures.frame import MARGIN, TALLEST, Frame, fitted
from worker.feedback.figures.parts import (
    ARROW,
    SUPPORT_DEPTH,
    arrow,
    beside,
    ground_side,
    joints,
    moved,
    support,
    unit,
)
from worker.feedback.text import clean

NAME = 9
"""Characters of a joint's name on a drawing."""
CROWDED = 60
"""With more members than this a name stands close to its joint or not at all."""
_ROOMY = 48.0
"""A truss with three quarters of its members longer than this on the page is drawn at full width."""


@dataclass(frozen=True)
class Scene:
    """What the drawings of a truss share.

    ``points``: joints on the page by name; ``thin``: 1, or less where members are short and crowded;
    ``line``: width of the room that a member takes, before it is made thinner.
    """

    analysis: Analysis
    frame: Frame
    points: dict[str, Point]
    members: tuple[MemberRow, ...]
    thin: float
    space: Space = field(default_factory=Space)
    line: float = 6.0

    @classmethod
    def of(
        cls,
        analysis: Analysis,
        margin: float = MARGIN,
        wide: float = palette.WIDTH,
        tallest: float = TALLEST,
        line: float = 6.0,
    ) -> Scene:
        """Lay a truss out on a drawing so wide; members too short to see are left out."""
        frame = fitted([(j.x_mm, j.y_mm) for j in analysis.joints] or [(0.0, 0.0)], margin, wide, tallest)
        return cls.on(analysis, frame, Space(wide=wide), line)

    @classmethod
    def on(cls, analysis: Analysis, frame: Frame, space: Space, line: float = 6.0) -> Scene:
        """The same in a frame that is known, and in room that others share."""
        points = {j.name: frame.place((j.x_mm, j.y_mm)) for j in analysis.joints}
        long = {m.name: math.dist(points[m.start], points[m.end]) for m in analysis.members}
        seen = tuple(m for m in analysis.members if long[m.name] > 0.2)
        lengths = [long[m.name] for m in seen]
        usual = quantiles(lengths, n=4)[0] if len(lengths) > 1 else _ROOMY
        scene = cls(analysis, frame, points, seen, min(1.0, max(0.3, usual / _ROOMY)), space, line)
        for m in seen:
            scene.space.take(*strip(*scene.ends(m), line * scene.thin), *_heads(*scene.ends(m), scene.thin))
        for at in points.values():
            scene.space.take(Box(at, scene.radius + 1, scene.radius + 1))
        return scene

    def within(self, space: Space) -> Scene:
        """The same truss in other room, to try something there."""
        return replace(self, space=space)

    @property
    def radius(self) -> float:
        """Of a joint."""
        return max(1.2, 4.2 * self.thin)

    @cached_property
    def middle(self) -> Point:
        """The middle of all joints."""
        count = max(1, len(self.points))
        return sum(x for x, _ in self.points.values()) / count, sum(y for _, y in self.points.values()) / count

    def ends(self, row: MemberRow) -> tuple[Point, Point]:
        """A member on the page."""
        return self.points[row.start], self.points[row.end]

    def leaving(self, name: str) -> list[Point]:
        """The directions in which members leave a joint."""
        return self._leaving.get(name, [])

    @cached_property
    def _leaving(self) -> dict[str, list[Point]]:
        found: dict[str, list[Point]] = defaultdict(list)
        for m in self.members:
            a, b = self.ends(m)
            found[m.start].append(unit(a, b))
            found[m.end].append(unit(b, a))
        return found

    def outward(self, name: str) -> Point:
        """From the members that meet at a joint towards the widest gap between them."""
        meet = self.leaving(name)
        away = (-sum(x for x, _ in meet), -sum(y for _, y in meet))
        return away if math.hypot(*away) > 0.05 else (0.0, -1.0)

    def joints(self, filled: frozenset[str] = frozenset()) -> list[str]:
        """All joints as pins; those in ``filled`` solid."""
        hollow = (at for name, at in self.points.items() if name not in filled)
        solid = (at for name, at in self.points.items() if name in filled)
        return [joints(hollow, self.radius), joints(solid, self.radius, filled=True)]

    def names(self, sizes: Sequence[float] = (palette.TEXT,)) -> list[str]:
        """The joints' names, each at the first of ``sizes`` that has room; nothing for one without room."""
        return [next(filter(None, (self._name(name, size) for size in sizes)), "") for name in self.points]

    def _name(self, name: str, size: float) -> str:
        said, near = clean(name, NAME), len(self.members) > CROWDED
        places = around(self.points[name], Label(said, size), self.radius + 6, self.outward(name), near)
        return placed(Label(said, size, bold=True), places, self.space)

    def supports(self) -> list[str]:
        """What the truss stands on."""
        return [support(j.support, self.points[j.name], self.ground(j), self.space) for j in self._held()]

    def ground(self, row: JointRow) -> Point:
        """From a supported joint to its ground."""
        return ground_side(row.support, self.points[row.name], self.middle)

    @property
    def loaded(self) -> list[JointRow]:
        """The joints that carry a load."""
        return [j for j in self.analysis.joints if math.hypot(*j.load_N) > 0]

    def loads(self) -> list[str]:
        """An arrow for each load, with its size where there is room."""
        return self.actions()[1]

    def actions(self, reactions: bool = False) -> tuple[list[str], list[str]]:
        """Arrows for the reactions, if wanted, and for the loads, with sizes where there is room."""
        held = self._reactions() if reactions else []
        loads = [(j, j.load_N) for j in self.loaded]
        ways = [self._way(j, (x, -y), opened=True) for j, (x, y) in held]
        ways += [self._way(j, (x, -y), opened=False) for j, (x, y) in loads]
        drawn: list[str] = []  # labels come when all arrows have found their places
        for (tail, tip), (_, force) in zip(ways, held + loads, strict=True):
            label = Label(f"{figure(math.hypot(*force))} N")
            room = placed(label, _beside_arrow(tail, tip, label), self.space)
            drawn.append(arrow(tail, tip, len(drawn) < len(held)) + room)
        return drawn[: len(held)], drawn[len(held) :]

    def _reactions(self) -> list[tuple[JointRow, tuple[float, float]]]:
        """The upright and the level part of each reaction, where it is not nought."""
        both = [(j, j.reaction_N or (0.0, 0.0)) for j in self._held()]
        parts = [(j, part) for j, (x, y) in both for part in ((0.0, y), (x, 0.0))]
        least = 1e-6 * max((math.hypot(*part) for _, part in parts), default=0.0)
        return [(j, part) for j, part in parts if math.hypot(*part) > least]

    def _held(self) -> list[JointRow]:
        return [j for j in self.analysis.joints if j.support]

    def _way(self, row: JointRow, vector: Point, opened: bool) -> tuple[Point, Point]:
        """Tail and tip of the arrow of a load, or of a reaction (opened), at a joint."""
        at, direction = self.points[row.name], unit((0.0, 0.0), vector)
        gap = self.radius + 3
        down = self.ground(row) if row.support else (0.0, 0.0)
        facing = direction[0] * down[0] + direction[1] * down[1]
        if abs(facing) <= 0.7:
            return beside(at, direction, gap, gap, self.space)
        foot = SUPPORT_DEPTH + 4
        if opened:
            near, far = moved(at, down, foot), moved(at, down, foot + ARROW)
        elif all(direction[0] * x + direction[1] * y > -0.94 for x, y in self.leaving(row.name)):
            near, far = moved(at, direction, -gap - ARROW), moved(at, direction, -gap)  # comes from the other side
        else:  # a member lies there: beside the reaction
            aside = moved(at, (-1.0 if at[0] <= self.middle[0] else 1.0, 0.0), 13)
            near, far = moved(aside, direction, foot), moved(aside, direction, foot + ARROW)
        self.space.take(*strip(near, far, 9))
        return (near, far) if facing > 0 or not opened else (far, near)


def _heads(a: Point, b: Point, thin: float) -> list[Box]:
    """Where a member's arrowheads may be."""
    away, reach = unit(a, b), min(18 * thin, math.dist(a, b) / 3)
    back = (-away[0], -away[1])
    return strip(a, moved(a, away, reach), 11 * thin) + strip(b, moved(b, back, reach), 11 * thin)


def _beside_arrow(tail: Point, tip: Point, label: Label) -> list[tuple[Point, Point]]:
    ux, uy = unit(tail, tip)
    half_x, half_y = label.width / 2 + 3, label.height / 2 + 3
    past = half_x * abs(ux) + half_y * abs(uy)
    off = half_x * abs(uy) + half_y * abs(ux) + 4
    middle = ((tail[0] + tip[0]) / 2, (tail[1] + tip[1]) / 2)
    low, high = (tip, 1) if uy > 0 else (tail, -1)
    centres = [
        moved(low, (ux, uy), high * past),
        (middle[0] - uy * off, middle[1] + ux * off),
        (middle[0] + uy * off, middle[1] - ux * off),
        moved(tail, (ux, uy), -past),
        moved(tip, (ux, uy), past),
        (tail[0] - uy * off, tail[1] + ux * off),
        (tail[0] + uy * off, tail[1] - ux * off),
    ]
    return [(centre, (1.0, 0.0)) for centre in centres]
