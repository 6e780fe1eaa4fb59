"""What would stop a mechanism: a joint to join, to move or to tie by one more bar, each checked by rank."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain, islice
from statistics import fmean

from rubric.language import _, counted
from rubric.messages.outcomes import NextStep
from rubric.wording import amount, listed
from worker import statics
from worker.advice.bracing import brace
from worker.advice.changes import moves
from worker.analysis import Solved, solve
from worker.statics import Solution
from worker.truss.cautions import crossing_members
from worker.truss.limits import broken

MOVED = 0.2
"""Of the mean length of the members: far enough to leave a critical form well behind."""

MOST_TRIED = 40
"""Places tried for a joint."""


def steady(solved: Solved) -> tuple[NextStep, ...]:
    """For a mechanism: what stops it, else where to look."""
    look = _look(solved)
    if solved.brief.advice == "where to look":
        return (look,)
    crossed = crossing_members(solved.truss)
    if crossed:
        member, joint = crossed[0]
        join = NextStep(
            title=_("Join member {member} to joint {joint}", member=member.name, joint=joint),
            text=_(
                "It runs straight through {joint} but is not joined to it. "
                "Write two members in its place: {first} and {second}.",
                joint=joint,
                first=f"{member.start}-{joint}",
                second=f"{joint}-{member.end}",
            ),
        )
        return join, look
    return (*_move(solved), *_add(solved), look)


def _look(solved: Solved) -> NextStep:
    found = solved.solution
    moving = _some(found.moving)
    if found.form == "critical form":
        return NextStep(
            title=_("Look for three joints in one line"),
            text=counted(
                "Joint {joints} moves, though your truss has members enough. "
                "A joint on the line between its neighbours is not held across that line. "
                "Members that all point to one place do not hold each other either.",
                "Joints {joints} move, though your truss has members enough. "
                "A joint on the line between its neighbours is not held across that line. "
                "Members that all point to one place do not hold each other either.",
                len(found.moving),
                joints=moving,
            ),
        )
    return NextStep(
        title=_("Look for the shape that is not a triangle"),
        text=counted(
            "Joint {joints} moves. Trace the members around there with a finger. "
            "A triangle keeps its shape. A shape with four sides can lean over.",
            "Joints {joints} move. Trace the members around there with a finger. "
            "A triangle keeps its shape. A shape with four sides can lean over.",
            len(found.moving),
            joints=moving,
        ),
    )


def _move(solved: Solved) -> Iterator[NextStep]:
    """Where the form is critical: the joint off the deck, and the place for it, that leaves the firmest truss."""
    better = list(_firmer(solved)) if solved.solution.form == "critical form" else []
    if not better:
        return
    after, title = min(better, key=lambda each: (each[0].mechanisms, each[0].condition))
    yield NextStep(
        title=title,
        text=" ".join(
            (
                _("Your truss has members enough. It moves because of its shape."),
                _("We solved your truss again with this change."),
                _left(after.mechanisms),
            )
        ),
    )


def _firmer(solved: Solved) -> Iterator[tuple[Solution, str]]:
    """Changes of one joint, and its mirror image, that stop a movement and break no limit of the brief."""
    truss, brief = solved.truss, solved.brief
    reach, kept = MOVED * fmean(map(truss.length_mm, truss.members)), set(_broken(solved))
    names = sorted(truss.joints, key=lambda name: name not in solved.solution.moving)
    for change in islice(chain.from_iterable(moves(truss, brief, name, reach) for name in names), MOST_TRIED):
        if statics.mechanisms_of(change.truss) < solved.solution.mechanisms:
            after = solve(change.truss, brief)
            if set(_broken(after)) <= kept and not crossing_members(after.truss):
                yield after.solution, change.title


def _broken(solved: Solved) -> tuple[str, ...]:
    return broken(solved.truss, solved.brief, solved.strength.mass_g, solved.solution.forces)


def _add(solved: Solved) -> Iterator[NextStep]:
    """One more bar."""
    bar = brace(solved.truss, solved.brief)
    if bar is not None:
        how = _(
            "Write '{line}', or in a table '{row}'. It is {length} long.",
            line=f"{bar.name}: {bar.stick}",
            row=f"member,{bar.name},{bar.stick}",
            length=amount(solved.truss.length_mm(bar), "mm"),
        )
        yield NextStep(
            title=_("Add a member from joint {start} to joint {end}", start=bar.start, end=bar.end),
            text=f"{how} {_left(solved.solution.mechanisms - 1)}",
            bar=(bar.start, bar.end),
        )


def _left(ways: int) -> str:
    if not ways:
        return _("Then the truss cannot move any more.")
    return counted(
        "Then {count} way to move is left, so look again after that.",
        "Then {count} ways to move are left, so look again after that.",
        ways,
    )


def _some(names: tuple[str, ...]) -> str:
    if len(names) <= 4:
        return listed(names)
    return _("{names} and {count} more", names=", ".join(names[:3]), count=len(names) - 3)
