"""What is said of a file that is still being written.  Pure: a sketch in, values for a template out."""

from __future__ import annotations

import secrets
from typing import Any

from rubric.language import _, counted
from rubric.messages.outcomes import Sketched
from service.classes.sketches import stage
from service.records.models import Sketch


def looked(sketch: Sketch | None) -> dict[str, Any]:
    """``look``: how far it is; ``seen``: the outcome; ``said``: it in one line, for ears and the phone."""
    here = stage(sketch)
    seen = Sketched.model_validate(sketch.outcome) if sketch is not None and here == "done" else None
    # A page that loads itself again under the very same address, with a place in it, would only scroll.
    return {
        "again": secrets.token_hex(3),
        "look": here,
        "seen": seen,
        "said": in_short(seen) if seen else "",
        "look_at": sketch,
    }


def in_short(seen: Sketched) -> str:
    """What was understood, in a line."""
    parts = [_("Understood: {what}.", what=understood(seen))]
    if seen.mistakes:
        parts.append(counted("{count} place to mend.", "{count} places to mend.", len(seen.mistakes)))
    elif seen.stands is not None:
        parts.append(_("It stands.") if seen.stands else _("It does not stand yet."))
    return " ".join(parts)


def understood(seen: Sketched) -> str:
    """Joints, members and answers, counted."""
    counts = _(
        "{joints} and {members}",
        joints=counted("{count} joint", "{count} joints", seen.joints),
        members=counted("{count} member", "{count} members", seen.members),
    )
    if not seen.joints and not seen.members:
        counts = _("no joint and no member yet")
    if not seen.answers:
        return counts
    return counted(
        "{counts}, and {count} answer worked out by hand",
        "{counts}, and {count} answers worked out by hand",
        seen.answers,
        counts=counts,
    )
