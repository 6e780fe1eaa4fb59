"""What a drawing says, in words: for ears, and for anyone who wants it in a sentence."""

from __future__ import annotations

import math
from collections.abc import Sequence

from rubric.brief import ALONG, TRAVELLING, Brief
from rubric.messages.outcomes import Analysis, JointRow
from rubric.wording import WAYS, amount, figure, listed, plural
from worker.feedback.text import clean, isolated

_MANY = 40
"""Beyond this many members only the hardest worked are read out."""
_SOME = 12

BREAKS = {
    "tension": "it is pulled apart",
    "crushing": "it is crushed",
    "buckling": "it buckles, which means it bends under the push",
    "bending": "it breaks where it is bent most, at a stiff joint",
    "joint": "its glued end shears off",
    "none": "it fails",
}
"""How a member fails, by mode, after 'member x breaks first:'."""


def name(text: str) -> str:
    """A name of a joint or member within a sentence."""
    return clean(text, 24)


def forces_said(analysis: Analysis) -> str:
    """The drawing of the forces, read out."""
    largest = max((abs(m.force_N) for m in analysis.members), default=0.0)
    rows = analysis.members
    if len(rows) > _MANY:
        rows = tuple(sorted(rows, key=lambda m: -m.utilisation)[:_SOME])
    said = []
    for row in rows:
        if abs(row.force_N) <= 1e-6 * largest:
            said.append(f"{name(row.name)} 0")
        else:
            said.append(f"{name(row.name)} {figure(abs(row.force_N))} {'T' if row.force_N > 0 else 'C'}")
    which = "Forces" if len(rows) == len(analysis.members) else f"The {_SOME} members that work hardest"
    return " ".join(
        sentence
        for sentence in (
            truss_said(analysis),
            f"{which} in newtons, T for tension (positive), C for compression (negative): {', '.join(said)}.",
            _reactions_said(analysis),
            breaks_first_said(analysis),
        )
        if sentence
    )


def breaks_first_said(analysis: Analysis) -> str:
    """Which member breaks first and how; nothing where none does."""
    first = analysis.first_failure
    if first is None:
        return ""
    where = f" when the load stands on joint {isolated(analysis.travel.worst, 24)}" if analysis.travel else ""
    way = WAYS.get(first.axis or "", "out sideways") if first.mode == "buckling" else ""
    return f"Member {isolated(first.member, 24)} breaks first{where}: {BREAKS[first.mode]} {way}".rstrip() + "."


def truss_said(analysis: Analysis) -> str:
    """Members, joints, supports and loads, counted and named."""
    held = [f"{name(j.name)} ({j.support})" for j in analysis.joints if j.support]
    loads = [f"{_vector_said(j.load_N)} at {name(j.name)}" for j in analysis.joints if math.hypot(*j.load_N) > 0]
    text = f"A truss of {plural(len(analysis.members), 'member')} and {plural(len(analysis.joints), 'joint')}"
    text += f", held at {listed(held)}." if held else ", held nowhere."
    return text + (f" It is loaded with {listed(loads)}." if loads else "")


def _reactions_said(analysis: Analysis) -> str:
    said = [
        f"{_vector_said(j.reaction_N)} at {name(j.name)}"
        for j in analysis.joints
        if j.reaction_N is not None and math.hypot(*j.reaction_N) > 0
    ]
    return f"The supports push with {listed(said)}." if said else ""


def _vector_said(vector: tuple[float, float]) -> str:
    x, y = vector
    noise = 1e-6 * math.hypot(x, y)
    parts = [f"{figure(abs(y))} N {'up' if y > 0 else 'down'}"] if abs(y) > noise else []
    if abs(x) > noise:
        parts.append(f"{figure(abs(x))} N to the {'right' if x > 0 else 'left'}")
    return listed(parts)


def mechanism_said(
    analysis: Analysis, rings: Sequence[Sequence[str]] = (), bars: Sequence[tuple[str, str]] = ()
) -> str:
    """How a mechanism moves, which rings of members lean, and which members would stop it, read out."""
    rows = {j.name: j for j in analysis.joints}
    sense = with_the_load(analysis)
    moves = [f"{name(j)} {_way(rows[j], sense)}" for j in analysis.moving if j in rows][:_SOME]
    rest = len(analysis.moving) - len(moves)
    more = f" and {plural(rest, 'more joint')}" if rest > 0 else ""
    free = "It can move without any member changing length."
    which = "it" if analysis.mechanisms == 1 else "one of the ways to move"
    said = [f"{truss_said(analysis)} {free} These joints move: {', '.join(moves)}{more}."]
    said += [f"The shape {_ring(ring)} is no triangle: it leans." for ring in rings[:_SOME]]
    said += [f"A member from {name(a)} to {name(b)} would stop {which}." for a, b in bars]
    return " ".join(said)


def _ring(joints: Sequence[str]) -> str:
    return "-".join(name(joint) for joint in joints)


def with_the_load(analysis: Analysis) -> float:
    """1 or -1: which way the load would push a mechanism, whose movement has no sense of its own."""
    both = [(j.load_N, j.motion or (0.0, 0.0)) for j in analysis.joints]
    return -1.0 if sum(fx * x + fy * y for (fx, fy), (x, y) in both) < 0 else 1.0


def _way(row: JointRow, sense: float) -> str:
    x, y = (sense * part for part in row.motion or (0.0, 0.0))
    return "in another of the movements" if math.hypot(x, y) < 0.02 else direction_said((x, y))


def direction_said(way: tuple[float, float], exactly: bool = False) -> str:
    """``up``, ``to the left`` or ``down and to the right``; y up.  Not ``exactly``: what is nearly level is level."""
    x, y = way
    upright = "up" if y > 0 else "down"
    level = "to the right" if x > 0 else "to the left"
    part = 1e-3 if exactly else 0.25
    if abs(y) < part * abs(x):
        return level
    return upright if abs(x) < part * abs(y) else f"{upright} and {level}"


def envelope_said(brief: Brief) -> str:
    """The envelope of a brief, read out."""
    above, below = brief.limits.depth_above_mm, brief.limits.depth_below_mm
    room = [
        "no limit above the deck" if above is None else f"{amount(above, 'mm')} of room above the deck",
        "no limit below it" if below is None else f"{amount(below, 'mm')} below it" if below else "none below it",
    ]
    return (
        f"The bridge spans {amount(brief.span_mm, 'mm')} from the left support ({brief.supports.left}) to the "
        f"right one ({brief.supports.right}). It must carry {amount(brief.load.target_N, 'N')} "
        f"{where_said(brief)}. There is {listed(room)}."
    )


def where_said(brief: Brief) -> str:
    """Where the load stands."""
    places = brief.load.places
    if isinstance(places, str):
        return {
            "midspan": "in the middle of the span",
            ALONG: "spread along the deck",
            TRAVELLING: "on each joint of the deck in turn",
        }[places]
    return f"at {listed([figure(place) for place in places])} mm from the left support"
