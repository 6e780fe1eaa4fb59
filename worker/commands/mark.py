"""``kingpost mark``: files marked with no service at all, into a folder."""

from __future__ import annotations

import argparse
import json
import sys
from dataclasses import dataclass, replace
from pathlib import Path

from rubric.brief import Brief
from rubric.messages.orders import PAPERS, Paper, SheetHead
from rubric.messages.outcomes import Marked
from rubric.rubrics import Rubric
from rubric.tables import table_for_people
from rubric.wording import plural
from worker.commands import given
from worker.feedback.leaderboard import leaderboard_html
from worker.feedback.plan.printing import plan_pdf
from worker.feedback.sheets import sheet_pdf
from worker.marker import mark_file

ALL_MARKED, SOME_WRONG, NOTHING_DONE = 0, 1, 2
"""Exit statuses."""


@dataclass(frozen=True)
class Work:
    """One file and what came of it; ``name`` is the file's name without its ending, made unique."""

    name: str
    path: Path
    outcome: Marked


def command(arguments: list[str]) -> int:
    """Mark truss files: sheets, results, a leaderboard and building plans, in one folder.

    Exit status 0: all marked; 1: some files hold mistakes or could not be read; 2: nothing done.
    """
    options = _options(arguments)
    try:
        brief, rubric = given.brief(options.brief), given.rubric(options.rubric)
        folder = Path(options.out)
        folder.mkdir(parents=True, exist_ok=True)
        works = [work for path in options.files if (work := _work(Path(path), brief, rubric))]
        named = _unique(works)
        _write(folder, named, brief, options.paper)
        if options.plan:
            _write_plans(folder / "plans", named, brief, options.paper)
    except given.GivenWrong as wrong:
        return _stop("\n".join(wrong.args))
    except OSError as error:
        return _stop(f"{error.filename or options.out}: cannot be used as a folder for sheets: {error.strerror}.")
    _say(f"{plural(len(named), 'sheet')}, results.json, results.csv and leaderboard.html are in {folder}")
    not_marked = len(options.files) - sum(not work.outcome.mistakes for work in named)
    return SOME_WRONG if not_marked else ALL_MARKED


def _options(arguments: list[str]) -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="kingpost mark", description="Mark truss files without the service.")
    parser.add_argument("--brief", required=True, help="a brief: a YAML file, or the name of a ready one")
    parser.add_argument("--rubric", required=True, help="a rubric: a YAML file, or the name of a ready one")
    parser.add_argument("--out", required=True, metavar="DIR", help="folder for sheets and results")
    parser.add_argument("--plan", action="store_true", help="a building plan too, for each truss that is stable")
    parser.add_argument("--paper", choices=PAPERS, default=PAPERS[0], help="paper of sheets and plans; no sheet is A3")
    parser.add_argument("files", nargs="+", metavar="FILE", help="truss files, YAML or CSV")
    return parser.parse_args(arguments)


def _work(path: Path, brief: Brief, rubric: Rubric) -> Work | None:
    try:
        data = given.read_bytes(path)
    except OSError as error:
        _say(f"{path}: cannot be read: {error.strerror}. It is left out.")
        return None
    outcome = mark_file(data, brief, rubric)
    for mistake in outcome.mistakes:
        _say(
            f"{path}: line {mistake.line}, column {mistake.column}: found {mistake.found}; "
            f"expected {mistake.expected}. To mend it: {mistake.mend}"
        )
    return Work(path.stem, path, outcome)


def _unique(works: list[Work]) -> list[Work]:
    """Files of the same name from different folders get a number each."""
    taken: set[str] = set()
    named = []
    for work in works:
        names = (work.name, *(f"{work.name}-{number}" for number in range(2, len(works) + 2)))
        free = next(name for name in names if name not in taken)
        taken.add(free)
        named.append(replace(work, name=free))
    return named


def _write(folder: Path, works: list[Work], brief: Brief, paper: Paper) -> None:
    for number, work in enumerate(works, start=1):
        (folder / f"{work.name}.pdf").write_bytes(sheet_pdf(_head(work, paper), brief, work.outcome))
        _say(f"{number} of {len(works)}: {work.name}")
    (folder / "results.json").write_text(_json(works), encoding="utf-8")
    (folder / "results.csv").write_bytes(_csv(works))
    board = [(work.name, work.outcome.analysis) for work in works if work.outcome.on_board and work.outcome.analysis]
    (folder / "leaderboard.html").write_text(leaderboard_html(brief.title, board), encoding="utf-8")


def _write_plans(folder: Path, works: list[Work], brief: Brief, paper: Paper) -> None:
    """A building plan for each stable truss."""
    folder.mkdir(exist_ok=True)
    stable = [(work, found) for work in works if (found := work.outcome.analysis) and found.state == "stable"]
    for work, found in stable:
        pdf = plan_pdf(_head(work, paper), brief, work.outcome.title, found)
        (folder / f"{work.name}.pdf").write_bytes(pdf)
    _say(f"{plural(len(stable), 'building plan')}, for each stable truss, in {folder}")


def _head(work: Work, paper: Paper) -> SheetHead:
    return SheetHead(
        paper=paper,
        student=work.name,
        school="",
        class_name="",
        teacher="",
        attempt_number=1,
        handed_in="",
        file_name=work.path.name[:200],
    )


def _json(works: list[Work]) -> str:
    values = [
        {"name": w.name, **w.outcome.model_dump(mode="json", exclude={"job", "attempt", "drawing"})} for w in works
    ]
    return json.dumps(values, ensure_ascii=False, indent=1)


def _csv(works: list[Work]) -> bytes:
    head = ("name", "state", "points", "out of", "waiting for the teacher", "failure load N", "mass g", "efficiency")
    return table_for_people([head, *(_csv_row(work) for work in works)])


def _csv_row(work: Work) -> tuple[object, ...]:
    found, marks = work.outcome.analysis, work.outcome.marks
    state = found.state if found else "mistakes in the file"
    numbers = (found.failure_load_N, found.mass_g, found.efficiency) if found else (None, None, None)
    rounded = (round(n, 3) if n is not None else "" for n in numbers)
    return (work.name, state, marks.total, marks.out_of, marks.waiting, *rounded)


def _say(text: str) -> None:
    print(text, file=sys.stderr)  # noqa: T201


def _stop(text: str) -> int:
    _say(text)
    return NOTHING_DONE
