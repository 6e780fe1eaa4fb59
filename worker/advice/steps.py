"""Two or three next steps for a student, each with the effect that solving again has shown."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from itertools import chain, islice
from typing import NamedTuple

from rubric.language import _, later
from rubric.messages.outcomes import Mode, NextStep
from rubric.wording import amount, figure
from worker.advice.changes import Change, left_out, lighter, moved, reshaped, stronger_together, thicker
from worker.advice.halving import halved
from worker.advice.steady import steady
from worker.analysis import Solved, solve
from worker.truss.limits import broken

MOST_STEPS = 3
TRIES, TRIES_FOR_LARGE, LARGE = 32, 7, 60
"""How many changes are solved again; fewer from so many joints on, where each costs far more."""

WORTH_SAYING = 0.02
"""A change that helps by less than this part is not worth a student's evening."""


def steps(solved: Solved) -> tuple[NextStep, ...]:
    """What to try next: mend limits first, then strength, then weight; as far as the brief lets advice go."""
    if solved.brief.advice == "none":
        return ()
    if not solved.stable:
        return steady(solved)
    said = list(_limits(solved))
    tried = sorted(_tried(solved), key=lambda pair: -pair[0]) if solved.brief.advice == "what to try" else []
    kinds: set[str] = set()
    for __, kind, step in tried:
        if kind not in kinds:
            kinds.add(kind)
            said.append(step)
    return (*said, *_weakest(solved), *_idlest(solved))[:MOST_STEPS]


def _limits(solved: Solved) -> Iterator[NextStep]:
    limits = _broken(solved)
    if limits:
        yield NextStep(
            title=_("Keep the limits of the brief"),
            text=" ".join((limits[0], _("Until then the bridge cannot stand on the leaderboard."))),
        )


def _weakest(solved: Solved) -> Iterator[NextStep]:
    """Where it breaks first and why that helps to think further; always true, so it comes last."""
    first, load_N = solved.strength.first, solved.strength.failure_load_N
    if first is None or load_N is None:
        return
    where = _("It fails at a load of {load} on the whole bridge.", load=amount(load_N, "N"))
    reason = _(_REASONS[first.mode], length=amount(solved.truss.length_mm(first.member), "mm"))
    yield NextStep(
        title=_("Think about member {member}, which fails first", member=first.member.name),
        text=f"{where} {reason}",
    )


_REASONS: Mapping[Mode, str] = {
    "buckling": later(
        "It is {length} long, and a long thin strut bends out sideways. "
        "At half the length it would take up to four times the force."
    ),
    "crushing": later("It is short and pushed hard. More wood side by side spreads the force."),
    "tension": later("It is pulled apart. More wood side by side spreads the force."),
    "bending": later("Its stiff joints bend it as well. A longer or a thinner member bends less."),
    "joint": later(
        "Its glued ends shear off before the stick breaks, in the glue or in the wood beside it. "
        "A larger glued area, or a smaller force, helps."
    ),
    "none": "",
}
"""Why a member fails so, and what helps; ``_`` says it."""


def _idlest(solved: Solved) -> Iterator[NextStep]:
    """The loaded member with most to spare: wood that is carried but hardly works."""
    loaded = [check for check in solved.strength.checks if check.utilisation > 0]
    if loaded:
        least = min(loaded, key=lambda check: check.utilisation)
        yield NextStep(
            title=_("Think about member {member}, which has most to spare", member=least.member.name),
            text=_(
                "At the target load it uses {share} of what it can carry. "
                "Could another shape of truss do without it, or share the work out better?",
                share=amount(least.utilisation, "%"),
            ),
        )


_IDEAS: tuple[Callable[[Solved], Iterator[Change]], ...] = (
    stronger_together,
    thicker,
    halved,
    reshaped,
    lighter,
    moved,
    left_out,
)


class _Numbers(NamedTuple):
    """What a change is judged by."""

    load_N: float
    mass_g: float
    efficiency: float


def _numbers(solved: Solved) -> _Numbers | None:
    found = solved.strength
    if found.failure_load_N is None or not found.efficiency:
        return None
    return _Numbers(found.failure_load_N, found.mass_g, found.efficiency)


def _tried(solved: Solved) -> Iterator[tuple[float, str, NextStep]]:
    """Each idea solved again: how much it helps, its kind, and the step in words."""
    old, broken_now = _numbers(solved), set(_broken(solved))
    tries = TRIES if len(solved.truss.joints) <= LARGE else TRIES_FOR_LARGE
    for change in islice(chain.from_iterable(idea(solved) for idea in _IDEAS), tries):
        # A change leaves the joints on the deck as they are, so supports and loads stay right.
        after = solve(change.truss, solved.brief)
        new = _numbers(after)
        if old is None or new is None or not _keeps_to(broken_now, set(_broken(after))):
            continue
        gain = _gain(old, new, solved.brief.load.target_N)
        if gain > WORTH_SAYING:
            said = f"{change.why} {_effect(old, new)}".strip()
            yield gain, change.kind, NextStep(title=change.title, text=said)


def _keeps_to(old: set[str], new: set[str]) -> bool:
    """Whether a change breaks no limit that was kept, and none further that was broken."""
    return new <= old or len(new) < len(old)


def _broken(solved: Solved) -> tuple[str, ...]:
    return broken(solved.truss, solved.brief, solved.strength.mass_g, solved.solution.forces)


def _gain(old: _Numbers, new: _Numbers, target_N: float) -> float:
    """How much better, as a part: by failure load below the target, by efficiency from there on."""
    if old.load_N < target_N:
        return new.load_N / old.load_N - 1
    return new.efficiency / old.efficiency - 1 if new.load_N >= target_N else 0.0


def _effect(old: _Numbers, new: _Numbers) -> str:
    values = (
        (amount(old.load_N, "N"), amount(new.load_N, "N")),
        (amount(old.mass_g, "g"), amount(new.mass_g, "g")),
        (figure(old.efficiency), figure(new.efficiency)),
    )
    effects = (
        _(same, then=then) if then == now else _(other, then=then, now=now)
        for (same, other), (now, then) in zip(_EFFECTS, values, strict=True)
    )
    return " ".join((_("We solved your truss again with this change."), *effects))


_EFFECTS = (
    (later("The bridge would carry {then}, as before."), later("The bridge would carry {then}, not {now}.")),
    (later("Its mass would be {then}, as before."), later("Its mass would be {then}, not {now}.")),
    (later("Its efficiency would be {then}, as before."), later("Its efficiency would be {then}, not {now}.")),
)
