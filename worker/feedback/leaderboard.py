"""The leaderboard of files marked at the command line, as one page that needs nothing else."""

from __future__ import annotations

from collections.abc import Iterable

from rubric.messages.outcomes import Analysis
from worker.feedback.sheets import templates


def ranked(values: list[float]) -> list[int]:
    """Rank of each value, highest first; equal values share the better rank."""
    return [1 + sum(other > value for other in values) for value in values]


def leaderboard_html(title: str, bridges: Iterable[tuple[str, Analysis]]) -> str:
    """A page that ranks bridges by efficiency; those without one are left out."""
    rows = sorted(
        ((found.efficiency, name, found) for name, found in bridges if found.efficiency is not None),
        key=lambda row: (-row[0], row[1]),
    )
    ranks = ranked([efficiency for efficiency, _, _ in rows])
    return (
        templates()
        .get_template("leaderboard.html")
        .render(title=title, rows=[(rank, name, found) for rank, (_, name, found) in zip(ranks, rows, strict=True)])
    )
