"""What a sheet says, as plain values: words and numbers are made here, the templates only lay them out."""

from __future__ import annotations

import re
from dataclasses import dataclass

from markupsafe import Markup

from rubric import mechanism
from rubric.brief import Brief
from rubric.by_hand import ByHand, by_hand
from rubric.criteria.common import CriterionMark
from rubric.drawing.svg import titled_in_full
from rubric.language import _, counted, later
from rubric.marking import Marks
from rubric.messages.orders import SheetHead
from rubric.messages.outcomes import Analysis, Figure, Marked, MemberRow, Mistake
from rubric.wording import SHORT_MODES, figure, listed, points
from worker.feedback import figures
from worker.feedback.figures.forces import force_text, least_shown_N, shown
from worker.feedback.joined import UNIT_MM, whole_words
from worker.feedback.text import clean

MOST_SLIPS = 4
"""Slips in the working by hand that a sheet shows; the page shows every answer."""
_MOST_NAMED = 12

MOST_MEMBERS = 120
"""Rows of the table of members; the page of the attempt has all of a larger truss."""

_WHERE = later("Brace the part that moves: one more member in a part that is firm already stops nothing.")
_SHAPE = later("Look for three joints in one line, or for members that all point to one place.")
_AROUND = 60
"""Characters of a quoted line shown before and after the place of a mistake."""


@dataclass(frozen=True)
class Quote:
    """A line of the file in three pieces; ``there`` is where the mistake begins."""

    before: str
    there: str
    after: str


def head_title(outcome: Marked, head: SheetHead) -> str:
    """The name of the bridge, else of the file."""
    return clean(outcome.title, 60) or clean(head.file_name, 60) or _("Your truss")


def drawn(outcome: Marked, brief: Brief) -> Markup:
    """The figure, drawn afresh from the numbers: no markup that came in a message is trusted."""
    found = outcome.analysis
    assert found is not None
    stable = found.state == "stable"
    picture = figures.forces(found, brief) if stable else figures.mechanism(found, brief, outcome.steps)
    return placed(picture)


def placed(picture: Figure) -> Markup:
    """A drawing on the sheet."""
    return Markup(whole_words(titled_in_full(picture)))  # noqa: S704 - our own drawing, every word escaped  # nosec B704


def width_mm(svg: str) -> str:
    """How wide a drawing stands on the page, so that all have letters of one size."""
    found = re.search(r'viewBox="0 0 ([\d.]+) ', svg)
    return f"{UNIT_MM * float(found[1]):.1f}" if found else ""


def height_mm(svg: str) -> float:
    """How high a drawing stands on the page."""
    found = re.search(r'viewBox="0 0 [\d.]+ ([\d.]+)"', svg)
    return UNIT_MM * float(found[1]) if found else 0.0


@dataclass(frozen=True)
class MemberLine:
    """A row of the table of members, written out."""

    name: str
    stick: str
    length_mm: str
    force_N: str
    stress_MPa: str
    capacity_N: str
    used: str
    mode: str
    first: bool


def hardest_worked(analysis: Analysis, most: int = MOST_MEMBERS) -> list[MemberLine]:
    """The most used members; the one that breaks first leads."""
    first = analysis.first_failure.member if analysis.first_failure else None
    rows = sorted(analysis.members, key=lambda row: (row.name != first, -row.utilisation))
    return [_member_line(row, analysis, row.name == first) for row in rows[:most]]


def in_order(analysis: Analysis, most: int = MOST_MEMBERS) -> list[MemberLine]:
    """The members in the order of the truss, none marked."""
    return [_member_line(row, analysis, first=False) for row in analysis.members[:most]]


def _member_line(row: MemberRow, analysis: Analysis, first: bool) -> MemberLine:
    force = shown(row.hardest_N, least_shown_N(analysis))
    stress = figure(row.stress_MPa) if force else "0"
    return MemberLine(
        name=clean(row.name, 20),
        stick=clean(row.stick, 14) + (f" ×{row.count}" if row.count > 1 else ""),
        length_mm=figure(row.length_mm),
        force_N=force_text(force),
        stress_MPa=stress.replace("-", "−") if stress.startswith("-") or stress == "0" else f"+{stress}",
        capacity_N="–" if row.capacity_N is None else figure(row.capacity_N),
        used=figure(100 * row.utilisation),
        mode=_(SHORT_MODES[row.mode]),
        first=first,
    )


def moving(analysis: Analysis) -> str:
    """Which joints of a mechanism move."""
    names = tuple(clean(name, 20) for name in analysis.moving)
    if not names:
        return _("Parts of the truss move.")
    if len(names) == 1:
        return _("Joint {joint} moves.", joint=names[0])
    return _("Joints {joints} move.", joints=_some(names))


