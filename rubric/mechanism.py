"""Why a truss moves and in how many ways, in sentences that pages and sheets share."""

from __future__ import annotations

from collections.abc import Callable

from rubric.language import _, counted, later
from rubric.messages.outcomes import Analysis
from rubric.wording import listed

_ORDER = (later("In the first, {who}."), later("In the second, {who}."), later("In the third, {who}."))
_MOST_NAMED = 6
_CRITICAL = later(
    "No member is missing: it moves because of its shape. That is called a critical form. "
    "Moving a joint would stop it. Where a joint must stay, one more member would."
)


def lacks(analysis: Analysis) -> str:
    """Whether members are missing, or the members are enough and the form is critical."""
    missing, critical = analysis.missing_bars, analysis.critical
    if not missing:
        return _(_CRITICAL) if critical else ""
    said = counted("{count} member is missing.", "{count} members are missing.", missing)
    if not critical:
        return said
    more = counted(
        "In one more way it moves because of its shape: moving a joint would stop that.",
        "In {count} more ways it moves because of its shape: moving a joint would stop that.",
        critical,
    )
    return f"{said} {more}"


def ways(analysis: Analysis, name: Callable[[str], str] = str) -> str:
    """How many ways it can move and which joints move in each of the first; nothing where there is one way alone."""
    if analysis.mechanisms < 2 or not analysis.ways:
        return ""
    each = [
        _(order, who=_who(tuple(map(name, joints)), again=joints in analysis.ways[:index]))
        for index, (order, joints) in enumerate(zip(_ORDER, analysis.ways, strict=False))
    ]
    said = _("It can move in {count} ways, and the drawing shows the first.", count=analysis.mechanisms)
    return " ".join((said, *each))


def _who(joints: tuple[str, ...], again: bool) -> str:
    if again:
        return counted("the same joint moves another way", "the same joints move another way", len(joints))
    if len(joints) == 1:
        return _("joint {joint} moves", joint=joints[0])
    rest = len(joints) - _MOST_NAMED
    if rest > 0:
        return _("joints {joints} and {count} more move", joints=", ".join(joints[:_MOST_NAMED]), count=rest)
    return _("joints {joints} move", joints=listed(joints))
