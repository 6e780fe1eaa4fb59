"""How to cut each stick of a kit: its pieces in their order, drawn to one scale."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from rubric.drawing import palette
from rubric.drawing.boxes import text_width
from rubric.drawing.svg import drawing, element, line, words
from rubric.drawing.text import clean
from rubric.language import _, counted
from rubric.messages.outcomes import CutStick, Figure, StickNeed
from rubric.wording import amount, figure

_LEFT, _RIGHT = 76.0, palette.WIDTH - 12
_ROW, _STICK = 26.0, 17.0
_SIZE = 10.0
MOST = 40
"""Sticks drawn."""


def sticks(needs: Sequence[StickNeed], lengths_mm: Mapping[str, float]) -> Figure | None:
    """Draw the layout of each stick, lengths in mm; None where no layout is known.

    ``lengths_mm`` gives the length of a stick of each kind.  A piece too short for its words shows its length alone
    or nothing, and those are counted.
    """
    layouts = [(need.stick, stick) for need in needs if need.stick in lengths_mm for stick in need.layout]
    if not layouts:
        return None
    scale = (_RIGHT - _LEFT) / max(lengths_mm[name] for name, _ in layouts)
    drawn: list[str] = []
    missing = 0
    for index, (name, stick) in enumerate(layouts[:MOST]):
        y = 18 + index * _ROW
        drawn.append(words(f"{clean(name, 9)} {_number(layouts, index)}", (8, y), text_anchor="start", font_size=11))
        found, without = _stick(stick, lengths_mm[name], y, scale)
        drawn += found
        missing += without
    bottom = 18 + min(len(layouts), MOST) * _ROW
    for text in _notes(missing, len(layouts) - MOST):
        drawn.append(words(text, (8, bottom), text_anchor="start"))
        bottom += 17
    shifted = element("g", *drawn, transform="translate(0 0)")
    return drawing([shifted], bottom, _("How to cut the sticks"), _said(layouts))


def _number(layouts: Sequence[tuple[str, CutStick]], index: int) -> int:
    """Which stick of its kind it is, from 1."""
    return sum(name == layouts[index][0] for name, _ in layouts[: index + 1])


def _stick(stick: CutStick, length_mm: float, y: float, scale: float) -> tuple[list[str], int]:
    """The stick with a stroke at each cut, and how many pieces have no room for a word."""
    outline: dict[str, str | float | None] = {"stroke": palette.INK, "stroke_width": 1.2}
    wide, top = length_mm * scale, y - _STICK / 2
    drawn = [element("rect", x=_LEFT, y=top, width=wide, height=_STICK, fill=palette.SHADE, **outline)]
    kerf_mm = _kerf_mm(stick, length_mm)
    x, missing = _LEFT, 0
    for name, mm in stick.pieces:
        end = x + mm * scale
        drawn.append(element("rect", x=x, y=top, width=end - x, height=_STICK, fill=palette.PAPER, **outline))
        text = next((text for text in _texts(name, mm) if text_width(text, _SIZE) < end - x - 4), "")
        drawn.append(words(text, ((x + end) / 2, y), font_size=_SIZE) if text else "")
        missing += not text
        x = end + kerf_mm * scale
    left = amount(stick.left_mm, "mm")
    over = next(
        (
            text
            for text in (_("{length} left over", length=left), left)
            if text_width(text, _SIZE) < _LEFT + wide - x - 4
        ),
        "",
    )
    drawn.append(words(over, ((x + _LEFT + wide) / 2, y), font_size=_SIZE) if over and stick.left_mm else "")
    drawn.append(line((_LEFT, top), (_LEFT, top + _STICK), stroke=palette.INK, stroke_width=2))
    return drawn, missing


def _kerf_mm(stick: CutStick, length_mm: float) -> float:
    """What each cut takes away: the rest of the stick, shared among the cuts."""
    taken = length_mm - sum(mm for _, mm in stick.pieces) - stick.left_mm
    return max(0.0, taken / max(1, len(stick.pieces)))


def _texts(name: str, mm: float) -> tuple[str, ...]:
    """What a piece says, the fullest first."""
    member = clean(name.split(" side ")[0], 20)
    return f"{clean(name, 30)}: {amount(mm, 'mm')}", f"{member}: {figure(mm)}", figure(mm)


def _notes(missing: int, more: int) -> list[str]:
    notes = [_("Grey is left over. Lengths are mm.")]
    if missing:
        notes.append(
            counted(
                "{count} piece had no room for a word in this drawing.",
                "{count} pieces had no room for a word in this drawing.",
                missing,
            )
        )
    if more > 0:
        notes.append(counted("{count} more stick is not drawn.", "{count} more sticks are not drawn.", more))
    return notes


def _said(layouts: Sequence[tuple[str, CutStick]]) -> str:
    each = []
    for index, (name, stick) in enumerate(layouts[:MOST]):
        pieces = ", ".join(f"{clean(piece, 30)} {amount(mm, 'mm')}" for piece, mm in stick.pieces)
        left = _("left over {length}", length=amount(stick.left_mm, "mm"))
        each.append(f"{clean(name, 20)} {_number(layouts, index)}: {pieces}, {left}")
    return _("The pieces of each stick, in the order of cutting. {sticks}.", sticks="; ".join(each))
