"""Words on a drawing of a truss: numbers beside members, names at joints, a flag at the member that breaks first."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from rubric.drawing import palette
from rubric.drawing.boxes import strip
from rubric.drawing.labels import Label, along, around, placed
from rubric.drawing.svg import Point, line
from rubric.drawing.text import clean
from rubric.language import _, counted
from rubric.messages.outcomes import MemberRow
from rubric.wording import figure
from worker.feedback.figures.legend import Legend
from worker.feedback.figures.scene import CROWDED, Scene

_SIZES = (12.0, 10.5, 9.0)
"""The smallest alone is tried in a crowded drawing."""
_SMALLER = 0.15
"""So many of the numbers may be smaller than the others; with more, all are."""
_FULLEST = 5
"""Members told under a drawing that has no room for most numbers."""
_OVERHANG = 1.5
"""A label longer than its member times this would seem to belong to the next one."""

Said = Callable[[MemberRow], tuple[str, str]]
"""What stands beside a member, and in which colour; nothing where it has no number."""


@dataclass(frozen=True)
class Captions:
    """The words drawn, and how many numbers and names found no room."""

    drawn: list[str]
    numbers: int = 0
    names: int = 0
    fullest: tuple[str, ...] = ()

    def count(self, legend: Legend, more: int = 0) -> None:
        """Say under the drawing how many are left out; ``more`` numbers besides those of the members.

        Where most numbers are, those of the fullest members are told there.
        """
        if self.numbers + more:
            legend.say(numbers_left_out(self.numbers + more))
        if self.numbers > len(self.drawn) / 4:
            legend.say(_("The fullest members: {members}.", members=", ".join(self.fullest)))
        if self.names:
            legend.say(counted("{count} joint name had no room.", "{count} joint names had no room.", self.names))


def numbers_left_out(count: int) -> str:
    """How many numbers found no room."""
    return counted("{count} number had no room in this drawing.", "{count} numbers had no room in this drawing.", count)


def captions(scene: Scene, said: Said) -> Captions:
    """Numbers at the largest size at which most find room, the others smaller; then names in the same way."""
    sizes: tuple[float, ...] = _SIZES if len(scene.members) <= CROWDED else _SIZES[-1:]
    before = scene.space
    while True:
        attempt = scene.within(before.copy())
        placed_at = [_number(attempt, row, sizes, said) for row in _fullest_first(scene) if said(row)[0]]
        if len(sizes) == 1 or sum(size != sizes[0] for _, size in placed_at) <= _SMALLER * len(placed_at):
            break
        sizes = sizes[1:]
    numbers, names = [text for text, _ in placed_at], attempt.names(sizes)
    scene.space.take(*attempt.space.taken[len(before.taken) :])
    scene.space.words += attempt.space.words[len(before.words) :]
    missing = sum(not text for text in numbers), sum(not text for text in names)
    return Captions(numbers + names, *missing, _fullest(scene, said))


def _fullest(scene: Scene, said: Said) -> tuple[str, ...]:
    rows = sorted(scene.members, key=lambda row: -row.utilisation)[:_FULLEST]
    return tuple(f"{clean(row.name, 20)} {said(row)[0]}" for row in rows)


def named(scene: Scene) -> Captions:
    """The names alone."""
    names = scene.names()
    return Captions(names, 0, sum(not text for text in names))


def loads_said(scene: Scene, drawn: list[str]) -> str:
    """The size of the loads, where an arrow has no room for its number."""
    missing = sum("<text" not in arrow for arrow in drawn)
    if not missing:
        return ""
    sizes = {f"{figure(math.hypot(*row.load_N))} N" for row in scene.loaded}
    if len(sizes) == 1:
        return _("Each load is {size}.", size=sizes.pop())
    return counted("{count} load has no room for a number.", "{count} loads have no room for a number.", missing)


def first(scene: Scene) -> list[MemberRow]:
    failure = scene.analysis.first_failure
    return [row for row in scene.members if failure is not None and row.name == failure.member]


def flag(scene: Scene, row: MemberRow) -> str:
    """'breaks first', outside the truss where there is room, with a line to the member."""
    a, b = scene.ends(row)
    middle: Point = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    label = Label(_("breaks first"), bold=True)
    away = (middle[0] - scene.middle[0], middle[1] - scene.middle[1])
    outward = away if away != (0.0, 0.0) else (0.0, -1.0)
    for crossing in (False, True):  # better across other members than no flag at all
        for gap in (26.0, 44.0, 64.0, 90.0, 120.0):
            for at, _axis in around(middle, label, gap, outward):
                box = label.box(at)
                left, _top, right, _low = box.bounds
                if not (left > 4 and right < scene.space.wide - 4 and scene.space.free(box)):
                    continue
                foot = _foot(at, middle, box.reach)
                lead = strip(_short_of(middle, foot, 9 * scene.thin + 2), foot, 3)
                if scene.space.legible(*lead) if crossing else all(map(scene.space.free, lead)):
                    scene.space.write(box)
                    scene.space.take(*lead)
                    return label.drawn(box) + line(middle, foot, stroke=palette.INK, stroke_width=1)
    return ""


def _foot(at: Point, target: Point, reach: Point) -> Point:
    """Where the line from a label's centre to ``target`` leaves the label."""
    dx, dy = target[0] - at[0], target[1] - at[1]
    part = min(reach[0] / abs(dx) if dx else 9.0, reach[1] / abs(dy) if dy else 9.0, 1.0)
    return at[0] + dx * part, at[1] + dy * part


def _short_of(end: Point, start: Point, gap: float) -> Point:
    dx, dy = start[0] - end[0], start[1] - end[1]
    part = min(1.0, gap / max((dx * dx + dy * dy) ** 0.5, 1e-9))
    return end[0] + dx * part, end[1] + dy * part


def _fullest_first(scene: Scene) -> list[MemberRow]:
    return sorted(scene.members, key=lambda row: (-row.utilisation, -abs(row.force_N)))


def _number(scene: Scene, row: MemberRow, sizes: Sequence[float], said: Said) -> tuple[str, float]:
    """The number beside a member, and its size; nothing and 0 where it has no room."""
    text, colour = said(row)
    a, b = scene.ends(row)
    failure = scene.analysis.first_failure
    gap = (7.4 if failure is not None and row.name == failure.member else scene.line / 2 + 0.2) * scene.thin + 1.5
    for size in sizes:
        label = Label(text, size, colour)
        belongs = label.width <= _OVERHANG * abs(b[0] - a[0]) or abs(b[1] - a[1]) >= 2 * size
        places = (place for place in along(a, b, label, gap, scene.middle) if belongs or place[1][1])
        found = placed(label, places, scene.space)
        if found:
            return found, size
    return "", 0.0
