"""How values are written, as JSON Schema: the same as the readers take, for the schemas that editors use.

An editor has numbers as numbers and everything else as text; both are allowed wherever the readers
allow both.  Patterns are plain enough for every dialect of regular expressions.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Annotated, Any

from pydantic import BeforeValidator, WithJsonSchema

from rubric.quantities import LARGEST

Written = dict[str, Any]
"""A JSON Schema."""

DECIMAL = r"[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)"
"""A plain decimal number as a pattern."""

_DIGITS = r"(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]{1,3})?"
_PERCENT = r"\+?(?:100(?:\.0*)?|[0-9]?[0-9](?:\.[0-9]*)?|\.[0-9]+) *%"
_NOT_NOUGHT = r"(?![0.]+(?:[^0-9.]|$))"


def reads(read: Any, written: Written) -> BeforeValidator:
    """``read`` as a validator of pydantic that knows how the value it reads is written."""
    return BeforeValidator(read, json_schema_input_type=Annotated[Any, WithJsonSchema(written)])


def plain_number(least: float | None = None, most: float = LARGEST) -> Written:
    """A number; as text, spelt as people write it."""
    return {"anyOf": [_number(least, most), text_like(_spelt(least))]}


def quantity(units: Iterable[str], least: float | None = None) -> Written:
    """A number alone, or with one of ``units`` after it."""
    names = "|".join(name.replace("2", "[2²]").replace("3", "[3³]") for name in units)
    return {"anyOf": [_number(least, LARGEST), text_like(f"{_spelt(least)} *(?:{names})?")]}


def whole_number(least: int, most: int = 10_000) -> Written:
    """A whole number, in digits."""
    return {
        "anyOf": [
            {"type": "integer", "minimum": least, "maximum": most},
            text_like(r"\+?(?!0[0-9])[0-9]+(?:\.0*)?"),
        ]
    }


def part() -> Written:
    """A part of one, as a percentage or as a number from 0 to 1."""
    return {"anyOf": [_number(0, 1), text_like(_PERCENT), text_like(r"\+?(?:0(?:\.[0-9]*)?|\.[0-9]+|1(?:\.0*)?)")]}


def line() -> Written:
    """Words; an editor takes some words for a number or for true and false."""
    return {
        "anyOf": [
            {"type": "string", "minLength": 1, "maxLength": 400, "pattern": r"\S"},
            {"type": ["number", "boolean"]},
        ]
    }


def one_of(words: Iterable[str]) -> Written:
    """One of some words as an editor offers them, or in other capitals."""
    names = list(words)
    loose = "|".join(" +".join(_any_case(part) for part in name.split()) for name in names)
    return {"anyOf": [{"enum": names}, text_like(f"(?:{loose})")]}


YES_OR_NO: Written = {"anyOf": [{"type": "boolean"}, {"type": "string", "pattern": "^ *(?:[Yy][Ee][Ss]|[Nn][Oo]) *$"}]}
"""``yes`` is a word to some editors and true to others."""


def points_or_part() -> Written:
    """Points for one entry of a criterion: plain, or a part of the criterion's own."""
    return {"anyOf": [plain_number(0, 1000), text_like(_PERCENT)]}


def text_like(pattern: str) -> Written:
    """Text that fits a pattern from its first letter to its last, spaces around it apart."""
    return {"type": "string", "pattern": f"^ *{pattern} *$"}


def block(of: Written, least: int = 0, keys: Written | None = None) -> Written:
    """Names and values of one kind."""
    named: Mapping[str, Any] = {"propertyNames": keys} if keys else {}
    return {"type": "object", "minProperties": least, "additionalProperties": of, **named}


def _number(least: float | None, most: float) -> Written:
    return {"type": "number", "minimum": -most if least is None else least, "maximum": most}


def _spelt(least: float | None) -> str:
    """A number as text: a sign where it may be below nought, no leading noughts, not nought where that is too small."""
    sign = "[+-]?" if least is None or least < 0 else r"\+?"
    return sign + (_NOT_NOUGHT if least is not None and least > 0 else "") + "(?!0[0-9])" + _DIGITS


def _any_case(word: str) -> str:
    return "".join(f"[{c.lower()}{c.upper()}]" if c.lower() != c.upper() else c for c in word)
