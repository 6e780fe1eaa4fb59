"""What follows from an earlier slip.

In: the answer sheet and how each answer compares by itself.  Out: for each answer that is not right,
whether the student's own other answers lead to it, where, and from which slip.

An answer follows where one equation of equilibrium gives it from answers that are settled already:
right ones, slips that have been counted, and what follows from them.  Where nothing follows any
more, one more answer is counted as a slip: the one after which most others follow, the earliest of
equals.  So nothing follows from itself, and no student loses more than the slips need to explain.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
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
    truss: Truss, solution: Solution, entries: Sequence[Entry], readings: Mapping[str, Reading], criterion: Criterion
) -> Followed:
    """Find the fewest slips that explain the answers, one by one."""
    chase = _Chase(truss, solution, entries, readings, criterion)
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
        criterion: Criterion,
    ) -> None:
        self.truss, self.solution, self.criterion = truss, solution, criterion
        self.equations = equations(truss, solution)
        self.entries = {entry.name: entry for entry in entries}
        fine = [
            e
            for e in entries
            if e.given_N is not None
            and (readings[e.name].verdict in ("right", "rounded") or readings[e.name].unit == MASS)
        ]
        self.claims = {e.name: _own(e, criterion) for e in entries if e.given_N is not None and e not in fine}
        self.known = {e.name: _own(e, criterion) for e in fine}
        self.slips: list[str] = []
        self.told: dict[str, str] = {}
        if not any(self.entries[name].is_reaction for name in self.claims):
            unwritten = [e for e in entries if e.is_reaction and e.given_N is None]
            self.known |= {e.name: Settled(e.true_N) for e in unwritten}
        self.known = self.spread(self.known, self.equations)

    def open(self) -> list[str]:
        """The answers that are not settled yet, in order."""
        return [name for name in self.claims if name not in self.known]

    def count_a_slip(self) -> None:
        """Settle the answer after which most others follow, and whatever follows from it."""
        waiting = self.open()
        tried = waiting[: LOOK_AHEAD if len(waiting) <= MOST else 1]
        best, after, told, taken = "", self.known, "", self.equations
        for name, then, why, using in self._tries(tried):
            gained, least = len(then.keys() & self.claims.keys()), len(after.keys() & self.claims.keys())
            if gained >= least + (CONVINCING if why else 1):
                best, after, told, taken = name, then, why, using
            if gained == len(self.claims) and not why:
                break
        self.slips.append(best)
        self.known, self.equations = after, taken
        if told:
            self.told[best] = told

    def _tries(self, names: Sequence[str]) -> Iterator[tuple[str, dict[str, Settled], str, list[Equation]]]:
        slipped = {name: {**self.known, name: self._slip(name)} for name in names}
        for name, known in slipped.items():
            yield name, self.spread(known, self.equations), "", self.equations
        if len(names) > CONVINCING:
            values = {name: settled.value_N for name, settled in self.known.items()}
            for name, known in slipped.items():
                for cause in supposing.causes(self.truss, self.entries[name], values, self.equations):
                    using = self.equations + equations(self.truss, self.solution, cause.supposed)
                    yield name, self.spread(known, using), cause.told, using

    def _slip(self, name: str) -> Settled:
        own = self.claims[name]
        return Settled(own.value_N, own.slack_N, (name,))

    def spread(self, known: Mapping[str, Settled], using: Sequence[Equation]) -> dict[str, Settled]:
        """All that follows; what the student did not write is taken as his answers give it."""
        found = dict(known)
        moments_hold = not any(self.entries[name].is_reaction for name in self.claims)
        no_slip = not any(settled.slips for settled in known.values())
        growing = True
        while growing:
            growing = False
            for equation in using:
                missing = [name for name in equation.terms if name not in found]
                if len(missing) != 1 or (equation.without and equation.without <= found.keys()):
                    continue
                settled = self._settled(missing[0], equation, found, moments_hold, no_slip)
                if settled is not None:
                    found[missing[0]] = settled
                    growing = True
        return found

    def _settled(
        self, name: str, equation: Equation, found: Mapping[str, Settled], moments_hold: bool, no_slip: bool
    ) -> Settled | None:
        derived = _solved(equation, name, found)
        claim = self.claims.get(name)
        if derived is None or claim is None:
            return derived if moments_hold or not equation.moments else None
        allowed = near(derived.value_N, self.criterion) + derived.slack_N
        off = abs(claim.value_N - self.entries[name].true_N)
        by_itself = GROWN * near(self.entries[name].true_N, self.criterion) + derived.slack_N
        if abs(claim.value_N - derived.value_N) > allowed or (no_slip and off > by_itself):
            return None
        return Settled(claim.value_N, claim.slack_N, derived.slips, derived.where)


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
