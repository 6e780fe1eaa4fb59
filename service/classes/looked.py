"""What is said of a file that is still being written.  Pure: a sketch in, values for a template out."""

from __future__ import annotations

import secrets
from typing import Any

from rubric.messages.outcomes import Sketched
from rubric.wording import plural
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
    parts = [f"Understood: {understood(seen)}."]
    if seen.mistakes:
        parts.append(f"{plural(len(seen.mistakes), 'place')} to mend.")
    elif seen.stands is not None:
        parts.append("It stands." if seen.stands else "It does not stand yet.")
    return " ".join(parts)


def understood(seen: Sketched) -> str:
    """Joints, members and answers, counted."""
    counts = f"{plural(seen.joints, 'joint')} and {plural(seen.members, 'member')}"
    if not seen.joints and not seen.members:
        counts = "no joint and no member yet"
    return f"{counts}, and {plural(seen.answers, 'answer')} worked out by hand" if seen.answers else counts
