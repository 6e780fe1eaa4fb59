"""What a page in another language still says in English: its texts beside those of the English page.

Data is no text of ours: it stands in ``<bdi>``, in code and drawings, or is named by whoever asks.  What is said to be
in another language, by ``lang``, is left as it is.
"""

from __future__ import annotations

import re
from collections.abc import Collection
from html.parser import HTMLParser

from service.records.models import Person
from tests.service.site import Site
from tests.service.test_routes import address, method

DATA = {"bdi", "code", "kbd", "pre", "samp", "script", "style", "svg", "textarea"}
"""Elements whose texts are nobody's translation."""

SAID = ("alt", "aria-label", "data-name", "placeholder", "title")
"""Attributes that are read out or shown, beside those whose names begin with ``data-say``, for scripts."""

ALIKE = {"Code", "Name", "Station", "Deutsch", "English", "Kingpost", "April", "August", "November", "September"}
"""Words that German has too, and names of the service and of languages."""

UNITS = {"mm", "cm", "kg", "MPa", "kN", "Nm", "KB", "PDF", "JSON", "CSV", "YAML", "OneRoster", "OpenAPI", "UTC"}

WORD = re.compile(r"[^\W\d_]{2,}")


class _Texts(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []
        self.within: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        foreign = tag != "html" and any(name == "lang" for name, _ in attrs)
        if tag in DATA or foreign or (self.within and tag == self.within[-1]):
            self.within.append(tag)
        self.found += [value for name, value in attrs if value and (name in SAID or name.startswith("data-say"))]

    def handle_endtag(self, tag: str) -> None:
        if self.within and tag == self.within[-1]:
            self.within.pop()

    def handle_data(self, data: str) -> None:
        if not self.within:
            self.found.append(data)


def texts(page: str) -> list[str]:
    """The texts of a page, each with single spaces."""
    parser = _Texts()
    parser.feed(page)
    return [plain for plain in (" ".join(text.split()) for text in parser.found) if plain]


def leftovers(english: str, other: str, data: Collection[str] = ()) -> list[str]:
    """Texts that both pages have, though they hold words.

    Parameters
    ----------
    data
        Names and titles that the pages show, besides those in ``<bdi>``.
    """
    both = set(texts(english)) & set(texts(other))
    return sorted(text for text in both if _words(text, data) - ALIKE - UNITS)


def speak(site: Site, language: str) -> None:
    """All of the staff read in ``language`` from now on."""
    with site.records.write() as session:
        for person in session.query(Person).filter(Person.sign_in_name.is_not(None)):
            person.language = language


def aliases(site: Site) -> set[str]:
    """The aliases of all: data, wherever they stand."""
    with site.records.read() as session:
        return {person.alias for person in session.query(Person) if person.alias}


def walked(
    site: Site, name: str, objects: tuple[int, int], own: Collection[str], left: Collection[str] = ()
) -> dict[str, str]:
    """The whole pages that somebody gets at the addresses of the blueprints ``own``, by address.

    Parameters
    ----------
    objects
        Those of ``tests.service.test_routes.one_of_each``.
    left
        Endpoints that are not walked.
    """
    client, found = site.signed_in(name), {}
    for rule in site.app.url_map.iter_rules():
        if rule.endpoint.partition(".")[0] in own and method(rule) == "GET" and rule.endpoint not in left:
            where = address(site, rule, *objects)
            with client.get(where) as answer:
                if answer.status_code == 200 and answer.mimetype == "text/html":
                    found[where] = answer.text
    return found


def _words(text: str, data: Collection[str]) -> set[str]:
    for one in sorted(data, key=len, reverse=True):
        text = text.replace(one, " ")
    return set(WORD.findall(text))
