"""The search of the help: one index for each language, made once, of tasks and reference pages alike.

A word that is asked for finds every word that begins with it.  Where it was found decides the order: in a title before
a summary, in a summary before the text.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache, cached_property
from typing import Any

from rubric.brief import Brief
from rubric.glossary import WORDS
from rubric.language import Language, _, later, speaking
from rubric.measures import CATALOGUE
from service.help import made
from service.help.controls import plain
from service.help.library import HEADINGS, PAGES, tasks
from service.help.truss_keys import keys_of_file

LONGEST = 200
"""Letters of a query that are read."""
MOST_WORDS = 8
MOST_FOUND = 20
_WEIGHTS = (4, 2, 1)
_LEAST = 3
"""Shorter words are left out where there are longer ones: ``a`` begins too much."""


@dataclass(frozen=True)
class Entry:
    """One place of the help; its address as ``url_for`` takes it."""

    title: str
    summary: str
    text: str
    group: str
    endpoint: str
    anchor: str | None = None
    values: dict[str, Any] = field(default_factory=dict)

    @cached_property
    def words(self) -> tuple[frozenset[str], ...]:
        """The folded words of title, summary and text."""
        return tuple(frozenset(folded(part)) for part in (self.title, self.summary, self.text))

    def weight(self, word: str) -> int:
        """How much it is worth that ``word`` begins a word of this place; 0 where it does not."""
        for weight, words in zip(_WEIGHTS, self.words, strict=True):
            if any(each.startswith(word) for each in words):
                return weight
        return 0


def folded(text: str) -> list[str]:
    """The words of a text, without capitals and accents."""
    apart = unicodedata.normalize("NFKD", text.casefold())
    return re.findall(r"[^\W_]+", "".join(one for one in apart if not unicodedata.combining(one)))


def asked(query: str) -> list[str]:
    """The words that a query asks for."""
    words = list(dict.fromkeys(folded(query[:LONGEST])))
    return ([word for word in words if len(word) >= _LEAST] or words)[:MOST_WORDS]


def search(query: str, language: Language) -> list[Entry]:
    """The places that a query finds, the best first.

    All of its words come before some of them, then titles before summaries and text, then short titles.
    """
    words = asked(query)
    found = []
    for entry in index(language):
        weights = [entry.weight(word) for word in words]
        if any(weights):
            found.append(((-sum(map(bool, weights)), -sum(weights), len(entry.words[0])), entry))
    return [entry for __, entry in sorted(found, key=lambda each: each[0])]


@cache
def index(language: Language) -> tuple[Entry, ...]:
    """Every place of the help, said in ``language``."""
    with speaking(language):
        parts = (_of_tasks, _of_pages, _of_words, _of_the_file, _of_criteria, _of_the_brief, _of_measures)
        return tuple(entry for part in parts for entry in part())


def _of_tasks() -> Iterator[Entry]:
    for name, (people, task) in tasks().items():
        title, why, steps = task.said
        text = " ".join(map(plain, steps))
        yield Entry(title, plain(why), text, _(HEADINGS[people]), "tasks.task", values={"name": name})


def _of_pages() -> Iterator[Entry]:
    for endpoint, title, summary in PAGES.values():
        yield Entry(_(title), _(summary), "", _(REFERENCE), endpoint)


def _of_criteria() -> Iterator[Entry]:
    for number, page in enumerate(made.kinds(), 1):
        paragraphs = (part.text.striptags() for part in page.parts if not part.is_example)
        keys = (f"{key.name} {key.what}" for key in page.keys)
        text = " ".join((*paragraphs, *keys))
        yield Entry(page.name, f"{page.title}.", text, _(CRITERION), "help.rubric", f"kind-{number}")


def _of_the_brief() -> Iterator[Entry]:
    for number, block in enumerate(made.blocks_of(Brief, "brief"), 1):
        for key in block.keys:
            yield Entry(key.name, key.what, block.name, _(KEY), "help.brief", f"block-{number}")


def _of_the_file() -> Iterator[Entry]:
    for key in keys_of_file():
        yield Entry(key.name, f"{key.what}.", key.example, _(KEY_OF_FILE), "classes.truss_file_help", "keys")


def _of_measures() -> Iterator[Entry]:
    for number, measure in enumerate(CATALOGUE.values(), 1):
        title = measure.name if measure.said == measure.name else f"{measure.said} ({measure.name})"
        yield Entry(title, _(measure.meaning), measure.unit, _(MEASURE), "help.measures", f"measure-{number}")


def _of_words() -> Iterator[Entry]:
    for word in WORDS:
        yield Entry(word.said, word.means, " ".join(word.also), _(WORD), "words.glossary", word.key)


REFERENCE = later("Reference")
CRITERION = later("Kind of criterion")
KEY = later("Key of a brief")
KEY_OF_FILE = later("Key of a truss file")
MEASURE = later("Measure")
WORD = later("Word of the trade")
