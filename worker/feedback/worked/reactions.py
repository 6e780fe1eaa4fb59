"""The reactions from turning about the left support, for a bridge on a pin and a roller, or two level supports.

Sum of turning about the left support = 0: each load times its distance, against the right reaction times the span.
"""

from __future__ import annotations

from rubric.language import _
from rubric.messages.outcomes import Analysis, JointRow
from rubric.wording import figure
from worker.feedback.text import isolated
from worker.feedback.worked.numbers import Decimals

MOST_LOADS = 6
"""So many loads are written out one by one; more are said in one sum."""

LEVEL = 1e-9
"""Part of the load below which a reaction across is none."""


def reactions(analysis: Analysis) -> tuple[str, ...]:
    """Sentences that find both reactions; nothing where a support pushes sideways or there are not two.

    Loads that do not hang straight down are left alone too.
    """
    held = sorted((row for row in analysis.joints if row.reaction_N is not None), key=lambda row: row.x_mm)
    loads = [row for row in analysis.joints if row.load_N[1] or row.own_weight_N]
    if analysis.state != "stable" or len(held) != 2 or not loads or any(row.load_N[0] for row in loads):
        return ()
    left, right = held
    assert left.reaction_N is not None
    assert right.reaction_N is not None
    total_N = sum(_down(row) for row in loads)
    if abs(left.reaction_N[0]) > LEVEL * total_N or left.y_mm != right.y_mm:
        return ()
    return _worked(left, right, loads, total_N)


def _down(row: JointRow) -> float:
    return row.own_weight_N - row.load_N[1]


def _worked(left: JointRow, right: JointRow, loads: list[JointRow], total_N: float) -> tuple[str, ...]:
    assert left.reaction_N is not None
    assert right.reaction_N is not None
    turning = sum(_down(row) * (row.x_mm - left.x_mm) for row in loads)
    span = right.x_mm - left.x_mm
    N, names = Decimals.of([total_N]), (isolated(left.name, 20), isolated(right.name, 20))
    each = [row for row in loads if row.x_mm != left.x_mm]
    if len(each) <= MOST_LOADS:
        products = " + ".join(f"{N.said(_down(row))} × {figure(row.x_mm - left.x_mm, 4)}" for row in each)
        known = f"{products} = {figure(turning, 5)} N mm"
    else:
        known = _(
            "all loads times their distances from {joint} make {turning} N mm",
            joint=names[0],
            turning=figure(turning, 5),
        )
    values = {"left": names[0], "right": names[1], "right_N": N.said(right.reaction_N[1])}
    return (
        _(
            "Turning about {left}: {known}. The support at {right} is {span} mm away. "
            "So it pushes up with {turning} / {span} = {right_N} N.",
            known=known,
            span=figure(span, 4),
            turning=figure(turning, 5),
            **values,
        ),
        _(
            "All loads add up to {total} N. The support at {left} gives the rest: {total} − {right_N} = {left_N} N.",
            total=N.said(total_N),
            left_N=N.said(left.reaction_N[1]),
            **values,
        ),
    )
