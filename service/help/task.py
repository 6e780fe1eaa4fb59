"""A page of help: one task of one of the three people, as data that the index and the tests can read."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from rubric.language import _
from rubric.messages.outcomes import Figure


@dataclass(frozen=True)
class Task:
    """What somebody wants to get done, written with ``later``.

    In a step, ``[Hand in]`` stands for a button, link or field as the pages show it, and words between double back
    quotes are typed as they stand.
    """

    place: int
    """Where it stands in the list of its people."""
    title: str
    why: str
    """What it is for, in a sentence or two."""
    steps: tuple[str, ...]
    related: tuple[str, ...]
    """Addresses of further tasks, or keys of :data:`service.help.library.PAGES`."""
    figure: Callable[[], Figure] | None = None
    """Draws it in the language of the moment."""

    @property
    def said(self) -> tuple[str, str, tuple[str, ...]]:
        """Title, purpose and steps in the language of the moment."""
        return _(self.title), _(self.why), tuple(map(_, self.steps))
