"""What follows from an earlier slip.

In: the answer sheet and how each answer compares by itself.  Out: for each answer that is not right,
whether the student's own other answers lead to it, where, and from which slip.

An answer follows where one equation of equilibrium gives it from answers that are settled already:
right ones, slips that have been counted, and what follows from them.  Where nothing follows any
more, one more answer is counted as a slip: the one after which most others follow, the earliest of
equals.  So nothing follows from itself, and no student loses more than the slips need to explain.
"""

from __future__ import annotations

from collections import ChainMap, deque
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from rubric.criteria.working import Working as Criterion
from worker.statics import Solution
from worker.truss.model import Truss
from worker.working import supposing
from worker.working.balance import SHARP, Equation, equations
from worker.working.reading import MASS, Reading, UnitSlip, near
from worker.working.sheet import Entry

LOOK_AHEAD = 12
"""How many answers are tried as the next slip; a sheet with more wrong ones is rare, and time is short."""
CONVINCING = 2
"""An angle or a load is taken to be wrong where that explains so many more answers than without it."""

EARLY = 2
"""A wrong load or angle is looked for at so many answers, and while fewer slips are counted: it shows at once."""

GROWN = 5.0
"""Answers that are right within what is allowed may lead to one that is so many times farther off, no more.

Once a slip is counted it may reach others through answers that are still right, and the limit falls."""

MOST = 60
"""Answers neither right nor rounded: beyond it the first is counted as a slip without a look ahead."""


UNITS = "units"
"""Where an answer repeats a slip of units, and follows from the first by no equation."""


@dataclass(frozen=True)
class Settled:
    """A value that later answers may rest on.

    slack_N: how far rounding of the answers it came from may have moved it
    slips:   the slips it rests on, the earliest first
    where:   the place of the equation that gave it; nothing for an answer by itself
    """

    value_N: float
    slack_N: float = 0.0
    slips: tuple[str, ...] = ()
    where: str = ""


@dataclass(frozen=True)
class Followed:
    """What the answers rest on: ``settled`` by name, the ``slips``, and what was ``told`` of a slip's cause."""

    settled: Mapping[str, Settled]
    slips: tuple[str, ...]
    told: Mapping[str, str]

    def follows(self, name: str) -> bool:
        """Whether an answer that is not right follows from others."""
        return name in self.settled and name not in self.slips and bool(self.settled[name].where)


def follow(
    truss: Truss,
    solution: Solution,
    entries: Sequence[Entry],
    readings: Mapping[str, Reading],
    using: Sequence[Equation],
    criterion: Criterion,
) -> Followed:
    """Find the fewest slips that explain the answers, one by one; ``using`` are the equations of the truss."""
    chase = _Chase(truss, solution, entries, readings, using, criterion)
    while len(chase.slips) < len(entries) and chase.open():
        chase.count_a_slip()
    return _units_once(Followed(chase.known, tuple(chase.slips), chase.told), readings)


def _units_once(found: Followed, readings: Mapping[str, Reading]) -> Followed:
    """The same slip of units again is no new slip (common practice: a unit is penalised once)."""
    first: dict[UnitSlip, str] = {}
    again: dict[str, Settled] = {}
    for name, reading in readings.items():
        if reading.unit and not found.follows(name):
            slip = first.setdefault(reading.unit, name)
            if slip != name:
                again[name] = replace(found.settled[name], slips=(slip,), where=UNITS)
    slips = tuple(name for name in found.slips if name not in again)
    return replace(found, settled={**found.settled, **again}, slips=slips)


