"""Lines in mm: three decimals, so that nothing is lost before the page is set."""

from __future__ import annotations

from collections.abc import Sequence

from rubric.drawing.svg import element

Point = tuple[float, float]

OUTLINE_MM = 0.25
CENTRE_MM = 0.13
SEAM_MM = 0.2
CENTRE_DASHES = "6 1.2 0.8 1.2"
SEAM_DASHES = "2.5 1.5"


def mm(value: float) -> str:
    """A length to a thousandth of a mm."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def path(points: Sequence[Point], closed: bool = False, **attributes: str | float | None) -> str:
    """A line through ``points``; numbers among the attributes are widths in mm."""
    route = "L".join(f"{mm(x)} {mm(y)}" for x, y in points)
    written = {key: mm(value) if isinstance(value, float | int) else value for key, value in attributes.items()}
    return element("path", d=f"M{route}{'Z' if closed else ''}", **({"fill": "none"} | written))


def ring(at: Point, radius: float, **attributes: str | float | None) -> str:
    """A circle."""
    written = {key: mm(value) if isinstance(value, float | int) else value for key, value in attributes.items()}
    return element("circle", cx=mm(at[0]), cy=mm(at[1]), r=mm(radius), **({"fill": "none"} | written))


def letter(text: str, at: Point, size: float, **attributes: str | float | None) -> str:
    """A few letters or figures of ours centred on ``at``."""
    where = {"x": mm(at[0]), "y": mm(at[1] + 0.36 * size), "font_size": mm(size), "text_anchor": "middle"}
    return element("text", text, **(where | attributes))
