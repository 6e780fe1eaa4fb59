"""How much goes on a page, reckoned in mm before anything is set: good enough to choose, not to measure."""

from __future__ import annotations

import math

from rubric.by_hand import by_hand
from rubric.criteria.common import CriterionMark
from rubric.language import Language, spoken
from rubric.marking import Marks
from rubric.messages.orders import SheetHead
from rubric.messages.outcomes import Marked
from rubric.messages.told import Told
from worker.feedback.view import MOST_SLIPS, answers_said, changed_said

_PAGE = {"A4": 261.0, "Letter": 243.0}
"""Height of the text on a page."""
_LINE, _SMALL_LINE = 5.0, 4.1
_ACROSS = 82
"""Characters on a line beside the headings in the margin."""
_ACROSS_SMALL = 96
_ACROSS_SAID = 52
"""Characters on a line of what is said of one answer worked out by hand."""
_COLUMNS = (16, 14, 16, 29)
"""Characters on a line of the columns of the table of criteria, but for the points."""
_ACROSS_LEAD, _LEAD_LINE = 68, 5.8
"""Of what is said first, in larger letters."""
_HEAD, _MARK = 44.0, 16.0
_SPARE = 4.0
"""A table that begins low on a page does less harm than a page with one line on it."""
_FINDINGS_HEAD, _FIGURE_HEAD, _DIFFERS = 9.0, 14.0, 14.0
_CAUTIONS: dict[Language, float] = {"en": 28.0, "de": 36.0}
_ANSWERS_HEAD = 13.0


def first_page_is_full(outcome: Marked, told: Told, head: SheetHead, figure_mm: float) -> bool:
    """Whether the first page may run over, so that the second part had better follow at once."""
    steps = [f"{step.title} {step.text}" for step in outcome.steps]
    texts = [*outcome.praise, *told.then, *told.why.says, *steps, *_from_the_teacher(head)]
    said = sum(_lines(text, _ACROSS) * _LINE + 1.5 for text in texts)
    lead = _lines(" ".join(told.first.says), _ACROSS_LEAD) * _LEAD_LINE + 5.0
    return _HEAD + figure_mm + lead + said + _MARK > _height(head) - _SPARE


def second_page_has_room(outcome: Marked, head: SheetHead, figure_mm: float) -> bool:
    """Whether a figure of this height still goes on the page of the points."""
    analysis = outcome.analysis
    said = [*analysis.limits_broken, *analysis.warnings] if analysis else []
    found = sum(_lines(finding.text, _ACROSS_SMALL) * _SMALL_LINE + 2.4 for finding in outcome.findings)
    used = sum(_lines(text, _ACROSS) * _LINE + 1.5 for text in said) + found + _FINDINGS_HEAD
    used += _CAUTIONS[spoken()] + (0.0 if outcome.findings else _DIFFERS)
    return _criteria_mm(outcome.marks, head) + _by_hand_mm(outcome) + used + figure_mm + _FIGURE_HEAD < _height(head)


def _criteria_mm(marks: Marks, head: SheetHead) -> float:
    rules = sum(_lines(said, _ACROSS_SMALL) * _SMALL_LINE + 1.5 for said in marks.rules)
    return 24.0 + rules + sum(_criterion_mm(row, head) for row in marks.criteria)


def _by_hand_mm(outcome: Marked) -> float:
    shown = by_hand(outcome.working)
    rows = [row for one in shown for row in one.slips[:MOST_SLIPS]]
    heads = sum(_LINE * _lines(answers_said(one), _ACROSS) + (_ANSWERS_HEAD if one.slips else 0.0) for one in shown)
    heads += _FINDINGS_HEAD if shown else 0.0
    return heads + sum(1.3 + _SMALL_LINE * _lines(row.said, _ACROSS_SAID) for row in rows)


def _criterion_mm(row: CriterionMark, head: SheetHead) -> float:
    texts = (row.name, row.seen, row.asked, f"{changed_said(row, head)} {row.why} {row.earn_more}")
    return 2.5 + _SMALL_LINE * max(_lines(text, across) for text, across in zip(texts, _COLUMNS, strict=True))


def _from_the_teacher(head: SheetHead) -> list[str]:
    return [text for text in (head.comment, head.place) if text]


def _lines(text: str, across: int) -> int:
    return max(1, math.ceil(len(text) / across))


def _height(head: SheetHead) -> float:
    return _PAGE.get(head.paper, _PAGE["A4"])
