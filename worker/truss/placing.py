"""The brief's supports and loads, put on the joints of a truss.

The left support stands at [0, 0], the right one at [span, 0]; loads stand on the deck line y = 0
and pull down.  One side truss carries the brief's share of the whole bridge's load.
"""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

from rubric.brief import ALONG, REACH_MM, TRAVELLING, Brief
from rubric.language import _
from rubric.located import Place
from rubric.problems import Findings, quoted
from rubric.quantities import LENGTH_UNITS, number
from rubric.wording import plain_figure
from worker.truss.joints import NOWHERE
from worker.truss.model import Support, Truss, Vector

NEAR_MISS = 0.1
"""Part of the span: a joint this near to a place was probably meant for it."""


def place(truss: Truss, brief: Brief, at: Place, findings: Findings) -> Truss:
    """The truss with the brief's supports, and one side's share of the target load.

    A support or a loaded place without a joint is a problem, told ``at`` the block of joints.
    """
    needs = _Needs(truss, at, findings)
    supports = {
        name: support_said(said)
        for name, said in (
            (needs.joint(0.0, _("no joint for the left support")), brief.supports.left),
            (needs.joint(brief.span_mm, _("no joint for the right support")), brief.supports.right),
        )
        if name is not None
    }
    side_N = brief.load.target_N * brief.side_share
    return replace(
        truss, supports=supports, loads={name: (0.0, -p) for name, p in _loads(needs, brief, side_N).items()}
    )


def deck(truss: Truss, span_mm: float) -> list[str]:
    """Names of the joints on the deck line between the supports, from left to right."""
    on = [n for n, (x, y, *_) in truss.joints.items() if abs(y) <= REACH_MM and -REACH_MM <= x <= span_mm + REACH_MM]
    return sorted(on, key=lambda name: truss.joints[name][0])


def inner_deck(truss: Truss, span_mm: float) -> list[str]:
    """Names of the deck joints that stand over no support: there a load asks something of the truss."""
    return [name for name in deck(truss, span_mm) if REACH_MM < truss.joints[name][0] < span_mm - REACH_MM]


def spread(truss: Truss, span_mm: float, side_N: float) -> dict[str, float]:
    """A load spread evenly along the deck, to each deck joint by its tributary length, N downward; {} without any."""
    names = deck(truss, span_mm)
    if not names:
        return {}
    xs = [truss.joints[name][0] for name in names]
    edges = [0.0, *((a + b) / 2 for a, b in pairwise(xs)), span_mm]
    return {name: side_N * (right - left) / span_mm for name, (left, right) in zip(names, pairwise(edges), strict=True)}


def support_said(said: str) -> Support:
    """A support from the brief's words: ``pin``, ``roller``, ``roller y``, ``roller 30``."""
    if said == "pin":
        return Support.pin()
    slope = number(said.removeprefix("roller").strip())
    return Support.roller(90.0 if said == "roller y" else slope or 0.0, said)


def _loads(needs: _Needs, brief: Brief, side_N: float) -> dict[str, float]:
    """Downward force by joint, N; a load that travels stands near the middle to begin with."""
    if brief.load.places in (ALONG, TRAVELLING):
        inner = needs.deck_joints(brief.load.places, brief.span_mm)
        if brief.load.places == ALONG:
            return spread(needs.truss, brief.span_mm, side_N)
        middle = min(inner, key=lambda name: abs(needs.truss.joints[name][0] - brief.span_mm / 2), default=None)
        return {} if middle is None else {middle: side_N}
    places = (brief.span_mm / 2,) if isinstance(brief.load.places, str) else brief.load.places
    loads: dict[str, float] = {}
    for x in places:
        name = needs.joint(
            x, _("no joint for the load at midspan") if isinstance(brief.load.places, str) else _("no joint for a load")
        )
        if name is not None:
            loads[name] = loads.get(name, 0.0) + side_N / len(places)
    return loads


def _add(name: str, place: str) -> str:
    """How to add a joint, in either kind of file."""
    row = f"joint,{name},{place.strip('[]').replace(' ', '')}"
    return _(
        "add a line '{line}' to the joints (in a table: '{row}'), and members that meet there.",
        line=f"{name}: {place}",
        row=row,
    )


class _Needs:
    """Finds the joint that stands at a place of the deck line, or notes that none does."""

    def __init__(self, truss: Truss, at: Place, findings: Findings) -> None:
        self.truss = truss
        self.at = at
        self.findings = findings
        self.reach = max((math.dist(p, q) for p in self._known().values() for q in self._known().values()), default=0.0)

    def _known(self) -> dict[str, Vector]:
        return {name: place for name, place in self.truss.joints.items() if place is not NOWHERE}

    def joint(self, x: float, missing: str) -> str | None:
        """The name of the joint at (x, 0), or None (noted as ``missing``)."""
        known = self._known()
        nearest = min(known, key=lambda name: math.dist(known[name], (x, 0.0)), default=None)
        if nearest is not None and math.dist(known[nearest], (x, 0.0)) <= REACH_MM:
            return nearest
        if not self.truss.joints or len(known) < len(self.truss.joints):
            return None  # the joints themselves are to be mended first
        self.findings.add(
            self.at,
            missing,
            _("a joint at {place}", place=self._written((x, 0.0))),
            self._advice(nearest, x),
        )
        return None

    def deck_joints(self, places: str, span_mm: float) -> list[str]:
        """The joints on the deck between the supports; noted where there is none, so that no load reaches the truss."""
        inside = inner_deck(self.truss, span_mm)
        if self.truss.joints and not inside and len(self._known()) == len(self.truss.joints):
            middle = self._written((span_mm / 2, 0.0))
            self.findings.add(
                self.at,
                _("no joint on the deck between the supports"),
                _("at least one, for the load along the deck")
                if places == ALONG
                else _("at least one, for the load that stands on each in turn"),
                _add("m", middle),
            )
        return inside

    def _advice(self, nearest: str | None, x: float) -> str:
        here = self._written((x, 0.0))
        meant = self._unit_meant(x)
        if meant is not None:
            return _("your numbers look like {unit}; if so, add the line 'units: {unit}'.", unit=meant)
        if nearest is not None:
            place = self.truss.joints[nearest]
            if math.dist(place, (x, 0.0)) <= NEAR_MISS * max(self.reach, x):
                return _(
                    "move joint {name} from {there} to {here}.",
                    name=quoted(nearest),
                    there=self._written(place),
                    here=here,
                )
        return _add("p", here)

    def _unit_meant(self, x: float) -> str | None:
        """The unit in which some joint would stand just there, if the file does not name it."""
        own = LENGTH_UNITS[self.truss.length_unit]
        for unit, size in LENGTH_UNITS.items():
            factor = size / own
            there = (math.dist((c[0] * factor, c[1] * factor), (x, 0.0)) for c in self._known().values())
            if unit != self.truss.length_unit and x > 0 and any(d <= REACH_MM for d in there):
                return unit
        return None

    def _written(self, place: Vector) -> str:
        size = LENGTH_UNITS[self.truss.length_unit]
        return f"[{', '.join(plain_figure(c / size, 6) for c in place)}]"
