"""One entry of the table of what is kept, and the words that entries share."""

from __future__ import annotations

from dataclasses import dataclass

from rubric.language import later

PUPIL, WORK, CONTEST = later("About a pupil"), later("About a pupil's work"), later("Contests")
SET, STAFF, HOUSE = later("What is set"), later("About staff"), later("For the house")
GROUPS = (PUPIL, WORK, CONTEST, SET, STAFF, HOUSE)

WITH_PUPIL = later("Until the pupil or the class is deleted.")
WITH_CLASS = later("Until the class is deleted.")
WITH_STAFF = later("While the installation stands: marks have to say who gave them.")
SHORT_SKETCH = later("Some minutes, and never longer than the pupil or the class.")
WITH_SCHOOL = later("While the installation stands.")
LASTING = later("While the installation stands. It holds numbers and no name.")
SHORT = later("About ten minutes.")


@dataclass(frozen=True)
class Kept:
    """Some columns of a table that are kept for the same reason."""

    group: str
    table: str
    columns: tuple[str, ...]
    what: str
    why: str
    how_long: str


def kept(group: str, table: str, columns: str, what: str, why: str, how_long: str) -> Kept:
    """An entry; ``columns`` with spaces between them."""
    return Kept(group, table, tuple(columns.split()), what, why, how_long)
