"""What to cut: pieces of one length under one letter, and how each stick is cut up."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from rubric.brief import Brief
from rubric.messages.outcomes import Analysis, MemberRow
from worker.advice.cutting import CutList, cut_lists
from worker.truss.model import Member, Truss


@dataclass(frozen=True)
class Piece:
    """All pieces of one kind of stick and one length (to a tenth of a mm, as a ruler has it)."""

    letter: str
    stick: str
    length_mm: float
    members: tuple[MemberRow, ...]
    """The members of one side truss that it is for; a doubled one takes two pieces."""
    sides: int

    @property
    def count(self) -> int:
        """How many the whole bridge takes."""
        return self.sides * sum(member.count for member in self.members)


@dataclass(frozen=True)
class Layout:
    """One way of cutting a stick up, and how many sticks are cut so."""

    pieces: tuple[Piece, ...]
    left_over_mm: float
    sticks: int


@dataclass(frozen=True)
class Kind:
    """One kind of stick: what it is, how many are needed, and how each is cut up."""

    name: str
    section: str
    length_mm: float
    needed: int
    in_kit: int
    layouts: tuple[Layout, ...]
    too_long: tuple[Piece, ...]
    """Pieces longer than the stick."""


@dataclass(frozen=True)
class Cutting:
    """All that is cut for a bridge; ``kerf_mm`` is what each cut of the saw or blade takes away."""

    pieces: tuple[Piece, ...]
    kinds: tuple[Kind, ...]
    kerf_mm: float

    def of(self, member: MemberRow) -> Piece:
        """The piece that a member is cut as."""
        return next(piece for piece in self.pieces if member in piece.members)


def letters(number: int) -> str:
    """A, B, ..., Z, AA, AB, ... for 0, 1, ..."""
    before, last = divmod(number, 26)
    return (letters(before - 1) if before else "") + chr(ord("A") + last)


def tenth(length_mm: float) -> float:
    """A length as it is printed: to a tenth of a mm, and twins alike."""
    return round(float(f"{length_mm:.10g}"), 1)


def cutting(analysis: Analysis, brief: Brief) -> Cutting:
    """What to cut for the whole bridge; a piece is as long as its member from joint to joint."""
    pieces = _pieces(analysis.members, brief.sides)
    lists = cut_lists(truss_of(analysis), brief, brief.kerf_mm)
    kinds = tuple(_kind(name, brief, found, pieces) for name, found in lists.items())
    return Cutting(pieces, kinds, brief.kerf_mm)


def truss_of(analysis: Analysis) -> Truss:
    """Joints and members of an analysis, as the truss they came from."""
    return Truss(
        joints={joint.name: (joint.x_mm, joint.y_mm) for joint in analysis.joints},
        members=tuple(Member(row.name, row.start, row.end, row.stick, row.count) for row in analysis.members),
    )


def _pieces(members: Sequence[MemberRow], sides: int) -> tuple[Piece, ...]:
    """Lettered by kind of stick, the longest first."""
    alike: dict[tuple[str, float], list[MemberRow]] = {}
    for member in members:
        alike.setdefault((member.stick, tenth(member.length_mm)), []).append(member)
    order = sorted(alike, key=lambda key: (key[0], -key[1]))
    return tuple(Piece(letters(i), *key, tuple(alike[key]), sides) for i, key in enumerate(order))


def _kind(name: str, brief: Brief, found: CutList, pieces: Sequence[Piece]) -> Kind:
    stick = brief.stock[name]
    by_length = {piece.length_mm: piece for piece in pieces if piece.stick == name}
    ways = Counter(tuple(tenth(mm) for _, mm in one) for one in found.sticks)
    return Kind(
        name=name,
        section=stick.section.said,
        length_mm=stick.length_mm,
        needed=len(found.sticks),
        in_kit=stick.count,
        layouts=tuple(
            Layout(tuple(by_length[mm] for mm in way), _left_over_mm(stick.length_mm, way, brief.kerf_mm), number)
            for way, number in ways.items()
        ),
        too_long=tuple(by_length[mm] for mm in dict.fromkeys(tenth(mm) for _, mm in found.too_long)),
    )


def _left_over_mm(stick_mm: float, way: Sequence[float], kerf_mm: float) -> float:
    """What remains by the lengths as printed; the last cut takes nothing where the stick ends there."""
    return max(0.0, tenth(stick_mm - sum(way) - len(way) * kerf_mm))
