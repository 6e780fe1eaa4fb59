"""Cross-sections as people write them: ``5 x 5 mm``, ``round 4 mm``, ``L 10 x 10 x 1.5 mm``, ``T 12 x 10 x 1.5 mm``."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Annotated, Any, Literal

from pydantic import PlainSerializer

from rubric.language import _, later
from rubric.problems import quoted
from rubric.quantities import number
from rubric.shapes import fault
from rubric.wording import figure
from rubric.written import reads, text_like

ProfileKind = Literal["rectangle", "round", "L", "T"]

LEAST_MM, MOST_MM = 0.1, 500.0


@dataclass(frozen=True)
class Profile:
    """The shape of a stick cut across, in mm.

    ``rectangle``: width, thickness.  ``round``: diameter.  ``L``: leg in the plane of the truss, leg
    across it, thickness.  ``T``: width of the flange across the plane, depth over all in the plane,
    thickness.  L and T are glued from strips of one sheet.
    """

    kind: ProfileKind
    sides_mm: tuple[float, ...]

    def __str__(self) -> str:
        """As a brief writes it; reading it gives the same profile."""
        word = "" if self.kind == "rectangle" else f"{self.kind} "
        return f"{word}{' x '.join(repr(side).removesuffix('.0') for side in self.sides_mm)} mm"

    @property
    def said(self) -> str:
        """As a page shows it."""
        size = f"{' × '.join(figure(side) for side in self.sides_mm)} mm"
        if self.kind == "round":
            return _("round {size}", size=size)
        return size if self.kind == "rectangle" else f"{self.kind} {size}"


_WRITTEN: dict[ProfileKind, tuple[int, str, str]] = {
    "rectangle": (2, later("width x thickness in mm, each 0.1 to 500"), "5 x 5 mm"),
    "round": (1, later("a diameter in mm, 0.1 to 500"), "round 4 mm"),
    "L": (
        3,
        later("leg x leg x thickness in mm, each 0.1 to 500, the thickness less than a leg"),
        "L 10 x 10 x 1.5 mm",
    ),
    "T": (
        3,
        later("width x depth x thickness in mm, each 0.1 to 500, the thickness less than both"),
        "T 12 x 10 x 1.5 mm",
    ),
}


def read_profile(value: Any) -> Profile:
    """A profile from what stands in a brief; two bare numbers are a rectangle.

    Raises
    ------
    PydanticCustomError
        With what was expected of that kind of section.
    """
    if isinstance(value, Profile):
        return value
    if isinstance(value, list | tuple) and len(value) == 2:
        return Profile("rectangle", (float(value[0]), float(value[1])))
    text = str(value).strip()
    kind, rest = _kind(text)
    count, expected, example = _WRITTEN[kind]
    match = re.fullmatch(r"(.*\S) *mm", rest)
    sides = [number(part) for part in re.split(r" *[x\u00d7] *", match[1])] if match else []
    known = tuple(side for side in sides if side is not None and LEAST_MM <= side <= MOST_MM)
    thick = count == 3 and len(known) == 3 and known[2] >= min(known[:2])
    if len(sides) != count or len(known) != count or thick:
        raise fault(quoted(text), _(expected), _("write for example '{example}'.", example=example))
    return Profile(kind, known)


def _kind(text: str) -> tuple[ProfileKind, str]:
    """The kind that a leading word names, and the text after it."""
    word, _, rest = text.partition(" ")
    kinds: tuple[ProfileKind, ...] = ("round", "L", "T")
    for kind in kinds:
        if word.casefold() == kind.casefold():
            return kind, rest.strip()
    return "rectangle", text


_SIDE = r" *[0-9.]+ *"
_SECTION = text_like(rf"(?:{_SIDE}[x×]{_SIDE}|[Rr][Oo][Uu][Nn][Dd] {_SIDE}|[LlTt] {_SIDE}[x×]{_SIDE}[x×]{_SIDE})mm")

Section = Annotated[Profile, reads(read_profile, _SECTION), PlainSerializer(str, return_type=str)]
