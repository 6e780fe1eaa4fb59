"""Order -> Outcome: the one pure function that a worker is.

The same order gives the same outcome, on any machine, any number of times.
"""

from __future__ import annotations

import base64
from dataclasses import replace

from rubric.brief import Brief
from rubric.criteria.working import Working
from rubric.evidence import Answer, Evidence
from rubric.language import counted
from rubric.marking import mark as mark_evidence
from rubric.messages.orders import DrawOrder, MarkOrder
from rubric.messages.outcomes import Analysis, Drawn, Marked, Mistake, Outlook
from rubric.problems import Problem, Refused
from rubric.rubrics import Rubric
from worker import statics
from worker.advice.findings import findings
from worker.advice.praise import praise
from worker.advice.steps import steps
from worker.analysis import Solved, analysis, solve
from worker.feedback import figures
from worker.feedback.telling import for_a_page, told
from worker.likeness import fingerprint
from worker.measures import measures
from worker.outlook import outlook, par_wood_g
from worker.truss.reader import read_truss
from worker.working import by_hand, compare

MOST_LINKED = 120
"""Members that link to their rows on a page: with more, a drawing is too crowded for pointing, and too large."""
LONGEST_LINE = 160
"""Characters of a line of the file that a mistake quotes."""


def mark(order: MarkOrder) -> Marked:
    """Read, solve, check and mark one file.  Never raises for what a file holds."""
    data = base64.b64decode(order.file_base64)
    return mark_file(data, order.brief, order.rubric, order.job, order.attempt, order.par_wood_g)


def draw(order: DrawOrder) -> Drawn:
    """Draw what a brief allows, and find out the least wood that any bridge for it could use."""
    drawing = figures.envelope(order.brief)
    return Drawn(job=order.job, attempt=order.attempt, drawing=drawing, par_wood_g=par_wood_g(order.brief))


def mark_file(
    data: bytes, brief: Brief, rubric: Rubric, job: int = 0, attempt: str = "", par_g: float | None = None
) -> Marked:
    """The outcome of one file for a brief and a rubric; ``par_g`` as in MarkOrder."""
    try:
        truss = read_truss(data, brief)
    except Refused as refused:
        mistakes = mistakes_of(data, refused.problems)
        return Marked(job=job, attempt=attempt, mistakes=mistakes, marks=mark_evidence(rubric, Evidence()))
    solved = solve(truss, brief)
    return _marked(solved, outlook(solved, data, par_g), rubric, job, attempt)


def _marked(solved: Solved, ahead: Outlook | None, rubric: Rubric, job: int, attempt: str) -> Marked:
    found = analysis(solved, ahead)
    values = measures(solved, found)
    answers = working(solved, rubric)
    marks = mark_evidence(rubric, Evidence(measures=values, working=answers))
    tried = steps(solved)
    if solved.brief.problem:
        found = _forces_alone(found)
    drawing = (
        figures.forces(found, solved.brief, linked=len(found.members) <= MOST_LINKED)
        if solved.stable
        else figures.mechanism(found, solved.brief, tried)
    )
    return Marked(
        job=job,
        attempt=attempt,
        title=solved.truss.title,
        analysis=found,
        measures=values,
        working=answers,
        marks=marks,
        on_board=marks.on_board and _may_stand_on_a_board(solved, found),
        praise=_right(answers) if solved.brief.problem else praise(solved),
        steps=tried,
        findings=findings(found, solved.brief),
        drawing=drawing,
        told=for_a_page(told(found, solved.brief), drawing),
        fingerprint=None if solved.brief.problem else fingerprint(solved.truss),
    )


def _forces_alone(found: Analysis) -> Analysis:
    """A problem set asks for forces: what the given truss could carry is no part of it."""
    unasked = ("first_failure", "failure_load_N", "efficiency", "outlook")
    return found.model_copy(update=dict.fromkeys(unasked))


def _right(working: dict[str, tuple[Answer, ...]]) -> tuple[str, ...]:
    """What worked in a problem set: the answers that are right."""
    answers = [answer for given in working.values() for answer in given]
    right = sum(answer.verdict == "right" for answer in answers)
    all_of_them = counted("{count} answer", "{count} answers", len(answers))
    said = counted(
        "{count} of your {answers} is right.", "{count} of your {answers} are right.", right, answers=all_of_them
    )
    return (said,) if right else ()


def _may_stand_on_a_board(solved: Solved, found: Analysis) -> bool:
    """Whether it is a bridge of one's own that keeps the brief's limits."""
    own = solved.brief.problem is None
    return own and solved.stable and not found.limits_broken and bool(found.efficiency)


UNASKED = ""
"""Stands for the criterion where no rubric asks for the working that a student handed in."""


def working(solved: Solved, rubric: Rubric) -> dict[str, tuple[Answer, ...]]:
    """The student's own working compared, by criterion; without one too, so that nobody worked for nothing.

    By hand a truss has hinges and no weight of its own, whatever the brief counts beside.
    """
    truss, solution = replace(solved.truss, permanent={}), solved.solution
    if solved.stable and (solved.truss.permanent or solved.brief.joints == "rigid"):
        solution = statics.solve(truss)
    asked = [criterion for criterion in rubric.criteria if isinstance(criterion, Working)]
    if asked:
        return {criterion.name: compare(truss, solution, criterion) for criterion in asked}
    unasked = by_hand(truss, solution)
    return {UNASKED: unasked} if unasked else {}


def mistakes_of(data: bytes, problems: tuple[Problem, ...]) -> tuple[Mistake, ...]:
    """Each problem with the line it stands in, as far as the bytes can be shown as text."""
    lines = data.decode("utf-8-sig", "replace").splitlines()
    return tuple(
        Mistake(
            line=problem.line,
            column=problem.column,
            found=problem.found,
            expected=problem.expected,
            mend=problem.mend,
            quote=_visible(lines[problem.line - 1]) if problem.line <= len(lines) else "",
        )
        for problem in problems
    )


def _visible(line: str) -> str:
    return "".join(c if c.isprintable() or c == "\t" else "\N{REPLACEMENT CHARACTER}" for c in line[:LONGEST_LINE])
