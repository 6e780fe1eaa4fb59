"""The leaderboard of files marked at the command line, as one page that needs nothing else."""

from __future__ import annotations

from collections.abc import Iterable

from rubric.messages.outcomes import Analysis
from rubric.ranking import ranks
from worker.feedback.typesetter import templates


def leaderboard_html(title: str, bridges: Iterable[tuple[str, Analysis]]) -> str:
    """A page that ranks bridges by efficiency; those without one are left out."""
    rows = sorted(
        ((found.efficiency, name, found) for name, found in bridges if found.efficiency is not None),
        key=lambda row: (-row[0], row[1]),
    )
    found = ranks([efficiency for efficiency, _, _ in rows])
    ranked = [(rank, name, bridge) for rank, (_, name, bridge) in zip(found, rows, strict=True)]
    return templates().get_template("leaderboard.html").render(title=title, rows=ranked)
