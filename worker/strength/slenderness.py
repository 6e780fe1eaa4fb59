"""How slender a member is, in the plane of the truss and out of it, and what a brief allows of that."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import sqrt

from rubric.brief import Brief
from rubric.language import _
from rubric.messages.outcomes import Axis
from rubric.wording import figure
from worker.strength.columns import le_over_d
from worker.strength.profiles import Section
from worker.strength.sections import section_of
from worker.truss.model import Member, Truss

SAME = 1e-9
"""Relative: slendernesses this near to each other are the same."""

SLACK = 1e-9
NDS_LIMIT = 50.0
"""Largest le / d of a solid column, NDS 2018, 3.7.1.4."""


@dataclass(frozen=True)
class Slenderness:
    """K L / r for bending in the plane of the truss and out of it, pure numbers."""

    in_plane: float
    out_of_plane: float
    askew: bool = False

    @property
    def governing(self) -> float:
        """The larger one: there it buckles first."""
        return max(self.in_plane, self.out_of_plane)

    @property
    def axis(self) -> Axis:
        """Which way it buckles first."""
        if self.askew:
            return "askew"
        if abs(self.in_plane - self.out_of_plane) <= SAME * self.governing:
            return "either"
        return "in plane" if self.in_plane > self.out_of_plane else "out of plane"


def slenderness(section: Section, in_plane_mm: float, out_of_plane_mm: float) -> Slenderness:
    """K L / r about both axes, of the effective lengths for each.

    A section whose principal axes lie askew bends about its weakest axis, which neither way of
    holding it stops alone: it counts with the longer of the two lengths (on the safe side).
    """
    if section.askew:
        both = max(in_plane_mm, out_of_plane_mm) / section.radius_of_gyration_mm
        return Slenderness(both, both, askew=True)
    return Slenderness(
        in_plane_mm / sqrt(section.in_plane_mm4 / section.area_mm2),
        out_of_plane_mm / sqrt(section.out_of_plane_mm4 / section.area_mm2),
    )


def slenderness_of(truss: Truss, member: Member, brief: Brief) -> Slenderness:
    """Of a member of a class truss, with the brief's effective-length factor K for both ways.

    In the plane it is free from joint to joint; out of it over the brief's bracing, or from joint to
    joint where the brief gives none.
    """
    length_mm = truss.length_mm(member)
    free_mm = length_mm if brief.bracing_mm is None else brief.bracing_mm
    K = brief.effective_length
    return slenderness(section_of(member, brief), K * length_mm, K * free_mm)


def too_slender(truss: Truss, brief: Brief, forces_N: Mapping[str, float]) -> tuple[str, ...]:
    """The most slender strut, in a sentence, where it is beyond the brief or the NDS; ties are free.

    ``forces_N`` is tension positive; a member that is not in it counts as a tie.
    """
    struts = [member for member in truss.members if forces_N.get(member.name, 0.0) < 0]
    values = {member.name: slenderness_of(truss, member, brief).governing for member in struts}
    return tuple(_said(values, brief)) if values else ()


def _said(values: Mapping[str, float], brief: Brief) -> Iterable[str]:
    name = max(values, key=values.__getitem__)
    most = brief.limits.slenderness
    if most is not None and values[name] > most * (1 + SLACK):
        yield _(
            "Strut {name} has a slenderness of {slenderness}; the brief allows {most}.",
            name=name,
            slenderness=figure(values[name]),
            most=figure(most),
        )
    ratio = le_over_d(values[name])
    if brief.column_curve == "NDS" and ratio > NDS_LIMIT * (1 + SLACK):
        yield _(
            "Strut {name} is {ratio} times as long as it is thick; the NDS allows no strut beyond {most} times.",
            name=name,
            ratio=figure(ratio),
            most=figure(NDS_LIMIT),
        )