class _Chase:
    """The search; ``known`` grows until every answer is settled."""

    def __init__(
        self,
        truss: Truss,
        solution: Solution,
        entries: Sequence[Entry],
        readings: Mapping[str, Reading],
        using: Sequence[Equation],
        criterion: Criterion,
    ) -> None:
        self.truss, self.solution, self.criterion = truss, solution, criterion
        self.entries = {entry.name: entry for entry in entries}
        given = [entry for entry in entries if entry.given_N is not None]
        holds = {e.name: _holds(readings[e.name]) for e in given}
        self.claims = {e.name: _own(e, criterion) for e in given if not holds[e.name]}
        self.moments_hold = not any(self.entries[name].is_reaction for name in self.claims)
        self.known: dict[str, Settled] = {e.name: _own(e, criterion) for e in given if holds[e.name]}
        if self.moments_hold:
            self.known |= {e.name: Settled(e.true_N) for e in entries if e.is_reaction and e.given_N is None}
        self.slips: list[str] = []
        self.told: dict[str, str] = {}
        self.held_back: set[str] = set()
        self.using = _by_name(using)
        self.known |= self.spread(self.known, self.using, everywhere=True) if self.claims else {}

    def open(self) -> list[str]:
        """The answers that are not settled yet, in order."""
        return [name for name in self.claims if name not in self.known]

    def count_a_slip(self) -> None:
        """Settle the answer after which most others follow, and whatever follows from it."""
        waiting = self.open()
        best, gained, after, told, taken = "", 0, {}, "", self.using
        for name, then, why, using in self._tries(waiting):
            count = sum(1 for one in then if one in self.claims)
            if count >= gained + (CONVINCING if why else 1):
                best, gained, after, told, taken = name, count, then, why, using
            if gained == len(waiting):
                break
        self.slips.append(best)
        self.known.update(after)
        self.using = taken
        if told:
            self.told[best] = told

    def _tries(self, waiting: Sequence[str]) -> Iterator[tuple[str, dict[str, Settled], str, _ByName]]:
        for name in waiting[: LOOK_AHEAD if len(waiting) <= MOST else 1]:
            yield name, self.spread({name: self._slip(name)}, self.using), "", self.using
        if len(waiting) <= CONVINCING or len(self.slips) >= EARLY:
            return
        values = {name: settled.value_N for name, settled in self.known.items()}
        for name in waiting[:EARLY]:
            for cause in supposing.causes(self.truss, self.entries[name], values, self.using.get(name, ())):
                more = equations(self.truss, self.solution, cause.supposed)
                using = _by_name([*dict.fromkeys(e for each in self.using.values() for e in each), *more])
                yield name, self.spread({name: self._slip(name)}, using, everywhere=True), cause.told, using

    def _slip(self, name: str) -> Settled:
        own = self.claims[name]
        return Settled(own.value_N, own.slack_N, (name,))

    def spread(self, start: Mapping[str, Settled], using: _ByName, everywhere: bool = False) -> dict[str, Settled]:
        """``start`` and all that follows from it and from what is known; ``everywhere``: or by other equations.

        What the student did not write is taken as his answers give it.
        """
        new = dict(start)
        found = ChainMap(new, self.known)
        no_slip = not self.slips and not any(settled.slips for settled in start.values())
        fresh = deque(using if everywhere else [*start, *sorted(self.held_back)])
        while fresh:
            for equation in using.get(fresh.popleft(), ()):
                missing = [name for name in equation.terms if name not in found]
                if len(missing) != 1 or (equation.without and all(name in found for name in equation.without)):
                    continue
                settled = self._settled(missing[0], equation, found, no_slip)
                if settled is not None:
                    new[missing[0]] = settled
                    fresh.append(missing[0])
        return new

    def _settled(self, name: str, equation: Equation, found: Mapping[str, Settled], no_slip: bool) -> Settled | None:
        derived = _solved(equation, name, found)
        claim = self.claims.get(name)
        if derived is None or claim is None:
            return derived if self.moments_hold or not equation.moments else None
        allowed = near(derived.value_N, self.criterion) + derived.slack_N
        off = abs(claim.value_N - self.entries[name].true_N)
        by_itself = GROWN * near(self.entries[name].true_N, self.criterion) + derived.slack_N
        if abs(claim.value_N - derived.value_N) > allowed:
            return None
        if no_slip and off > by_itself:
            self.held_back.update(equation.terms.keys() & found.keys())
            return None
        return Settled(claim.value_N, claim.slack_N, derived.slips, derived.where)


_ByName = Mapping[str, Sequence[Equation]]


def _by_name(using: Iterable[Equation]) -> _ByName:
    """The equations in which each unknown stands."""
    found: dict[str, list[Equation]] = {}
    for equation in using:
        for name in equation.terms:
            found.setdefault(name, []).append(equation)
    return found


def _holds(reading: Reading) -> bool:
    """Whether an answer is settled by itself, as right or as good as right."""
    return reading.verdict in ("right", "rounded") or reading.unit == MASS


def _own(entry: Entry, criterion: Criterion) -> Settled:
    """An answer as the student wrote it: the last digit may be half a unit off, within what is allowed anyway."""
    given = entry.given_N or 0.0
    half = entry.written.step_N / 2 if entry.written else 0.0
    return Settled(given, min(half, near(given, criterion)))


def _solved(equation: Equation, name: str, known: Mapping[str, Settled]) -> Settled | None:
    """What the equation gives for its last unknown; None where it hardly depends on it."""
    own = equation.terms[name]
    if abs(own) < SHARP * max(abs(c) for c in equation.terms.values()):
        return None
    rest = {other: -c / own for other, c in equation.terms.items() if other != name}
    return Settled(
        sum(c * known[other].value_N for other, c in rest.items()) - equation.constant / own,
        sum(abs(c) * known[other].slack_N for other, c in rest.items()),
        tuple(dict.fromkeys(slip for other in rest for slip in known[other].slips)),
        equation.where,
    )
