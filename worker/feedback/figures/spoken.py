"""What a drawing says, in words: for ears, and for anyone who wants it in a sentence."""

from __future__ import annotations

import math
from collections.abc import Sequence

from rubric.brief import ALONG, TRAVELLING, Brief
from rubric.language import _, counted, later
from rubric.messages.outcomes import Analysis, JointRow
from rubric.wording import WAYS, amount, figure, listed
from worker.feedback.text import clean, isolated

_MANY = 40
"""Beyond this many members only the hardest worked are read out."""
_SOME = 12

BREAKS = {
    "tension": later("it is pulled apart"),
    "crushing": later("it is crushed"),
    "buckling": later("it buckles, which means it bends under the push"),
    "bending": later("it breaks where it is bent most, at a stiff joint"),
    "joint": later("its glued end shears off"),
    "none": later("it fails"),
}
"""How a member fails, by mode, after 'member x breaks first:'."""

_STANDS = {"pin": later("{joint} (pin)"), "roller": later("{joint} (roller)")}


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
    forces = ", ".join(said)
    if len(rows) == len(analysis.members):
        all_said = _(
            "Forces in newtons, T for tension (positive), C for compression (negative): {forces}.", forces=forces
        )
    else:
        all_said = _(
            "The {count} members that work hardest in newtons, T for tension (positive), C for compression "
            "(negative): {forces}.",
            count=_SOME,
            forces=forces,
        )
    sentences = (truss_said(analysis), all_said, _reactions_said(analysis), breaks_first_said(analysis))
    return " ".join(filter(None, sentences))


def breaks_first_said(analysis: Analysis) -> str:
    """Which member breaks first and how; nothing where none does."""
    first = analysis.first_failure
    if first is None:
        return ""
    how = _(BREAKS[first.mode])
    if first.mode == "buckling":
        way = _(WAYS[first.axis]) if first.axis else _("out sideways")
        how = f"{how} {way}"
    member = isolated(first.member, 24)
    if analysis.travel is None:
        return _("Member {member} breaks first: {how}.", member=member, how=how)
    return _(
        "Member {member} breaks first when the load stands on joint {joint}: {how}.",
        member=member,
        joint=isolated(analysis.travel.worst, 24),
        how=how,
    )


def truss_said(analysis: Analysis) -> str:
    """Members, joints, supports and loads, counted and named."""
    held = [held_said(name(j.name), j.support) for j in analysis.joints if j.support]
    loads = [_at(j.load_N, j) for j in analysis.joints if math.hypot(*j.load_N) > 0]
    members = counted("{count} member", "{count} members", len(analysis.members))
    joints = counted("{count} joint", "{count} joints", len(analysis.joints))
    if held:
        values = {"members": members, "joints": joints, "supports": listed(held)}
        said = _("A truss of {members} and {joints}, held at {supports}.", **values)
    else:
        said = _("A truss of {members} and {joints}, held nowhere.", members=members, joints=joints)
    loaded = _("It is loaded with {loads}.", loads=listed(loads))
    return f"{said} {loaded}" if loads else said


def held_said(joint: str, support: str) -> str:
    """A joint and its support: ``a (pin)``, ``e (roller)`` or ``e (roller 30)``."""
    kind, _gap, slope = support.partition(" ")
    if slope:
        return _("{joint} (roller {slope})", joint=joint, slope=slope)
    return _(_STANDS.get(kind, f"{{joint}} ({kind})"), joint=joint)


def _at(vector: tuple[float, float], joint: JointRow) -> str:
    return _("{force} at {joint}", force=_vector_said(vector), joint=name(joint.name))


def _reactions_said(analysis: Analysis) -> str:
    said = [_at(j.reaction_N, j) for j in analysis.joints if j.reaction_N is not None and math.hypot(*j.reaction_N) > 0]
    return _("The supports push with {forces}.", forces=listed(said)) if said else ""


