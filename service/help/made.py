"""Help made from the code: pages from docstrings, tables of keys from shapes.

Pure: modules and shapes in, values for a template out.  Titles of kinds and what a key says are in the language of
the moment; the text of docstrings is English.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from types import ModuleType
from typing import Any, get_args

from markupsafe import Markup, escape
from pydantic import BaseModel
from pydantic.fields import FieldInfo

from rubric.criteria import KINDS
from rubric.language import _, later
from rubric.shapes import spoken

TITLES = (
    later("A threshold: all the points on the right side of one number, none on the other"),
    later("Steps: bands of a measure, each with its words and its points"),
    later("A straight-line scale: points rise or fall in a straight line between the numbers you give"),
    later("Share of par: how near the bridge comes to the best that there could be"),
    later("A count: how many there are of a thing, such as joints, members, sticks or distinct lengths"),
    later("A place in the class or in the contest: settled when you release the marks"),
    later("The student's own working: reactions and member forces worked out by hand, marked as you would"),
    later("The teacher's own judgement: points that no computation gives"),
)
"""What the docstrings of kinds begin with, for the catalogues."""

_CODE = re.compile(r"\.\. code-block:: yaml\n\n((?:(?: {4}.*)?\n)+)")


@dataclass(frozen=True)
class Part:
    """A paragraph, or an example as it is typed."""

    text: Markup
    is_example: bool = False


@dataclass(frozen=True)
class Key:
    """One key of a block."""

    name: str
    what: str
    example: str
    usual: str
    """What holds where it is left out; 'needed' where it may not be."""


@dataclass(frozen=True)
class Page:
    """A heading, what stands under it, and the keys."""

    name: str
    title: str
    parts: tuple[Part, ...]
    keys: tuple[Key, ...] = ()


def kinds() -> tuple[Page, ...]:
    """A page for each kind of criterion, in the order of the code."""
    return tuple(page_of(shape, str(get_args(shape.model_fields["kind"].annotation)[0])) for shape in KINDS)


def page_of(shape: type[BaseModel], name: str) -> Page:
    """The docstring of the module that a shape stands in, and the keys of the shape."""
    title, parts = said(sys.modules[shape.__module__])
    return Page(name, _(title), parts, keys_of(shape))


def said(module: ModuleType) -> tuple[str, tuple[Part, ...]]:
    """A module's docstring as a title and parts."""
    title, __, rest = (module.__doc__ or "").strip().partition("\n")
    return title.rstrip("."), tuple(_parts(rest))


def keys_of(shape: type[BaseModel]) -> tuple[Key, ...]:
    """The keys of one block, without ``kind``."""
    return tuple(_key(name, info) for name, info in shape.model_fields.items() if name != "kind")


def blocks_of(shape: type[BaseModel], name: str) -> Iterator[Page]:
    """The keys of a shape, and after it of every block within it."""
    yield Page(name, _first_line(shape), (), keys_of(shape))
    for field, info in shape.model_fields.items():
        for inner in _shapes_in(info.annotation):
            yield from blocks_of(inner, spoken(field))


def _parts(text: str) -> Iterator[Part]:
    at = 0
    for example in _CODE.finditer(text + "\n"):
        yield from _paragraphs(text[at : example.start()])
        lines = [line[4:] for line in example[1].rstrip().split("\n")]
        yield Part(escape("\n".join(lines)), is_example=True)
        at = example.end()
    yield from _paragraphs(text[at:])


def _paragraphs(text: str) -> Iterator[Part]:
    for paragraph in text.split("\n\n"):
        words = " ".join(paragraph.split())
        if words:
            yield Part(_inline(words))


def _inline(words: str) -> Markup:
    """Words between double back quotes as they are typed."""
    pieces = words.split("``")
    return Markup("").join(
        Markup("<code>{}</code>").format(piece) if place % 2 else escape(piece) for place, piece in enumerate(pieces)
    )


def _key(name: str, info: FieldInfo) -> Key:
    example = str(info.examples[0]) if info.examples else ""
    return Key(spoken(name), _(info.description) if info.description else "", example, _usual(info))


def _usual(info: FieldInfo) -> str:
    if info.is_required():
        return _("needed")
    value: Any = info.get_default(call_default_factory=True)
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        part = (info.examples or [""])[0]
        return f"{100 * value:g} %" if str(part).endswith("%") else f"{value:g}"
    return value if isinstance(value, str) else ""


def _first_line(shape: type[BaseModel]) -> str:
    return (shape.__doc__ or "").partition("\n")[0].rstrip(".")


def _shapes_in(annotation: Any) -> list[type[BaseModel]]:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return [annotation]
    return [shape for part in get_args(annotation) for shape in _shapes_in(part)]
