"""What computing has shown beyond the first failure, in sentences a student reads."""

from __future__ import annotations

from collections.abc import Iterator

from rubric.brief import Brief
from rubric.messages.outcomes import Analysis, Finding, Outlook, Travel
from rubric.wording import amount, figure, listed, plural

MOST_NAMED = 6

SOME = 0.01
"""Forces below this part of the largest are not worth a word."""


def findings(found: Analysis, brief: Brief) -> tuple[Finding, ...]:
    """The most telling first; nothing for a mechanism."""
    if found.outlook is None:
        return ()
    return tuple(_all(found, found.outlook, brief))


def _all(found: Analysis, ahead: Outlook, brief: Brief) -> Iterator[Finding]:
    if ahead.whole_load_N is not None and ahead.whole_load_N == found.failure_load_N:
        yield Finding(
            title="The whole truss",
            text=f"At {amount(ahead.whole_load_N, 'N')} the truss gives way as a whole, before any member breaks. "
            "A deeper truss resists this better.",
        )
    if found.travel is not None:
        yield _travelling(found, found.travel)
    yield from _chance(ahead, brief)
    yield from _after(found, ahead)
    if brief.joints == "rigid" and ahead.bending_share is not None:
        yield Finding(
            title="Stiff joints",
            text="Your brief counts the glued joints as stiff, so members are bent as well. "
            f"The largest stress from bending is {amount(ahead.bending_share, '%')} of the largest from force alone.",
        )
    elif ahead.rigid_warning:
        yield Finding(title="Glued joints", text=ahead.rigid_warning)
    yield from _kit(ahead)
    if ahead.par_efficiency and found.efficiency:
        yield Finding(
            title="How good it could be",
            text=f"A truss of thin wood that never buckles could reach an efficiency of {figure(ahead.par_efficiency)} "
            f"at this load. Yours reaches {amount(found.efficiency / ahead.par_efficiency, '%')} of that. "
            "No real bridge reaches all of it.",
        )


def _travelling(found: Analysis, travel: Travel) -> Finding:
    """Where the load is worst, and which members it pulls and pushes in turn."""
    some_N = SOME * max(abs(row.hardest_N) for row in found.members)
    both = [row.name for row in found.members if row.range_N and row.range_N[0] < -some_N and row.range_N[1] > some_N]
    text = (
        f"We put the whole load on each deck joint in turn: {_few(travel.joints)}. "
        f"It is worst on joint {travel.worst}, and drawn there. "
    )
    if both:
        text += f"As the load moves, {'this member is' if len(both) == 1 else 'these members are'} pulled and pushed "
        text += f"in turn: {_few(tuple(both))}. A member that is both must not buckle and must not tear."
    else:
        text += "Each member is either pulled or pushed, wherever the load stands."
    return Finding(title="As the load moves", text=text)


def _chance(ahead: Outlook, brief: Brief) -> Iterator[Finding]:
    if ahead.low_N is None or ahead.median_N is None or ahead.high_N is None or ahead.chance is None:
        return
    named = [f"{name} ({amount(share, '%')})" for name, share in ahead.fails_first]
    yield Finding(
        title="How sure this is",
        text="No two sticks are alike. Of 10 bridges built like this, about 1 breaks "
        f"below {amount(ahead.low_N, 'N')}, 5 below {amount(ahead.median_N, 'N')} "
        f"and 9 below {amount(ahead.high_N, 'N')}. "
        f"About {figure(100 * ahead.chance, 2)} of 100 carry the target of {amount(brief.load.target_N, 'N')}. "
        f"Most often the first to fail {'are' if len(named) > 1 else 'is'} {listed(named)}.",
    )


def _after(found: Analysis, ahead: Outlook) -> Iterator[Finding]:
    if ahead.kept_after_first is None or found.first_failure is None:
        return
    name = found.first_failure.member
    if ahead.kept_after_first == 0:
        text = f"When {name} breaks, the bridge falls: a truss with no member to spare has no second way."
    else:
        text = f"When {name} breaks, the others can still take {amount(ahead.kept_after_first, '%')} of that load."
    if ahead.redundant:
        text += f" Your truss would also stand without any one of these: {_few(ahead.redundant)}."
    yield Finding(title="After the first break", text=text)


def _few(names: tuple[str, ...]) -> str:
    return listed(names) if len(names) <= MOST_NAMED else f"{', '.join(names[:MOST_NAMED])} and others"


def _kit(ahead: Outlook) -> Iterator[Finding]:
    if not ahead.sticks:
        return
    each = [f"{need.needed} of {plural(need.in_kit, 'stick')} {need.stick}" for need in ahead.sticks]
    short = [need for need in ahead.sticks if need.fits is False]
    verdict = "It can be cut from one kit" if not short else "It cannot be cut from one kit"
    yield Finding(title="Cutting it", text=f"{verdict}: the whole bridge needs {listed(each)}.")
