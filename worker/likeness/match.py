"""Two fingerprints laid over each other: which joints and bars are the same, and how near."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from rubric.messages.likeness import Fingerprint
from worker.likeness.fingerprint import PARTS, Bars, bar, in_line, joined, neighbours
from worker.statics.structure import Floats

REACH = 0.14
"""Part of the usual member length within which two joints count as the same."""


@dataclass(frozen=True, eq=False)
class Shape:
    """A fingerprint as arrays: ``places`` (n, 2) in spans, ``bars`` as pairs of rows."""

    places: Floats
    bars: Bars
    span_mm: float

    @classmethod
    def of(cls, found: Fingerprint) -> Shape:
        """The arrays of a fingerprint."""
        places = np.array(found.joints, dtype=float).reshape(-1, 2) / PARTS
        return cls(places, frozenset(found.bars), found.span_mm)

    @cached_property
    def mirrored(self) -> Shape:
        """The same seen from behind: left and right change places."""
        return Shape(np.array([1.0, 0.0]) + self.places * np.array([-1.0, 1.0]), self.bars, self.span_mm)

    @cached_property
    def member(self) -> float:
        """The usual length of a member, in spans: the median."""
        ends = np.array(sorted(self.bars), dtype=int).reshape(-1, 2)
        lengths = np.hypot(*(self.places[ends[:, 0]] - self.places[ends[:, 1]]).T)
        return float(np.median(lengths)) if len(lengths) else 0.0

    @cached_property
    def panels(self) -> Floats:
        """Where equal panels would put joints: the span in as many parts as the deck has, and in half of these."""
        deck = int((np.abs(self.places[:, 1]) < self._near).sum())
        return np.linspace(0, 1, 2 * max(deck - 1, 1) + 1)

    @cached_property
    def symmetric(self) -> bool:
        """Whether the joints are their own mirror image, nearly."""
        gaps = self.places[:, None] - self.mirrored.places[None]
        far = np.hypot(gaps[..., 0], gaps[..., 1])
        return bool((far.min(axis=1) < self._near).mean() > 0.9)

    @cached_property
    def bowed(self) -> bool:
        """Whether all joints off the deck stand on one even bow over equal panels, nearly."""
        x, y = self.places[self.places[:, 1] > self._near].T
        if len(x) < 4 or len(set(x)) < 3 or self.places[:, 1].min() < -self._near:
            return False
        if np.abs(self.panels[:, None] - x).min(axis=0).max() > self._near:
            return False
        curve = np.polyfit(x, y, 2)
        return bool(curve[0] < 0 and np.abs(np.polyval(curve, x) - y).max() < self._near / 2)

    @cached_property
    def _near(self) -> float:
        return REACH / 2 * self.member


@dataclass(frozen=True, eq=False)
class Match:
    """Two shapes laid over each other.

    ``same`` maps rows of ``one`` to rows of ``other``; ``common`` are bars of ``one`` that the other has too;
    ``only_one`` and ``only_other`` count the bars without partner between joints that have one, and
    ``alone`` the joints without partner.
    """

    one: Shape
    other: Shape
    reach: float
    same: dict[int, int]
    distance: dict[int, float]
    common: Bars
    bars: tuple[int, int]
    only: int
    alone: int

    @cached_property
    def likeness(self) -> float:
        """0 to 1: the part of all bars that both have, each counted by how near its ends lie."""
        near = {joint: 1 - 0.5 * (d / self.reach) ** 2 for joint, d in self.distance.items()}
        shared = sum(near[p] + near[q] for p, q in self.common)
        return shared / sum(self.bars) if sum(self.bars) else 0.0


def likeness(a: Fingerprint, b: Fingerprint) -> float:
    """How alike two structures are, 0 to 1, whichever way round; 1: no difference at all."""
    return best(Shape.of(a), Shape.of(b)).match().likeness


def best(one: Shape, other: Shape) -> Overlay:
    """Two shapes laid over each other, the other mirrored where more joints fall together so."""
    plain, turned = Overlay(one, other), Overlay(one, other.mirrored)
    return turned if turned.count > plain.count else plain


class Overlay:
    """Joints of two shapes that are each other's nearest and within reach."""

    def __init__(self, one: Shape, other: Shape) -> None:
        self.one, self.other = one, other
        self.reach = REACH * min(one.member, other.member)
        gaps = one.places[:, None] - other.places[None]
        far = np.hypot(gaps[..., 0], gaps[..., 1])
        there, back = far.argmin(axis=1), far.argmin(axis=0)
        rows = np.arange(len(far))
        distance = far[rows, there]
        self.rows = np.flatnonzero((back[there] == rows) & (distance < self.reach))
        self.partners, self.distance = there[self.rows], distance[self.rows]
        # One joint counts by how near it is, so that of two ways round the exact one is taken.
        self.count = float(len(self.rows) - (self.distance / (self.reach or 1.0)).sum() / 2)

    @property
    def alone(self) -> int:
        """Joints without partner."""
        return len(self.one.places) + len(self.other.places) - 2 * len(self.rows)

    def match(self) -> Match:
        """What they have in common.

        A joint that one of them alone has, and that cuts a member of it in two, is taken out first: a
        copy may have been given such a joint together with a bar that holds it.
        """
        rows, partners = self.rows.tolist(), self.partners.tolist()
        pairs, back = dict(zip(rows, partners, strict=True)), dict(zip(partners, rows, strict=True))
        bars, others = _contract(self.one, set(pairs)), _contract(self.other, set(back))
        common = frozenset(pair for pair in bars if _moved(pair, pairs) in others)
        between = sum(p in pairs and q in pairs for p, q in bars) + sum(p in back and q in back for p, q in others)
        return Match(
            self.one,
            self.other,
            self.reach,
            pairs,
            dict(zip(rows, self.distance.tolist(), strict=True)),
            common,
            (len(bars), len(others)),
            between - 2 * len(common),
            self.alone,
        )


def _moved(pair: tuple[int, int], pairs: dict[int, int]) -> tuple[int, int] | None:
    p, q = pairs.get(pair[0]), pairs.get(pair[1])
    return None if p is None or q is None else bar(p, q)


def _contract(shape: Shape, partnered: set[int]) -> Bars:
    """The bars of a shape, with members whole that are cut by a joint without partner."""
    bars = shape.bars
    alone = [joint for joint in range(len(shape.places)) if joint not in partnered]
    beside = neighbours(bars) if alone else {}
    for joint in alone:
        near = sorted(beside.get(joint, set()) & partnered)
        ways = [(p, q) for i, p in enumerate(near) for q in near[i + 1 :]]
        for p, q in ways:
            if bar(p, q) not in bars and in_line(shape.places, joint, p, q):
                bars = joined(bars, joint, p, q)
                break
    return bars
