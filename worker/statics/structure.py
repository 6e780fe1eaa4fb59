"""From a truss to arrays.

In: a Truss.  Out: a Structure, in which joints stand in the order of their coordinates and
members in the order of their joints.  Neither the order nor the names of the file can thus
change an answer, not even in its last digit (joints at the same place excepted).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from worker.truss.model import Member, Truss, Vector

Floats = NDArray[np.float64]
Indices = NDArray[np.intp]


@dataclass(frozen=True, eq=False)
class Structure:
    """A truss of n joints, m members and r held directions in d dimensions (2 or 3).

    coordinates:     (n, d) mm
    ends:            (m, 2) rows of ``coordinates``
    axial_stiffness: (m,) EA in N; NaN where area or modulus is unknown
    held_joints:     (r,) rows of ``coordinates``
    held_directions: (r, d) unit vectors; those of one joint are square to each other
    settlements:     (n, d) mm
    misfits:         (m,) mm; what each member is too long
    loads:           (n, d) N, the permanent ones among them
    permanent:       (n, d) N
    """

    joint_names: tuple[str, ...]
    member_names: tuple[str, ...]
    coordinates: Floats
    ends: Indices
    axial_stiffness: Floats
    held_joints: Indices
    held_directions: Floats
    settlements: Floats
    misfits: Floats
    loads: Floats
    permanent: Floats

    @classmethod
    def of(cls, truss: Truss) -> Structure:
        """Build the arrays.

        Raises ValueError where the truss contradicts itself: a member without length, a name
        that is not a joint, a stiffness that is not positive, vectors of different dimensions.
        """
        names = tuple(sorted(truss.joints, key=lambda name: (tuple(truss.joints[name]), name)))
        row = {name: index for index, name in enumerate(names)}
        _refuse_unknown_names(truss, row)
        d = len(truss.joints[names[0]]) if names else 2
        members = sorted(_place(member, row) for member in truss.members)
        held = [
            (row[joint], direction)
            for joint in sorted(truss.supports, key=row.__getitem__)
            for direction in truss.supports[joint].held
        ]
        permanent = _at_joints(truss.permanent, row, d)
        structure = cls(
            joint_names=names,
            member_names=tuple(name for *_, name in members),
            coordinates=_rows((truss.joints[name] for name in names), len(names), d),
            ends=np.array([(low, high) for low, high, *_ in members], dtype=np.intp).reshape(-1, 2),
            axial_stiffness=np.array([math.nan if EA == _UNKNOWN else EA for _, _, EA, _ in members], dtype=float),
            held_joints=np.array([joint for joint, _ in held], dtype=np.intp),
            held_directions=_rows((direction for _, direction in held), len(held), d),
            settlements=_at_joints(truss.settlements, row, d),
            misfits=np.array([truss.misfits.get(name, 0.0) for *_, name in members], dtype=float),
            loads=_at_joints(truss.loads, row, d) + permanent,
            permanent=permanent,
        )
        _refuse_no_length(structure)
        return structure

    @property
    def dimension(self) -> int:
        """2 for a plane truss, 3 for a space truss."""
        return int(self.coordinates.shape[1])

    @cached_property
    def spans(self) -> Floats:
        """(m, d) mm: from the first joint of each member to the second."""
        spans: Floats = self.coordinates[self.ends[:, 1]] - self.coordinates[self.ends[:, 0]]
        return spans

    @cached_property
    def lengths(self) -> Floats:
        """(m,) mm."""
        lengths: Floats = np.sqrt((self.spans**2).sum(axis=1))
        return lengths

    @property
    def held_settlements(self) -> Floats:
        """(r,) mm: the settlement of each support along each direction in which it holds."""
        along: Floats = (self.settlements[self.held_joints] * self.held_directions).sum(axis=1)
        return along


def axial_stiffness(member: Member) -> float:
    """EA of a member in N; NaN where its area or its modulus is unknown.

    Raises ValueError where it is not a positive number.
    """
    if member.area_mm2 is None or member.modulus_MPa is None:
        return math.nan
    stiffness = member.area_mm2 * member.modulus_MPa
    if not (stiffness > 0 and math.isfinite(stiffness)):
        raise ValueError(
            f"member {member.name} has area {member.area_mm2:g} mm2 and modulus "
            f"{member.modulus_MPa:g} MPa; both must be positive numbers"
        )
    return stiffness


_UNKNOWN = -1.0
"""Stands for a stiffness that is not known, where members are put in order: NaN has no place in one."""


def _place(member: Member, row: Mapping[str, int]) -> tuple[int, int, float, str]:
    """Where a member stands: the rows of both joints, the lower first; then what tells twin members apart."""
    one, other = row[member.start], row[member.end]
    stiffness = axial_stiffness(member)
    low, high = (one, other) if one < other else (other, one)
    return low, high, _UNKNOWN if math.isnan(stiffness) else stiffness, member.name


def _rows(vectors: Iterable[Vector], count: int, d: int) -> Floats:
    """(count, d) array; raises ValueError where a vector has not d components."""
    listed = list(vectors)
    for vector in listed:
        if len(vector) != d:
            raise ValueError(f"{tuple(vector)} has {len(vector)} components, but this truss has {d}")
    return np.array(listed, dtype=float).reshape(count, d)


def _at_joints(vectors: Mapping[str, Vector], row: Mapping[str, int], d: int) -> Floats:
    """(n, d) array of the vectors given for some joints, zero at the others."""
    array = np.zeros((len(row), d))
    if vectors:
        array[[row[joint] for joint in vectors]] = _rows(vectors.values(), len(vectors), d)
    return array


def _refuse_unknown_names(truss: Truss, row: Mapping[str, int]) -> None:
    for member in truss.members:
        for name in (member.start, member.end):
            if name not in row:
                raise ValueError(f"member {member.name} names joint {name}, but there is no such joint")
    for what, names in (
        ("a support", truss.supports),
        ("a load", truss.loads),
        ("a permanent load", truss.permanent),
        ("a settlement", truss.settlements),
    ):
        for name in names:
            if name not in row:
                raise ValueError(f"{what} names joint {name}, but there is no such joint")
    members = {member.name for member in truss.members} if truss.misfits else set()
    for name in truss.misfits:
        if name in members:
            continue
        raise ValueError(f"a misfit names member {name}, but there is no such member")


def _refuse_no_length(structure: Structure) -> None:
    none = ~(structure.lengths > 0)
    if none.any():
        name = structure.member_names[int(np.argmax(none))]
        raise ValueError(f"member {name} has no length: its two joints are at the same place")