def _vector_said(vector: tuple[float, float]) -> str:
    x, y = vector
    noise = 1e-6 * math.hypot(x, y)
    parts = [(y, _("up") if y > 0 else _("down")), (x, _("to the right") if x > 0 else _("to the left"))]
    return listed([f"{figure(abs(size))} N {way}" for size, way in parts if abs(size) > noise])


def mechanism_said(
    analysis: Analysis, rings: Sequence[Sequence[str]] = (), bars: Sequence[tuple[str, str]] = ()
) -> str:
    """How a mechanism moves, which rings of members lean, and which members would stop it, read out."""
    rows = {j.name: j for j in analysis.joints}
    sense = with_the_load(analysis)
    moves = [f"{name(j)} {_way(rows[j], sense)}" for j in analysis.moving if j in rows][:_SOME]
    rest = len(analysis.moving) - len(moves)
    joints = ", ".join(moves)
    if rest > 0:
        joints = counted("{joints} and {count} more joint", "{joints} and {count} more joints", rest, joints=joints)
    stops = (
        _("A member from {start} to {end} would stop it.")
        if analysis.mechanisms == 1
        else _("A member from {start} to {end} would stop one of the ways to move.")
    )
    said = [truss_said(analysis), _("It can move without any member changing length.")]
    said += [_("These joints move: {joints}.", joints=joints)]
    said += [_("The shape {ring} is no triangle: it leans.", ring=_ring(ring)) for ring in rings[:_SOME]]
    said += [stops.format(start=name(a), end=name(b)) for a, b in bars]
    return " ".join(said)


def _ring(joints: Sequence[str]) -> str:
    return "-".join(name(joint) for joint in joints)


def with_the_load(analysis: Analysis) -> float:
    """1 or -1: which way the load would push a mechanism, whose movement has no sense of its own."""
    both = [(j.load_N, j.motion or (0.0, 0.0)) for j in analysis.joints]
    return -1.0 if sum(fx * x + fy * y for (fx, fy), (x, y) in both) < 0 else 1.0


def _way(row: JointRow, sense: float) -> str:
    x, y = (sense * part for part in row.motion or (0.0, 0.0))
    return _("in another of the movements") if math.hypot(x, y) < 0.02 else direction_said((x, y))


def direction_said(way: tuple[float, float], exactly: bool = False) -> str:
    """``up``, ``to the left`` or ``down and to the right``; y up.  Not ``exactly``: what is nearly level is level."""
    x, y = way
    upright = _("up") if y > 0 else _("down")
    level = _("to the right") if x > 0 else _("to the left")
    part = 1e-3 if exactly else 0.25
    if abs(y) < part * abs(x):
        return level
    return upright if abs(x) < part * abs(y) else _("{upright} and {level}", upright=upright, level=level)


def envelope_said(brief: Brief) -> str:
    """The envelope of a brief, read out."""
    above, below = brief.limits.depth_above_mm, brief.limits.depth_below_mm
    over = (
        _("no limit above the deck")
        if above is None
        else _("{height} of room above the deck", height=amount(above, "mm"))
    )
    under = _("none below it") if not below else _("{height} below it", height=amount(below, "mm"))
    left, right = _("the left support"), _("the right one")
    spans = _(
        "The bridge spans {span} from {left} to {right}.",
        span=amount(brief.span_mm, "mm"),
        left=held_said(left, brief.supports.left),
        right=held_said(right, brief.supports.right),
    )
    carries = _("It must carry {load} {where}.", load=amount(brief.load.target_N, "N"), where=where_said(brief))
    room = listed([over, _("no limit below it") if below is None else under])
    there = _("There is {room}.", room=room)
    return f"{spans} {carries} {there}"


def where_said(brief: Brief) -> str:
    """Where the load stands."""
    places = brief.load.places
    if isinstance(places, str):
        return {
            "midspan": _("in the middle of the span"),
            ALONG: _("spread along the deck"),
            TRAVELLING: _("on each joint of the deck in turn"),
        }[places]
    return _("at {places} mm from the left support", places=listed([figure(place) for place in places]))
