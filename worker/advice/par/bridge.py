"""Par of a brief: the lightest bridge that any truss could make, and the efficiency it would reach."""

from __future__ import annotations

import math
from dataclasses import dataclass

from rubric.brief import ALONG, TRAVELLING, Brief
from worker.advice.par.layout import COLUMNS, Par, par
from worker.strength.bridge import weight_N
from worker.strength.wood import wood
from worker.truss.placing import support_said

USEFUL_DEPTH = 0.5
"""Part of the span: the envelope where the brief sets no depth, or a greater one.

Michell's beam over a load at midspan is a half circle on the span; par was the same with 0.75 and 1 for loads at 0.5,
0.25 and 0.1 of the span.
"""

FEWEST_PANELS = 2


@dataclass(frozen=True)
class BridgePar:
    """Par of the whole bridge: ``side`` is the lightest truss for one side's share of the load.

    ``wood_g`` is the mass of all sides, ``ties_g`` of the cross members, at the target load.
    """

    side: Par
    target_N: float
    wood_g: float
    ties_g: float

    @property
    def mass_g(self) -> float:
        """The least mass of the whole bridge."""
        return self.wood_g + self.ties_g

    @property
    def efficiency(self) -> float:
        """Target load over weight of a bridge that carries just the target load; a pure number."""
        return self.efficiency_at(self.target_N)

    def efficiency_at(self, load_N: float) -> float:
        """Load over weight of the lightest bridge for another load: its wood grows with it, its ties do not.

        A bridge that fails at more than the target load is to be compared with this one.
        """
        return load_N / weight_N(self.wood_g * load_N / self.target_N + self.ties_g)


def par_of(brief: Brief, columns: int = COLUMNS) -> BridgePar | None:
    """Par of a brief, with the limits that ``par`` states; None where no truss in the envelope can carry the load.

    Depth limits are kept; one that is missing, or greater, counts as half the span.  Limits on members, joints
    and kit are not kept, which can only make par lighter.  A load along the deck stands at equal
    panels, the fewest that the longest member allows and at least two: fewer panels hand more of the load
    straight to the supports.  A truss with uneven panels can need less wood than this.  A load that stands on
    each deck joint in turn is put half a longest member from midspan: one joint of the deck is never farther from
    it (without that limit there is no par).  Self-weight is left out, and joints are hinges.
    """
    material, most = wood(brief.wood), USEFUL_DEPTH * brief.span_mm
    above, below = (
        most if d is None else min(d, most) for d in (brief.limits.depth_above_mm, brief.limits.depth_below_mm)
    )
    side = par(
        brief.span_mm,
        above,
        below,
        {(0.0, 0.0): support_said(brief.supports.left), (brief.span_mm, 0.0): support_said(brief.supports.right)},
        {(x, 0.0): (0.0, -load) for x, load in _loads(brief).items()},
        material.tension_MPa,
        material.compression_MPa,
        columns,
    )
    if side is None:
        return None
    wood_g = brief.sides * material.density_kg_m3 * 1e-6 * side.volume_mm3
    return BridgePar(side, brief.load.target_N, wood_g, brief.cross_members.mass_g if brief.cross_members else 0.0)


def _loads(brief: Brief) -> dict[float, float]:
    """Downward force on one side by place on the deck, N."""
    span, side_N = brief.span_mm, brief.load.target_N * brief.side_share
    longest = min(brief.limits.longest_member_mm or span, span)
    if brief.load.places == TRAVELLING:
        return {(span - longest) / 2: side_N} if longest < span else {}
    if brief.load.places == ALONG:
        panels = max(FEWEST_PANELS, math.ceil(span / longest - 1e-9))
        return {span * i / panels: side_N / panels for i in range(1, panels)}
    places = (span / 2,) if isinstance(brief.load.places, str) else brief.load.places
    return {x: side_N / len(places) for x in places}
