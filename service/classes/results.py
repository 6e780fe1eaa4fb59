"""An outcome as a page shows it: sentences and rows, each number with its unit.

Pure: a recorded outcome in, text out.  Nothing is computed here but the writing of numbers.
"""

from __future__ import annotations

from dataclasses import dataclass

from rubric import mechanism
from rubric.language import _
from rubric.messages.outcomes import Analysis, MemberRow
from rubric.wording import SHORT_MODES, SHORT_WAYS, figure, listed, localised


@dataclass(frozen=True)
class MemberLine:
    """One member as the table shows it."""

    name: str
    stick: str
    length: str
    force: str
    """N with T or C behind it; tension positive."""
    kind: str
    """'tension', 'compression' or 'nothing': how the row is drawn."""
    stress: str
    capacity: str
    utilisation: str
    fails_by: str
    over: bool
    """Whether it would fail below the target load."""
    range: str = ""
    """Least to largest force as the load moves, N; nothing where it stands still."""


@dataclass(frozen=True)
class Stop:
    """A deck joint on which a load that moves has stood, and the force in the member that breaks first."""

    joint: str
    place: str
    force: str
    worst: bool


@dataclass(frozen=True)
class CutLine:
    """One stick of the kit as the cut list shows it."""

    stick: str
    pieces: str
    left: str


def cut_lines(analysis: Analysis) -> tuple[CutLine, ...]:
    """How to cut each stick: its members with their lengths, and what is left over, mm."""
    return tuple(
        CutLine(
            stick=_("{kind}, stick {number}", kind=need.stick, number=number),
            pieces=", ".join(f"{name} {figure(mm, 4)}" for name, mm in stick.pieces),
            left=figure(stick.left_mm),
        )
        for need in (analysis.outlook.sticks if analysis.outlook else ())
        for number, stick in enumerate(need.layout, start=1)
    )


def moves(analysis: Analysis) -> tuple[str, ...]:
    """That and how a mechanism moves, before its mark is given."""
    return (
        _(
            "Your truss can change its shape without any member getting longer or shorter. "
            "That is called a mechanism. It carries no load yet."
        ),
        *([_("These joints can move: {joints}.", joints=listed(analysis.moving))] if analysis.moving else []),
        *(said for said in (mechanism.ways(analysis), mechanism.lacks(analysis)) if said),
    )


def numbers(analysis: Analysis) -> tuple[tuple[str, str], ...]:
    """The main numbers of the whole bridge with their units, in reading order."""
    rows = [
        (_("Failure load"), _with_unit(analysis.failure_load_N, "N")),
        (_("Mass of the whole bridge"), _with_unit(analysis.mass_g, "g")),
        (_("Efficiency (failure load over weight, no unit)"), one_decimal(analysis.efficiency)),
        (
            _("Midspan deflection at the target load, down is positive"),
            _with_unit(analysis.midspan_deflection_mm, "mm"),
        ),
        (_("Members more than a stable truss needs (redundancy)"), str(analysis.degree)),
    ]
    return tuple((name, value) for name, value in rows if value)


def member_lines(analysis: Analysis) -> tuple[MemberLine, ...]:
    """The members in the file's order."""
    return tuple(_line(member) for member in analysis.members)


def stops(analysis: Analysis) -> tuple[Stop, ...]:
    """The deck joints from left to right; nothing where the load stands still."""
    travel = analysis.travel
    if travel is None:
        return ()
    each = zip(travel.joints, travel.places_mm, travel.forces_N, strict=True)
    return tuple(Stop(joint, figure(x), _signed(force), joint == travel.worst) for joint, x, force in each)


def one_decimal(value: float | None) -> str:
    """An efficiency as boards and pages show it."""
    return "" if value is None else localised(f"{value:.1f}")


def _line(member: MemberRow) -> MemberLine:
    force = _signed(member.hardest_N)
    kind = {"T": "tension", "C": "compression"}.get(force[-1], "nothing")
    sign = force[0] if kind != "nothing" else ""
    return MemberLine(
        name=member.name,
        stick=member.stick if member.count == 1 else f"{member.stick} \N{MULTIPLICATION SIGN} {member.count}",
        length=figure(member.length_mm),
        force=force,
        kind=kind,
        stress=f"{sign}{figure(abs(member.stress_MPa))}",
        capacity="" if member.capacity_N is None else figure(member.capacity_N),
        utilisation=f"{figure(100 * member.utilisation)} %",
        fails_by=_(SHORT_MODES[member.mode]) + (f", {_(SHORT_WAYS[member.axis])}" if member.axis else ""),
        over=member.utilisation > 1,
        range=_range(member.range_N),
    )


def _range(forces_N: tuple[float, float] | None) -> str:
    if not forces_N:
        return ""
    return _("{least} to {largest}", least=_signed(forces_N[0]), largest=_signed(forces_N[1]))


def _signed(force_N: float) -> str:
    """``+83.1 T``, ``−62 C`` or ``0``."""
    size = figure(abs(force_N))
    if size == "0":
        return size
    return f"+{size} T" if force_N > 0 else f"\N{MINUS SIGN}{size} C"


def _with_unit(value: float | None, unit: str) -> str:
    return "" if value is None else f"{figure(value)} {unit}"
