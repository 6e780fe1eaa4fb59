"""What the brief allows, and what of it a truss does not keep."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from itertools import pairwise

from rubric.brief import ALONG, TRAVELLING, Brief
from rubric.language import _, later
from rubric.wording import amount
from worker.strength.slenderness import too_slender
from worker.truss.model import Truss
from worker.truss.placing import deck

SLACK = 1e-9
"""Relative: rounding noise alone breaks no limit."""


def depth_above_mm(truss: Truss) -> float:
    """Height of the highest joint over the deck line y = 0; never negative."""
    return max(0.0, max((place[1] for place in truss.joints.values()), default=0.0))


def depth_below_mm(truss: Truss) -> float:
    """Depth of the lowest joint under the deck line, as a positive number."""
    return max(0.0, -min((place[1] for place in truss.joints.values()), default=0.0))


def stick_length_mm(truss: Truss, sides: int) -> dict[str, float]:
    """Length of each kind of stick that the whole bridge needs, without waste."""
    total: Counter[str] = Counter()
    for member in truss.members:
        total[member.stick] += sides * member.count * truss.length_mm(member)  # type: ignore[assignment]
    return dict(total)


def kit_used(truss: Truss, brief: Brief) -> float:
    """Needed over available length, for the stick where it is highest; 1 is the whole kit."""
    needed = stick_length_mm(truss, brief.sides)
    return max((n / (brief.stock[s].length_mm * brief.stock[s].count) for s, n in needed.items()), default=0.0)


def broken(truss: Truss, brief: Brief, mass_g: float, forces_N: Mapping[str, float] | None = None) -> tuple[str, ...]:
    """Each limit that is not kept, in a sentence a student reads.

    ``forces_N``, tension positive, tells the struts, which alone a limit of slenderness binds.
    """
    limits = brief.limits
    lengths = {member.name: truss.length_mm(member) for member in truss.members}
    checks = [
        (
            later("The highest joint is {value} above the deck; the brief allows {bound}."),
            depth_above_mm(truss),
            limits.depth_above_mm,
            "mm",
        ),
        (
            later("The lowest joint is {value} below the deck; the brief allows {bound}."),
            depth_below_mm(truss),
            limits.depth_below_mm,
            "mm",
        ),
        (later("The whole bridge has a mass of {value}; the brief allows {bound}."), mass_g, limits.mass_g, "g"),
        (later("One side has {value} joints; the brief allows {bound}."), float(len(truss.joints)), limits.joints, ""),
    ]
    said = [
        _(words, value=amount(value, unit), bound=amount(bound, unit))
        for words, value, bound, unit in checks
        if bound is not None and value > bound * (1 + SLACK)
    ]
    return (
        *said,
        *_lengths(lengths, brief),
        *_deck_panels(truss, brief),
        *too_slender(truss, brief, forces_N or {}),
        *_kit(truss, brief),
    )


def _lengths(lengths: dict[str, float], brief: Brief) -> list[str]:
    most, least = brief.limits.longest_member_mm, brief.limits.shortest_member_mm
    said = []
    if lengths and most is not None and max(lengths.values()) > most * (1 + SLACK):
        name = max(lengths, key=lengths.__getitem__)
        said.append(
            _(
                "Member {name} is {length} long; the brief allows {most}.",
                name=name,
                length=amount(lengths[name], "mm"),
                most=amount(most, "mm"),
            )
        )
    if lengths and least is not None and min(lengths.values()) < least * (1 - SLACK):
        name = min(lengths, key=lengths.__getitem__)
        said.append(
            _(
                "Member {name} is only {length} long; the brief asks for {least} or more.",
                name=name,
                length=amount(lengths[name], "mm"),
                least=amount(least, "mm"),
            )
        )
    return said


def _deck_panels(truss: Truss, brief: Brief) -> list[str]:
    """Under a load that may stand all along the deck, no panel of the deck may be longer than a member may be.

    Else a truss with joints at its supports alone would hand nearly all of the load straight to them.
    """
    most = brief.limits.longest_member_mm
    if brief.load.places not in (ALONG, TRAVELLING) or most is None:
        return []
    names = deck(truss, brief.span_mm)
    gaps = [(truss.joints[b][0] - truss.joints[a][0], a, b) for a, b in pairwise(names)]
    longest, a, b = max(gaps, default=(0.0, "", ""))
    if longest <= most * (1 + SLACK):
        return []
    return [
        _(
            "The deck runs {length} from joint {a} to joint {b} without a joint between; the brief allows {most}.",
            length=amount(longest, "mm"),
            a=a,
            b=b,
            most=amount(most, "mm"),
        )
    ]


def _kit(truss: Truss, brief: Brief) -> list[str]:
    said = []
    for stick, needed in stick_length_mm(truss, brief.sides).items():
        kind = brief.stock[stick]
        if needed > kind.length_mm * kind.count * (1 + SLACK):
            said.append(
                _(
                    "The whole bridge needs {needed} of {stick}; the kit holds {kit}.",
                    needed=amount(needed, "mm"),
                    stick=stick,
                    kit=amount(kind.length_mm * kind.count, "mm"),
                )
            )
        longest = max((truss.length_mm(m) for m in truss.members if m.stick == stick), default=0.0)
        if longest > kind.length_mm * (1 + SLACK):
            said.append(
                _(
                    "A member of {longest} is longer than one {stick} stick of {length}.",
                    longest=amount(longest, "mm"),
                    stick=stick,
                    length=amount(kind.length_mm, "mm"),
                )
            )
    return said
