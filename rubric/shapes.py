"""Shapes of what teachers write: pydantic models whose faults become problems with places.

A field says in ``description`` what is expected and in ``examples`` how it is written; both are
used word for word in the messages.  Keys are spelt with spaces, as people write them; a field
name carries its unit (``span_mm``), the key does not (``span``).
"""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Annotated, Any, TypeVar, get_args

from pydantic import BaseModel, BeforeValidator, ConfigDict, ValidationError
from pydantic_core import ErrorDetails, PydanticCustomError

from rubric.language import _, later
from rubric.located import Mapping, Node, Place, Scalar, Sequence, decode, plain, read_yaml
from rubric.problems import Findings, Problem, quoted
from rubric.quantities import (
    DENSITY_UNITS,
    DURATION_UNITS,
    FORCE_UNITS,
    LENGTH_UNITS,
    MASS_UNITS,
    STRESS_UNITS,
    number,
    quantity,
)
from rubric.spelling import did_you_mean
from rubric.wording import listed
from rubric.written import YES_OR_NO, line, one_of, part, plain_number, reads, whole_number
from rubric.written import quantity as written_quantity

_UNIT_SUFFIX = re.compile(r"_(mm|N|g|MPa|kg_m3|min)?$")


def spoken(name: str) -> str:
    """The key a person writes for a field: ``depth_above_mm`` is written ``depth above``."""
    return _UNIT_SUFFIX.sub("", name).replace("_", " ")


class Shape(BaseModel):
    """Immutable, with spoken keys; a key that is not known is refused."""

    model_config = ConfigDict(
        frozen=True, extra="forbid", alias_generator=spoken, serialize_by_alias=True, validate_by_alias=True
    )


def fault(found: str, expected: str, mend: str, *at: str | int) -> PydanticCustomError:
    """A fault to raise inside a validator, in our own words.

    ``at`` leads from where the validator stands to where the fault is written: keys, and places in a list.
    """
    told = {"found": found, "expected": expected, "mend": mend, "at": at}
    return PydanticCustomError("kingpost", "{found}; expected {expected}", told)


def _reader(
    units: dict[str, float], default: str, kind: str, least: float | None, names: str = ""
) -> Callable[[Any], float]:
    def read(value: Any) -> float:
        given = value if isinstance(value, float | int) else quantity(str(value), units, default)
        if given is None or isinstance(value, bool | list | dict):
            raise fault(
                quoted(str(value)),
                _("{kind} in {units}", kind=_(kind), units=_(names) or ", ".join(units)),
                _("write a plain number and a unit, such as '12.5 {default}'.", default=default),
            )
        if least is not None and given < least:
            raise fault(
                quoted(str(value)),
                _("{kind} of {least} or more", kind=_(kind), least=f"{least:g}"),
                _("write a larger number."),
            )
        return float(given)

    return read


def _count(least: int) -> Callable[[Any], int]:
    def read(value: Any) -> int:
        given = value if isinstance(value, int | float) else number(str(value))
        if given is None or given != int(given) or not least <= given <= 10_000:
            raise fault(
                quoted(str(value)), _("a whole number from {least} to 10000", least=least), _("write a whole number.")
            )
        return int(given)

    return read


def _pure(value: Any) -> float:
    given = value if isinstance(value, float | int) else number(str(value))
    if given is None:
        raise fault(quoted(str(value)), _("a plain number"), _("write digits with a full stop, such as 2.5."))
    return float(given)


def _line(value: Any) -> str:
    if not isinstance(value, str) or not value.strip() or len(value) > 400:
        raise fault(quoted(str(value)), _("some words, at most 400 letters"), _("write one line of text."))
    return value.strip()


def yes_or_no(value: Any) -> bool:
    """Reads 'yes' or 'no', and the true and false of JSON."""
    text = str(value).strip().casefold()
    if text not in ("yes", "no", "true", "false"):
        raise fault(quoted(str(value)), _("'yes' or 'no'"), _("write one of the two, or leave the line out."))
    return text in ("yes", "true")


def choice(*words: str) -> BeforeValidator:
    """Reads one of ``words``, whatever its case and spaces."""
    known = {" ".join(word.split()).casefold(): word for word in words}

    def read(value: Any) -> str:
        text = " ".join(str(value).split())
        if text.casefold() not in known:
            raise fault(
                quoted(text),
                _("one of {words}", words=listed([quoted(word) for word in words])),
                did_you_mean(text, words),
            )
        return known[text.casefold()]

    return reads(read, one_of(words))


def _part(value: Any) -> float:
    """A part of one: '25 %' or 0.25."""
    text = str(value).strip()
    percent = number(text[:-1]) if text.endswith("%") else None
    given = percent / 100 if percent is not None else number(text)
    if given is None or not 0 <= given <= 1:
        raise fault(quoted(text), _("a part from 0 % to 100 %"), _("write for example '25 %'."))
    return given


SMALLEST = 1e-6


def _quantity(
    units: dict[str, float], default: str, kind: str, least: float | None, names: str = ""
) -> BeforeValidator:
    return reads(_reader(units, default, kind, least, names), written_quantity(units, least))


