"""``kingpost recompute``: the figures of a contest, computed again from raw readings."""

from __future__ import annotations

import argparse
import sys

from sqlalchemy import select
from sqlalchemy.orm import Session

from rubric.problems import quoted
from service.commands.starting import opened_records, with_settings
from service.contest.publishing import publications
from service.contest.recomputing import derivation, differences
from service.records.contest_models import Publication
from service.records.models import Contest
from service.settings import Settings


def command(arguments: list[str]) -> int:
    """Compute the published figures of a contest again from raw readings."""
    parser = argparse.ArgumentParser("kingpost recompute", description=command.__doc__)
    parser.add_argument("contest", help="its title")
    parser.add_argument("--number", type=int, help="show how the figures of this bridge come about")
    options = parser.parse_args(arguments)
    found: list[int] = []

    def work(settings: Settings) -> None:
        records = opened_records(settings)
        with records.read() as session:
            found.append(_look(session, options.contest, options.number))
        records.engine.dispose()

    return with_settings("recompute", work) or found[0]


def _look(session: Session, title: str, number: int | None) -> int:
    contest = session.scalar(select(Contest).where(Contest.title == title))
    lists = publications(session, contest.id) if contest else []
    if not lists:
        why = "no contest of that title" if contest is None else "no list was published"
        print(f"kingpost recompute: {quoted(title)}: {why}.", file=sys.stderr)  # noqa: T201
        return 2
    return max(_compare(session, one, number) for one in lists)


def _compare(session: Session, one: Publication, number: int | None) -> int:
    wrong = differences(session, one)
    for step in derivation(session, one, number) if number is not None else ():
        _say(f"  {step}")
    for line in one.lines:
        if line["number"] == number:
            _say(f"  list {one.number}: " + ", ".join(f"{name} {value}" for name, value in line.items()))
    for each in wrong:
        _say(f"list {one.number}, {each}")
    verdict = f"{len(wrong)} figures differ" if wrong else "every figure comes out again"
    _say(f"list {one.number}, {len(one.lines)} bridges: {verdict}")
    return 1 if wrong else 0


def _say(line: str) -> None:
    print(line)  # noqa: T201
