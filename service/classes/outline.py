"""The outline of a bridge drawn from its fingerprint: no names, no sticks, the same size for all."""

from __future__ import annotations

from markupsafe import Markup

from rubric.language import _, counted
from rubric.messages.likeness import Fingerprint

SPAN = 10_000
"""A fingerprint measures in this many parts of the span."""

EDGE = 350


def outline(fingerprint: Fingerprint, turned: bool = False) -> Markup:
    """The drawing as SVG; ``turned``: mirrored left to right, so that it can be laid beside its like."""
    places = [(SPAN - x if turned else x, -y) for x, y in fingerprint.joints]
    xs, ys = [x for x, _ in places] or [0], [y for _, y in places] or [0]
    width, height = max(xs) - min(xs) + 2 * EDGE, max(ys) - min(ys) + 2 * EDGE
    bars = " ".join(f"M{places[p][0]} {places[p][1]}L{places[q][0]} {places[q][1]}" for p, q in fingerprint.bars)
    dots = Markup("").join(Markup('<circle cx="{}" cy="{}" r="90"/>').format(x, y) for x, y in places)
    joints = counted("{count} joint", "{count} joints", len(places))
    members = counted("{count} member", "{count} members", len(fingerprint.bars))
    said = _("Outline of a bridge with {joints} and {members}", joints=joints, members=members)
    return Markup(
        '<svg class="outline" xmlns="http://www.w3.org/2000/svg" viewBox="{} {} {} {}" role="img" aria-label="{}">'
        '<path d="{}"/>{}</svg>'
    ).format(min(xs) - EDGE, min(ys) - EDGE, width, height, said, bars, dots)
