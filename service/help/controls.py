"""Buttons, links and fields in the words of the pages, so that help names them as they are shown.

A step names a control in English, as a reader sees it; here is found which text of the templates that is, and so what
the page shows in the language of the moment.
"""

from __future__ import annotations

import html
import re
from collections.abc import Iterator, Mapping
from functools import cache
from importlib.resources import files

from markupsafe import Markup, escape

from rubric.language import _

_PIECES = re.compile(r"\[([^\[\]]+)\]|``(.+?)``")
_UNSEEN = re.compile(r'<span class="unseen">.*?</span>')
_QUOTED = re.compile(r"\"([^\"]+)\"|'([^']+)'")
_EXPRESSION = re.compile(r"\{\{.*?\}\}", re.DOTALL)
_STATEMENT = re.compile(r"\{%.*?%\}|\{#.*?#\}", re.DOTALL)
_TAG = re.compile(r"<[^<>]*>")


def marked(step: str) -> Markup:
    """A step, already in the language of the moment, with its controls and what is typed marked up."""
    out, at = Markup(), 0
    for found in _PIECES.finditer(step):
        out += escape(step[at : found.start()])
        if found[2]:
            out += Markup("<code>{}</code>").format(found[2])
        else:
            out += Markup('<b class="control">{}</b>').format(shown(found[1]))
        at = found.end()
    return out + escape(step[at:])


def controls(step: str) -> list[str]:
    """The controls that a step names."""
    return [found[1] for found in _PIECES.finditer(step) if found[1]]


def plain(step: str) -> str:
    """A step as it is read, for searching."""
    return _PIECES.sub(lambda found: found[2] or shown(found[1]), step)


def shown(control: str) -> str:
    """What the page shows for a control, in the language of the moment."""
    return seen(_(on_pages().get(control, control)))


def seen(text: str) -> str:
    """What a reader sees of a text with markup; ``…`` for what the page fills in."""
    text = _TAG.sub("", _UNSEEN.sub("", text))
    return " ".join(html.unescape(re.sub(r"\{[^{}]*\}", "…", text)).split())


@cache
def on_pages() -> Mapping[str, str]:
    """Every text of the templates by what a reader sees of it."""
    found: dict[str, str] = {}
    for file in sorted((files("service") / "templates").iterdir(), key=lambda each: each.name):
        for text in _texts(file.read_text("utf-8")):
            found.setdefault(seen(text), text)
    return found


def _texts(template: str) -> Iterator[str]:
    """Texts that the template's expressions quote, and those that stand between its tags."""
    for expression in re.findall(r"\{[{%](.*?)[%}]\}", template, re.DOTALL):
        yield from (one or other for one, other in _QUOTED.findall(expression))
    rest = _STATEMENT.sub("\0", _EXPRESSION.sub("…", template))
    for piece in _TAG.sub("\0", _UNSEEN.sub("", rest)).split("\0"):
        if piece.strip():
            yield " ".join(piece.split())
