"""Words of the trade on a page of their own, and links to it where they occur."""

from __future__ import annotations

import re

from flask import Blueprint, render_template, url_for
from markupsafe import Markup, escape

from rubric.glossary import WORDS, Word
from service.classes.brief_said import Facts

pages = Blueprint("words", __name__)

_FORMS = {form.lower(): word for word in WORDS for form in (word.name, *word.forms) if len(form) > 1}
_FIND = re.compile(rf"\b(?:{'|'.join(re.escape(form) for form in sorted(_FORMS, key=len, reverse=True))})\b", re.I)

LinkedFacts = tuple[tuple[Markup, tuple[Markup, ...]], ...]


@pages.get("/help/words")
def glossary() -> str:
    """What each word means, from A to Z."""
    return render_template("words.html", words=sorted(WORDS, key=lambda word: word.name.lower()))


def linked(facts: Facts) -> LinkedFacts:
    """The facts of a brief, in which each word of the trade is a link where it first occurs."""
    seen: set[Word] = set()
    return tuple((_linked(name, seen), tuple(_linked(line, seen) for line in lines)) for name, lines in facts)


def _linked(text: str, seen: set[Word]) -> Markup:
    out, at = Markup(), 0
    for found in _FIND.finditer(text):
        word = _FORMS[found[0].lower()]
        if word not in seen:
            seen.add(word)
            link = Markup('<a class="word" href="{}#{}">{}</a>').format(url_for("words.glossary"), word.key, found[0])
            out += escape(text[at : found.start()]) + link
            at = found.end()
    return out + escape(text[at:])
