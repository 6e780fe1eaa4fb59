"""The official list: from raw readings to measured efficiency, penalties, ties and places.  Pure.

In: the rules and, for each bridge, every reading that stands (an undone one does not).  Out: one
:class:`Result` a bridge, so that the same readings always give the same list, whoever computes it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from rubric.contest.reasons import DISQUALIFIED, Reason, not_eligible
from rubric.contest.rules import ContestRules
from rubric.evidence import Evidence
from rubric.language import _
from rubric.measures import Measures
from rubric.quantities import STANDARD_GRAVITY
from rubric.wording import amount, localised


@dataclass(frozen=True)
class Reading:
    """One raw reading: what was typed, and what it means by the rig as it was then (g, or N on the bridge)."""

    id: int
    kind: str
    """``mass`` or ``load``."""
    value: float
    undoes: int | None = None
    """The reading that this row takes back; then it holds no value of its own."""


@dataclass(frozen=True)
class Bridge:
    """One entry as the list sees it."""

    number: int
    alias: str
    division: str
    school_class: str
    named: int
    """Its place in the order in which entries were named."""
    readings: tuple[Reading, ...] = ()
    predicted_N: float | None = None
    predicted_g: float | None = None
    measures: Measures = field(default_factory=dict)
    disqualified: str = ""
    """Why; nothing where it takes part."""


@dataclass(frozen=True)
class Result:
    """One line of the list.  ``efficiency`` is measured: load over weight; ``score`` is what is ranked."""

    bridge: Bridge
    mass_g: float | None = None
    load_N: float | None = None
    efficiency: float | None = None
    lost: float = 0.0
    """The part that being over the mass costs."""
    score: float | None = None
    place: int | None = None
    """In the division; None for a bridge that is not ranked."""
    overall: int | None = None
    level: bool = False
    """Whether another bridge of the division shares its place."""
    decided_by: str = ""
    """The tie-break that parted it from one with the same score."""
    reason: Reason | None = None
    """Why it is not ranked."""
    tests: int = 0

    @property
    def why_not(self) -> str:
        """The same in words, in the language of the moment; nothing where it is ranked."""
        return str(self.reason) if self.reason else ""

    @property
    def of_prediction(self) -> float | None:
        """Measured over predicted load."""
        predicted = self.bridge.predicted_N
        return self.load_N / predicted if self.load_N is not None and predicted else None


def standing(readings: Sequence[Reading]) -> tuple[Reading, ...]:
    """The readings that nobody took back, in order.  A row that takes back can be taken back too."""
    gone: set[int] = set()
    for one in sorted(readings, key=lambda r: r.id, reverse=True):  # what takes back comes after what it takes back
        if one.undoes is not None and one.id not in gone:
            gone.add(one.undoes)
    return tuple(r for r in sorted(readings, key=lambda r: r.id) if r.undoes is None and r.id not in gone)


def shown(value: float, rank_by: str = "efficiency") -> float:
    """A score as lists show and compare it: to one decimal, or a part of the prediction to one in a thousand."""
    return round(value, 3 if rank_by == "nearest prediction" else 1)


def official(rules: ContestRules, bridges: Iterable[Bridge]) -> list[Result]:
    """Every bridge with its result: by division, those that are ranked first, best first."""
    measured = [_measured(rules, bridge) for bridge in bridges]
    overall = {r.bridge.number: r.place for r in _placed(rules, [r for r in measured if not r.reason])}
    names = [division.name for division in rules.divisions]
    found: list[Result] = []
    for name in dict.fromkeys([*names, *sorted({r.bridge.division for r in measured})]):
        own = [r for r in measured if r.bridge.division == name]
        found += _placed(rules, [r for r in own if not r.reason])
        found += sorted((r for r in own if r.reason), key=lambda r: r.bridge.number)
    return [replace(r, overall=overall.get(r.bridge.number)) for r in found]


def _measured(rules: ContestRules, bridge: Bridge) -> Result:
    live = standing(bridge.readings)
    masses = [r.value for r in live if r.kind == "mass"]
    loads = [r.value for r in live if r.kind == "load"][: 1 + rules.retest.most]
    mass = masses[-1] if masses else None
    load = _counting(loads, rules.retest.counts) if loads else None
    efficiency = load / (mass / 1000 * STANDARD_GRAVITY) if mass and load is not None else None
    result = Result(bridge, mass, load, efficiency, tests=len(loads))
    reason = _reason(rules, result)
    if reason:
        return replace(result, reason=reason)
    limit, over = rules.weigh_in.mass_g, rules.over_mass
    lost = over.cost((mass or 0.0) - limit) if over and limit is not None else 0.0
    return replace(result, lost=lost, score=_score(rules, result, lost))


def _counting(loads: Sequence[float], counts: str) -> float:
    return max(loads) if counts == "best" else loads[0 if counts == "first" else -1]


def _score(rules: ContestRules, result: Result, lost: float) -> float:
    """The higher the better."""
    assert result.load_N is not None
    assert result.efficiency is not None
    if rules.rank_by == "nearest prediction":
        return -_miss(result) - lost
    return (result.efficiency if rules.rank_by == "efficiency" else result.load_N) * (1 - lost)


def _miss(result: Result) -> float:
    part = result.of_prediction
    return abs(part - 1) if part is not None else 1e6


def _reason(rules: ContestRules, result: Result) -> Reason | None:
    bridge = result.bridge
    if bridge.disqualified:
        return Reason(DISQUALIFIED, {"why": bridge.disqualified})
    evidence = Evidence(measures=bridge.measures)
    broken = next((one for one in rules.entry if not one.holds(evidence)), None)
    if broken is not None:
        return not_eligible(broken, evidence)
    if result.mass_g is None:
        return Reason("not weighed")
    if result.load_N is None:
        return Reason("not tested")
    if rules.rank_by == "nearest prediction" and not bridge.predicted_N:
        return Reason("nothing predicted")
    return _too_heavy(rules, result.mass_g)


def _too_heavy(rules: ContestRules, mass_g: float) -> Reason | None:
    limit, over = rules.weigh_in.mass_g, rules.over_mass
    if limit is None or mass_g <= limit:
        return None
    if over is None:
        return Reason("over the mass", {"mass": mass_g, "limit": limit})
    if over.out_at_g is not None and mass_g >= over.out_at_g:
        return Reason("far over the mass", {"mass": mass_g, "limit": over.out_at_g})
    return None


_BREAK: dict[str, Callable[[Result], float]] = {
    "less mass": lambda r: round(r.mass_g or 0.0, 6),
    "more load": lambda r: -round(r.load_N or 0.0, 6),
    "nearest prediction": lambda r: round(_miss(r), 9),
    "named earlier": lambda r: float(r.bridge.named),
}
"""Lower is better; rounded, so that noise of the last digit decides nothing."""


def _placed(rules: ContestRules, ranked: Sequence[Result]) -> list[Result]:
    def key(r: Result) -> tuple[Any, ...]:
        return (-shown(r.score or 0.0, rules.rank_by), *(_BREAK[tie](r) for tie in rules.ties))

    ordered = sorted(ranked, key=lambda r: (key(r), r.bridge.number))
    keys = [key(r) for r in ordered]
    places = [1 + sum(other < mine for other in keys) for mine in keys]
    return [
        replace(r, place=place, level=places.count(place) > 1, decided_by=_decided(rules, keys, index))
        for index, (r, place) in enumerate(zip(ordered, places, strict=True))
    ]


def _decided(rules: ContestRules, keys: Sequence[tuple[Any, ...]], index: int) -> str:
    mine = keys[index]
    rivals = [key for key in keys if key[0] == mine[0] and key != mine]
    for place, tie in enumerate(rules.ties, 1):
        if any(rival[place] != mine[place] and rival[:place] == mine[:place] for rival in rivals):
            return tie
    return ""


def result_said(result: Result) -> str:
    """``61.2 g carried 214 N: efficiency 356.6`` and what was taken off, for a list or a notice."""
    if result.mass_g is None or result.load_N is None or result.efficiency is None:
        return result.why_not
    said = _(
        "{mass} carried {load}: efficiency {efficiency}",
        mass=amount(result.mass_g, "g"),
        load=amount(result.load_N, "N"),
        efficiency=localised(f"{result.efficiency:.1f}"),
    )
    if result.lost:
        said = _("{result}, {lost} off for mass", result=said, lost=amount(result.lost, "%"))
    return f"{said} ({result.why_not})" if result.why_not else said
