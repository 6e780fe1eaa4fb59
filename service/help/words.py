"""Words of the trade on a page of their own, and links to it where they occur."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache

from flask import Blueprint, render_template, url_for
from markupsafe import Markup, escape

from rubric.glossary import WORDS, Word
from rubric.language import Language, speaking, spoken
from service.classes.brief_said import Facts

pages = Blueprint("words", __name__)

LinkedFacts = tuple[tuple[Markup, tuple[Markup, ...]], ...]


@pages.get("/help/words")
def glossary() -> str:
    """What each word means, from A to Z."""
    return render_template("words.html", words=sorted(WORDS, key=lambda word: word.said.lower()))


def linked(facts: Facts) -> LinkedFacts:
    """The facts of a brief, in which each word of the trade is a link where it first occurs."""
    seen: set[Word] = set()
    return tuple((_linked(name, seen), tuple(_linked(line, seen) for line in lines)) for name, lines in facts)


@cache
def _forms(language: Language) -> tuple[Mapping[str, Word], re.Pattern[str]]:
    """Each word by every form that a sentence in ``language`` may have, and what finds them, the longest first."""
    with speaking(language):
        forms = {form.lower(): word for word in WORDS for form in (word.said, *word.also) if len(form) > 1}
    either = "|".join(re.escape(form) for form in sorted(forms, key=len, reverse=True))
    return forms, re.compile(rf"\b(?:{either})\b", re.IGNORECASE)


def _linked(text: str, seen: set[Word]) -> Markup:
    forms, find = _forms(spoken())
    out, at = Markup(), 0
    for found in find.finditer(text):
        word = forms[found[0].lower()]
        if word not in seen:
            seen.add(word)
            link = Markup('<a class="word" href="{}#{}">{}</a>').format(url_for("words.glossary"), word.key, found[0])
            out += escape(text[at : found.start()]) + link
            at = found.end()
    return out + escape(text[at:])
