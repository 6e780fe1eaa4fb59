"""What computing has shown beyond the first failure, in sentences a student reads."""

from __future__ import annotations

from collections.abc import Iterator

from rubric.brief import Brief
from rubric.language import _, counted
from rubric.messages.outcomes import Analysis, Finding, Outlook, Travel
from rubric.wording import amount, figure, listed
from worker.chance.bridge import WHOLE

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
            title=_("The whole truss"),
            text=_(
                "At {load} the truss gives way as a whole, before any member breaks. "
                "A deeper truss resists this better.",
                load=amount(ahead.whole_load_N, "N"),
            ),
        )
    if found.travel is not None:
        yield _travelling(found, found.travel)
    yield from _chance(ahead, brief)
    yield from _after(found, ahead)
    if brief.joints == "rigid" and ahead.bending_share is not None:
        yield Finding(
            title=_("Stiff joints"),
            text=_(
                "Your brief counts the glued joints as stiff, so members are bent as well. "
                "The largest stress from bending is {share} of the largest from force alone.",
                share=amount(ahead.bending_share, "%"),
            ),
        )
    elif ahead.rigid_warning:
        yield Finding(title=_("Glued joints"), text=ahead.rigid_warning)
    yield from _kit(ahead)
    if ahead.par_efficiency and found.efficiency:
        yield Finding(
            title=_("How good it could be"),
            text=_(
                "A truss of thin wood that never buckles could reach an efficiency of {most} "
                "at this load. Yours reaches {share} of that. "
                "No real bridge reaches all of it.",
                most=figure(ahead.par_efficiency),
                share=amount(found.efficiency / ahead.par_efficiency, "%"),
            ),
        )


def _travelling(found: Analysis, travel: Travel) -> Finding:
    """Where the load is worst, and which members it pulls and pushes in turn."""
    some_N = SOME * max(abs(row.hardest_N) for row in found.members)
    both = [row.name for row in found.members if row.range_N and row.range_N[0] < -some_N and row.range_N[1] > some_N]
    where = _(
        "We put the whole load on each deck joint in turn: {joints}. It is worst on joint {worst}, and drawn there.",
        joints=_few(travel.joints),
        worst=travel.worst,
    )
    if both:
        ways = counted(
            "As the load moves, this member is pulled and pushed in turn: {members}. "
            "A member that is both must not buckle and must not tear.",
            "As the load moves, these members are pulled and pushed in turn: {members}. "
            "A member that is both must not buckle and must not tear.",
            len(both),
            members=_few(tuple(both)),
        )
    else:
        ways = _("Each member is either pulled or pushed, wherever the load stands.")
    return Finding(title=_("As the load moves"), text=f"{where} {ways}")


def _chance(ahead: Outlook, brief: Brief) -> Iterator[Finding]:
    if ahead.low_N is None or ahead.median_N is None or ahead.high_N is None or ahead.chance is None:
        return
    named = [f"{_(name) if name == WHOLE else name} ({amount(share, '%')})" for name, share in ahead.fails_first]
    spread = _(
        "No two sticks are alike. Of 10 bridges built like this, about 1 breaks "
        "below {low}, 5 below {median} and 9 below {high}. "
        "About {count} of 100 carry the target of {target}.",
        low=amount(ahead.low_N, "N"),
        median=amount(ahead.median_N, "N"),
        high=amount(ahead.high_N, "N"),
        count=figure(100 * ahead.chance, 2),
        target=amount(brief.load.target_N, "N"),
    )
    first = counted(
        "Most often the first to fail is {members}.",
        "Most often the first to fail are {members}.",
        max(1, len(named)),
        members=listed(named),
    )
    yield Finding(title=_("How sure this is"), text=f"{spread} {first}")


def _after(found: Analysis, ahead: Outlook) -> Iterator[Finding]:
    if ahead.kept_after_first is None or found.first_failure is None:
        return
    name = found.first_failure.member
    if ahead.kept_after_first == 0:
        text = _(
            "When {member} breaks, the bridge falls: a truss with no member to spare has no second way.", member=name
        )
    else:
        text = _(
            "When {member} breaks, the others can still take {share} of that load.",
            member=name,
            share=amount(ahead.kept_after_first, "%"),
        )
    if ahead.redundant:
        spare = _few(ahead.redundant)
        text += " " + _("Your truss would also stand without any one of these: {members}.", members=spare)
    yield Finding(title=_("After the first break"), text=text)


def _few(names: tuple[str, ...]) -> str:
    if len(names) <= MOST_NAMED:
        return listed(names)
    return _("{names} and others", names=", ".join(names[:MOST_NAMED]))


def _kit(ahead: Outlook) -> Iterator[Finding]:
    if not ahead.sticks:
        return
    each = listed(
        [
            counted(
                "{needed} of {count} stick {kind}",
                "{needed} of {count} sticks {kind}",
                need.in_kit,
                needed=need.needed,
                kind=need.stick,
            )
            for need in ahead.sticks
        ]
    )
    if any(need.fits is False for need in ahead.sticks):
        text = _("It cannot be cut from one kit: the whole bridge needs {sticks}.", sticks=each)
    else:
        text = _("It can be cut from one kit: the whole bridge needs {sticks}.", sticks=each)
    yield Finding(title=_("Cutting it"), text=text)