def _some(names: tuple[str, ...]) -> str:
    rest = len(names) - _MOST_NAMED
    if rest <= 0:
        return listed(names)
    return _("{names} and {count} more", names=", ".join(names[:_MOST_NAMED]), count=rest)


def counting(analysis: Analysis) -> str:
    """Members and joints counted, and what the count does not say.

    Maxwell's count with Calladine's term: 2 j - b - r = mechanisms - states of self-stress.
    """
    joints, bars = len(analysis.joints), len(analysis.members)
    short = analysis.mechanisms - analysis.degree
    missing = analysis.missing_bars if analysis.form else analysis.mechanisms
    held = 2 * joints - bars - short
    said = [_needed(joints), _there(bars, held)]
    if short > 0 and not analysis.degree:
        wanting = counted("So {count} member is missing.", "So {count} members are missing.", short)
        return " ".join((*said, wanting, _(_WHERE)))
    if short <= 0:
        said.append(_("So the count alone looks fine."))
    else:
        said.append(
            counted("So at least {count} member must be added.", "So at least {count} members must be added.", short)
        )
    if missing:
        said.append(
            _(
                "But counting is not enough. Some of your members brace a part that is firm already, "
                "and another part stays free."
            )
        )
    return " ".join(filter(None, (*said, mechanism.lacks(analysis), _(_WHERE if missing else _SHAPE))))


def _needed(joints: int) -> str:
    return counted(
        "Each joint must be held in two directions: {count} joint, {directions} directions.",
        "Each joint must be held in two directions: {count} joints, {directions} directions.",
        joints,
        directions=2 * joints,
    )


def _there(bars: int, held: int) -> str:
    return _(
        "You have {members} and {directions} held by supports: {count} in all.",
        members=counted("{count} member", "{count} members", bars),
        directions=counted("{count} direction", "{count} directions", held),
        count=bars + held,
    )


def ways(analysis: Analysis) -> str:
    """In how many ways a mechanism moves, where it is more than one."""
    return mechanism.ways(analysis, lambda name: clean(name, 20))


def total(marks: Marks) -> str:
    """The mark in words."""
    earned, most, waiting = (points(value) for value in (marks.total, marks.out_of, marks.waiting))
    if not marks.waiting:
        return _("{earned} of {most} points", earned=earned, most=most)
    values = {"earned": earned, "most": most, "waiting": waiting}
    if marks.waiting == 1:
        return _("{earned} of {most} points so far; {waiting} point waits for your teacher", **values)
    return _("{earned} of {most} points so far; {waiting} points wait for your teacher", **values)


def changed_said(row: CriterionMark, head: SheetHead) -> str:
    """What stands before the reason of a teacher who put other points in place of the computed ones; else nothing."""
    if not row.corrected:
        return ""
    day = clean(head.corrected.get(row.name, ""), 40)
    return _("Changed by your teacher on {day}:", day=day) if day else _("Changed by your teacher:")


def worked_by_hand(outcome: Marked) -> tuple[ByHand, ...]:
    """The student's own answers beside what holds."""
    return by_hand(outcome.working)


def answers_said(one: ByHand) -> str:
    """What stands above the slips; how many answers are right stands in the table of points, if they earn any."""
    names = tuple(clean(name, 40) for name in one.left_out)
    said = [f"{one.criterion or one.summary}."]
    if names:
        said.append(_("Left out: {names}.", names=_some(names)))
    if not one.criterion:
        said.append(_("This brief gives no points for it."))
    elif one.all_right:
        said.append(_("All your answers are right."))
    return " ".join(said)


def quoted_at(mistake: Mistake) -> Quote:
    """The quoted line cut at the place of the mistake: the marked piece is a word, or one character."""
    line = mistake.quote
    column = min(max(mistake.column - 1, 0), len(line))
    found = re.match(r"[^\s,:\[\]{}]+|.", line[column:])
    there = found[0] if found else ""
    before, after = line[:column], line[column + len(there) :]
    if len(before) > _AROUND:
        before = "…" + before[-_AROUND:]
    if len(after) > _AROUND:
        after = after[:_AROUND] + "…"
    return Quote(_plain(before), _plain(there[:_AROUND]) or "\u2423", _plain(after))


def _plain(piece: str) -> str:
    """A piece of a line of code: spaces stay where they are, nothing can turn the line around."""
    return "".join(c if c.isprintable() else " " if c == "\t" else "\ufffd" for c in piece)