Length = Annotated[float, _quantity(LENGTH_UNITS, "mm", later("a length"), None)]
Size = Annotated[float, _quantity(LENGTH_UNITS, "mm", later("a length"), SMALLEST)]
Force = Annotated[float, _quantity(FORCE_UNITS, "N", later("a force"), SMALLEST)]
LeastForce = Annotated[float, _quantity(FORCE_UNITS, "N", later("a force"), 0.0)]
Mass = Annotated[float, _quantity(MASS_UNITS, "g", later("a mass"), 0.0)]
Stress = Annotated[float, _quantity(STRESS_UNITS, "MPa", later("a stress"), SMALLEST)]
Density = Annotated[float, _quantity(DENSITY_UNITS, "kg/m3", later("a density"), SMALLEST)]
Minutes = Annotated[float, _quantity(DURATION_UNITS, "min", later("a time"), 0.0, later("min, hours or days"))]
YesNo = Annotated[bool, reads(yes_or_no, YES_OR_NO)]
Count = Annotated[int, reads(_count(0), whole_number(0))]
CountFrom1 = Annotated[int, reads(_count(1), whole_number(1))]
Part = Annotated[float, reads(_part, part())]
Pure = Annotated[float, reads(_pure, plain_number())]
Words = Annotated[str, reads(_line, line())]

_ANOTHER = later("another kind of value")

M = TypeVar("M", bound=BaseModel)


def fit(model: type[M], tree: Mapping, findings: Findings) -> M | None:
    """The tree as ``model``; where it does not fit, None and one problem for each fault."""
    try:
        return model.model_validate(plain(tree))
    except ValidationError as error:
        findings.take(_problem(model, tree, detail) for detail in error.errors(include_url=False))
        return None


def read(model: type[M], data: bytes) -> M:
    """The bytes of a YAML file as ``model``.

    Raises
    ------
    Refused
        With every problem of the file.
    """
    findings = Findings()
    found = fit(model, read_yaml(decode(data), findings), findings)
    findings.settle()
    assert found is not None
    return found


def _problem(model: type[BaseModel], tree: Mapping, detail: ErrorDetails) -> Problem:
    trail = tuple(detail["loc"])
    kind = detail["type"]
    place, node, key = _find(tree, trail)
    while trail and isinstance(trail[-1], int):  # an item of a list is described by the list's own field
        trail = trail[:-1]
    if kind == "kingpost":
        told = detail["ctx"]
        place, *__ = _find(tree, (*detail["loc"], *told["at"]))
        return Problem(*place, told["found"], told["expected"], told["mend"])
    if kind == "extra_forbidden":
        known = [spoken(name) for name in _fields(model, trail[:-1])]
        return Problem(
            *place, _("the unknown key {word}", word=quoted(key)), _("a key of this block"), did_you_mean(key, known)
        )
    field = _fields(model, trail[:-1]).get(key)
    expected = _((field.description if field else None) or _ANOTHER)
    example = field.examples[0] if field and field.examples else "..."
    if kind == "missing":
        return Problem(
            *place,
            _("no {word}", word=quoted(key)),
            expected,
            _("add a line such as '{line}'.", line=f"{key}: {example}"),
        )
    if kind == "union_tag_not_found":
        return Problem(*place, _("no 'kind'"), _("the kind of criterion"), _("add a line such as 'kind: threshold'."))
    if kind == "union_tag_invalid":
        known = [tag.strip(" '") for tag in str(detail["ctx"]["expected_tags"]).split(",")]
        tag = str(detail["ctx"]["tag"])
        return Problem(
            *place, _("the unknown kind {word}", word=quoted(tag)), _("a kind of criterion"), did_you_mean(tag, known)
        )
    found = quoted(node.text) if isinstance(node, Scalar) and node.text else _shape_name(node)
    return Problem(*place, found, expected, _("write it as '{line}'.", line=f"{key}: {example}"))


def _shape_name(node: Node | None) -> str:
    if isinstance(node, Sequence):
        return _("a list")
    return _("a block of keys") if isinstance(node, Mapping) else _("nothing")


def _find(tree: Node, trail: tuple[int | str, ...]) -> tuple[Place, Node | None, str]:
    """Where a fault stands: as deep as the trail can be followed, and the last key of it."""
    node: Node = tree
    place = tree.place
    key = ""
    for step in trail:
        if isinstance(node, Sequence) and isinstance(step, int) and step < len(node.items):
            node = node.items[step]
            place = node.place
        elif isinstance(node, Mapping):
            if isinstance(step, str):
                key = step
            child = node.get(str(step))
            if child is not None:
                place = node.key_place(str(step)) if not isinstance(child, Scalar) else child.place
                node = child
                continue
            if step == trail[-1]:
                return node.place, None, key
    return place, node, key


def _fields(model: type[BaseModel], trail: tuple[int | str, ...]) -> dict[str, Any]:
    """The fields, by spoken key, of the model that the trail leads to."""
    here: list[type[BaseModel]] = [model]
    for step in trail:
        for candidate in list(here):
            named = {spoken(name): info for name, info in candidate.model_fields.items()}
            if step in named:
                here = _models(named[str(step)].annotation) or here
        tagged = [m for m in here if "kind" in m.model_fields and step in _tags(m)]
        here = tagged or here
    return {spoken(name): info for candidate in here for name, info in candidate.model_fields.items()}


def _tags(model: type[BaseModel]) -> tuple[Any, ...]:
    return get_args(model.model_fields["kind"].annotation)


def _models(annotation: Any) -> list[type[BaseModel]]:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return [annotation]
    return [model for part in get_args(annotation) for model in _models(part)]
