"""The typesetter: one HTML and one style sheet to a PDF, and nothing fetched from anywhere.

The output targets PDF/UA-1 (tags, language, title, alternative text); the same input gives the
same bytes.
"""

from __future__ import annotations

import gc
import re
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from typing import Any, cast
from xml.etree import ElementTree

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup
from weasyprint import CSS, HTML, cssselect2
from weasyprint.text.fonts import FontConfiguration
from weasyprint.urls import URLFetcher, URLFetcherResponse

from rubric.language import _, form_for, spoken
from rubric.wording import figure, localised, points
from worker.feedback.lettering import set_whole_lines
from worker.feedback.text import prose, with_units

set_whole_lines()

_SELDOM = 50_000
"""Objects between two rounds of the garbage collector while a page is set; most jitter is its work."""


_DRAWING = "drawing:"
_SVG = re.compile(r"<svg [^>]*><title>([^<]*)</title>.*?</svg>", re.DOTALL)


PAGE, PAGES = '" counter(page) "', '" counter(pages) "'
"""In a text of a style sheet: the number of the page, and how many there are."""


class NothingFetched(URLFetcher):
    """Refuses every address: what is set is made of its own template alone."""

    def fetch(self, url: str, headers: Any = None) -> Any:
        raise ValueError("a sheet fetches nothing")


class Drawings(NothingFetched):
    """Hands out the drawings that were taken out of a page, by their number, and refuses all else."""

    def __init__(self) -> None:
        super().__init__()
        self.kept: list[str] = []

    def take(self, found: re.Match[str]) -> str:
        """Keep an SVG; what stands in its place."""
        self.kept.append(found[0])
        return f'<img src="{_DRAWING}{len(self.kept) - 1}" alt="{found[1]}"/>'

    def fetch(self, url: str, headers: Any = None) -> Any:
        number = url.removeprefix(_DRAWING)
        if number != url and number.isdecimal() and int(number) < len(self.kept):
            return URLFetcherResponse(url, self.kept[int(number)].encode(), {"Content-Type": "image/svg+xml"})
        return super().fetch(url, headers)


class Page(HTML):
    """A page of ours as WeasyPrint takes it.  Ours are XML too, which a parser in C reads sooner."""

    def __init__(self, html: str, fetcher: URLFetcher) -> None:
        try:
            root = ElementTree.fromstring(html)  # noqa: S314  # nosec B314: nothing of a pupil's can declare an entity
        except ElementTree.ParseError:  # a character that XML has no room for
            super().__init__(string=html, url_fetcher=fetcher)
            return
        self.base_url, self.url_fetcher, self.media_type = None, fetcher, "print"
        self.wrapper_element = cssselect2.ElementWrapper.from_html_root(root, content_language=None)
        self.etree_element = self.wrapper_element.etree_element


def set_pdf(html: str, style: str) -> bytes:
    """The PDF of a page in this style; equal style sheets are read once."""
    return _set(html, style, NothingFetched())


def set_illustrated(html: str, style: str) -> bytes:
    """The same for a page whose drawings each begin with a title and have the class of their box alone for a style.

    They are set as images: the parser of HTML and the style sheet would else go through each of their lines,
    which takes a seventh of the time.
    """
    drawings = Drawings()
    return _set(_SVG.sub(drawings.take, html), style, drawings)


def _set(html: str, style: str, fetcher: NothingFetched) -> bytes:
    with _fewer_collections():
        page = Page(html, fetcher)
        pdf = page.write_pdf(stylesheets=[css(style)], font_config=fonts(), pdf_variant="pdf/ua-1", pdf_tags=True)
    return cast(bytes, pdf)


@cache
def templates() -> Environment:
    """The templates of all that is set for people to read; every value is escaped."""
    found = Environment(
        loader=PackageLoader("worker.feedback"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    found.globals.update(_=_in_html, counted=_counted_in_html, spoken=spoken)
    found.filters.update(clean=prose, units=with_units, points=points, figure=figure, tenths=_tenths)
    return found


def _tenths(value: float) -> str:
    return localised(f"{value:.1f}")


def _in_html(text: str, **values: object) -> Markup:
    """``text`` in the language of the moment; it may hold markup, its values are escaped."""
    return Markup(_(text)).format(**values)  # noqa: S704  # nosec B704


def _counted_in_html(one: str, many: str, count: int, **values: object) -> Markup:
    return Markup(form_for(one, many, count)).format(count=count, **values)  # noqa: S704  # nosec B704


def numbered(style: str, foot: str) -> str:
    """A style sheet with this text, PAGE and PAGES in it, where its own pages are numbered."""
    return style.replace("page-number", f'"{foot}"'.replace(' ""', ""), 1)


@cache
def css(style: str) -> Any:
    """A style sheet as read."""
    return CSS(string=style, font_config=fonts(), url_fetcher=NothingFetched())


@cache
def fonts() -> Any:
    """One for the whole process: a fresh one per sheet leaks memory."""
    return FontConfiguration()


@contextmanager
def _fewer_collections() -> Iterator[None]:
    usual = gc.get_threshold()
    gc.set_threshold(_SELDOM, *usual[1:])
    try:
        yield
    finally:
        gc.set_threshold(*usual)
