"""The truss as a value.  Inside the worker lengths are mm, forces N, stresses MPa."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field

from rubric.quantities import FORCE_UNITS, LENGTH_UNITS

Vector = tuple[float, ...]


@dataclass(frozen=True)
class Member:
    """A bar between two joints.

    ``name`` keeps the file's spelling.  ``stick`` and ``count`` name the stock it is cut from;
    ``area_mm2`` and ``modulus_MPa`` are None where the file leaves them out.
    """

    name: str
    start: str
    end: str
    stick: str = ""
    count: int = 1
    area_mm2: float | None = None
    modulus_MPa: float | None = None
    place: tuple[int, int] = field(default=(1, 1), compare=False)
    """Line and column in its file, for a problem that only solving finds."""


@dataclass(frozen=True)
class Support:
    """What holds a joint: unit vectors along which it cannot move.

    ``said`` is how the file or the brief put it: ``pin``, ``roller``, ``roller y``, ``roller 30``;
    of a space truss ``pin``, ``roller`` or ``holds x z``.
    """

    said: str
    held: tuple[Vector, ...]

    @classmethod
    def pin(cls) -> Support:
        """Holds both directions of the plane."""
        return cls("pin", ((1.0, 0.0), (0.0, 1.0)))

    @classmethod
    def roller(cls, slides_deg: float = 0.0, said: str = "roller") -> Support:
        """Slides along a line ``slides_deg`` degrees up from x; holds the direction square to it."""
        angle = math.radians(slides_deg)
        return cls(said, ((0.0 - math.sin(angle), math.cos(angle)),))

    @classmethod
    def in_space(cls, axes: str, said: str) -> Support:
        """Holds the axes named: ``xyz`` for a pin, ``z`` for a roller on the ground."""
        return cls(said, tuple(tuple(float(axis == held) for axis in "xyz") for held in axes))


@dataclass(frozen=True)
class Written:
    """A force as the student wrote it.

    ``said`` is the number, its unit and its sense: ``62.5 N T``, ``50 N up``, or ``T`` alone.
    ``force_N`` is tension positive, of a reaction positive to the right and upward; None where T or C
    stands alone.  ``sense`` is its sign.  ``figures`` counts the significant figures, noughts at the end
    of a whole number left out; ``step_N`` is one unit of the last digit.  ``mass``: given in g or kg, and
    taken as the weight of that mass.
    """

    said: str
    force_N: float | None
    sense: float
    figures: int = 1
    step_N: float = 0.0
    mass: bool = False


@dataclass(frozen=True)
class Working:
    """What the student worked out by hand.

    ``reactions`` by joint and direction (``a x``, ``a y``), ``forces`` by member; ``zeros`` are the
    members named as zero members, None where the file does not name any such list.
    """

    reactions: Mapping[str, Written] = field(default_factory=dict)
    forces: Mapping[str, Written] = field(default_factory=dict)
    zeros: tuple[str, ...] | None = None


@dataclass(frozen=True)
class Truss:
    """Joints, members, supports and loads.

    ``joints`` maps a name to coordinates in mm, ``loads`` to a force in N, ``permanent`` to a force in N
    that is there before the loads and does not grow with them (own weight), ``settlements`` to a
    movement of the support in mm, ``misfits`` (by member) to what a member is cut too long in mm, negative
    where it is too short.  ``length_unit`` and ``force_unit`` are what the file's own
    numbers were written in, for answers in the same units.
    """

    joints: Mapping[str, Vector]
    members: tuple[Member, ...]
    supports: Mapping[str, Support] = field(default_factory=dict)
    loads: Mapping[str, Vector] = field(default_factory=dict)
    permanent: Mapping[str, Vector] = field(default_factory=dict)
    settlements: Mapping[str, Vector] = field(default_factory=dict)
    misfits: Mapping[str, float] = field(default_factory=dict)
    title: str = ""
    working: Working | None = None
    length_unit: str = "mm"
    force_unit: str = "N"

    def length_mm(self, member: Member) -> float:
        """Distance between the two joints of a member."""
        return math.dist(self.joints[member.start], self.joints[member.end])

    @property
    def mm_per_length(self) -> float:
        """Millimetres in the file's unit of length."""
        return LENGTH_UNITS[self.length_unit]

    @property
    def newtons_per_force(self) -> float:
        """Newtons in the file's unit of force."""
        return FORCE_UNITS[self.force_unit]
