"""The working by hand as pages and sheets lay it out: theirs beside ours, the first slip marked.  Pure."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from rubric.criteria.working import first_slip, seen
from rubric.evidence import Answer, Verdict
from rubric.language import _, later
from rubric.wording import figure

VERDICTS: dict[Verdict, str] = {
    "right": later("Right"),
    "follows": later("Follows from a slip"),
    "rounded": later("Rounded too far"),
    "unit": later("Wrong unit"),
    "sense": later("Right sense, wrong size"),
    "wrong": later("Not right"),
    "left out": later("Left out"),
}
"""How an answer compares, short enough for a table."""


@dataclass(frozen=True)
class AnswerLine:
    """One answer, written out."""

    name: str
    given: str
    """As the student wrote it, or a dash."""
    holds: str
    compared: Verdict
    verdict: str
    """The same, said."""
    said: str
    """What to look at; nothing where the answer is right or left out."""
    first: bool
    """The first slip of the sheet: where to look first."""


@dataclass(frozen=True)
class ByHand:
    """All answers that one criterion asks for; without a name: no criterion asks for them."""

    criterion: str
    summary: str
    lines: tuple[AnswerLine, ...]

    @property
    def slips(self) -> tuple[AnswerLine, ...]:
        """What to look at: the lines that are neither right nor left out nor follow from another."""
        return tuple(line for line in self.lines if line.compared not in _NO_SLIPS)

    @property
    def all_right(self) -> bool:
        """Whether nothing is left to say."""
        return all(line.compared == "right" for line in self.lines)

    @property
    def left_out(self) -> tuple[str, ...]:
        """What was not written down."""
        return tuple(line.name for line in self.lines if line.compared == "left out")


_NO_SLIPS: frozenset[Verdict] = frozenset({"right", "follows", "left out"})


def by_hand(working: dict[str, tuple[Answer, ...]]) -> tuple[ByHand, ...]:
    """What there is to show: nothing for a criterion under which nothing was written."""
    return tuple(
        ByHand(name, seen(answers), answer_lines(answers))
        for name, answers in working.items()
        if any(answer.given for answer in answers)
    )


def answer_lines(answers: Iterable[Answer]) -> tuple[AnswerLine, ...]:
    """A line for each answer, in the order in which they can be worked out."""
    kept = tuple(answers)
    slip = first_slip(kept)
    return tuple(
        AnswerLine(
            name=named(answer),
            given=answer.given or "\N{EN DASH}",
            holds=holds(answer),
            compared=answer.verdict,
            verdict=_verdict(answer),
            said="" if answer.verdict in ("right", "left out") else answer.said,
            first=answer is slip,
        )
        for answer in kept
    )


def _verdict(answer: Answer) -> str:
    if answer.about == "reaction" and answer.verdict == "sense":
        return _("Right direction, wrong size")
    return _(VERDICTS[answer.verdict])


def named(answer: Answer) -> str:
    """``a-b`` as it is; a reaction as ``support a, up`` or ``support a, across``."""
    joint, __, axis = answer.name.partition(" ")
    if answer.about != "reaction":
        return answer.name
    return _("support {joint}, across", joint=joint) if axis == "x" else _("support {joint}, upward", joint=joint)


def holds(answer: Answer) -> str:
    """``80 N C``, ``50 N up``, ``0 N``; ``none`` where no zero member is there to be named."""
    size = figure(abs(answer.true_N))
    if size == "0":
        return _("none") if answer.given_N is None and answer.given in ("none", "") and " " in answer.name else "0 N"
    if answer.about != "reaction":
        return f"{size} N {'T' if answer.true_N > 0 else 'C'}"
    if answer.name.endswith(" x"):
        return _("{size} N right", size=size) if answer.true_N > 0 else _("{size} N left", size=size)
    return _("{size} N up", size=size) if answer.true_N > 0 else _("{size} N down", size=size)
