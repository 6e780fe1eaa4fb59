"""The reading age of a text: its Flesch-Kincaid grade, by textstat.

Grade 7 is read at the age of 12 (US school years: age is about grade + 5; common practice).  Numbers with
their units, and names, are taken out first: they are read as one short word each.  The measures of the
catalogue are names here: a rubric that asks for the midspan deflection has taught the word first.
"""

from __future__ import annotations

import re

import textstat

from rubric.measures import CATALOGUE

AGE_12 = 7.0
"""Flesch-Kincaid grade."""

_NUMBER = re.compile(r"[-+]?\d+(?:[.,]\d+)*(?: ?(?:%|mm|kN|N|g|MPa)(?![A-Za-z]))?")
_PHRASES = sorted({m.in_a_sentence for m in CATALOGUE.values()} | set(CATALOGUE), key=len, reverse=True)
_MEASURE = re.compile("|".join(re.escape(phrase) for phrase in _PHRASES), re.IGNORECASE)


def plain(text: str, names: tuple[str, ...] = ()) -> str:
    """The text with measures, numbers and names made short."""
    for name in sorted(names, key=len, reverse=True):
        text = text.replace(name, "it")
    return _NUMBER.sub("6", _MEASURE.sub("it", text))


def grade(text: str, names: tuple[str, ...] = ()) -> float:
    """Flesch-Kincaid grade: 0.39 words a sentence + 11.8 syllables a word - 15.59."""
    return float(textstat.textstat.flesch_kincaid_grade(plain(text, names)))
