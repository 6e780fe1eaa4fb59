"""The JSON Schema of a truss file, in the words and units of ``worker/truss/``.

A file with supports stands alone and brings its own loads; one without is a file of a class, whose
brief sets them.  The YAML form alone: a table has no schema.
"""

from __future__ import annotations

from typing import Any

from rubric.language import later
from rubric.quantities import AREA_UNITS, FORCE_UNITS, LENGTH_UNITS, STRESS_UNITS
from rubric.written import DECIMAL, Written, block, quantity, text_like

MOST_JOINTS, MOST_MEMBERS, LONGEST_TITLE, LONGEST_NAME = 200, 600, 100, 40

_JOINT: Written = {"pattern": rf"^[^\s-]{{1,{LONGEST_NAME}}}$"}
_ENDS: Written = {"pattern": r"^[^-]*[^\s-][^-]*-[^-]*[^\s-][^-]*$"}
_STICK = text_like(r"[^\s]+(?:\s+[xX×]\s?0{0,2}[1-3])?")
_NOTHING: Written = {"enum": [None, ""]}


def truss_schema() -> dict[str, Any]:
    """The whole file."""
    return {
        "title": "Truss file",
        "description": "One side truss: joints, and members between them. The brief says where supports and loads are.",
        "type": "object",
        "required": ["joints", "members"],
        "additionalProperties": False,
        "properties": _common() | dict.fromkeys(_alone(), True),
        "if": {"required": ["supports"]},
        "then": {"properties": _alone() | _blocks(3, _bar_alone())},
        "else": {"properties": dict.fromkeys(_alone(), False) | _blocks(2, {"anyOf": [_STICK, {"type": "number"}]})},
    }


def _common() -> dict[str, Any]:
    return {
        "title": {
            "description": later("a title of one line"),
            "examples": ["First try"],
            "anyOf": [{"type": "string", "maxLength": LONGEST_TITLE}, {"type": ["number", "boolean", "null"]}],
        },
        "units": {"description": later("the unit of length"), "enum": list(LENGTH_UNITS), "default": "mm"},
        "force": {"description": later("the unit of force"), "enum": list(FORCE_UNITS), "default": "N"},
        "joints": {
            "description": later("a name for each joint, then x (to the right) and y (up)"),
            "examples": [{"a": [0, 0]}],
            **block({}, 1, _JOINT),
        },
        "members": {
            "description": later("the two joints it runs between, then the stick it is cut from"),
            "examples": [{"a-b": "square5"}, {"a-d": "square5 x2"}],
            **block({}, 1, _ENDS),
        },
        "working": _working(),
    }


def _blocks(axes: int, bar: Written) -> dict[str, Any]:
    return {
        "joints": {"maxProperties": MOST_JOINTS, "additionalProperties": _vector(LENGTH_UNITS, axes)},
        "members": {"maxProperties": MOST_MEMBERS, "additionalProperties": bar},
    }


def _alone() -> dict[str, Any]:
    roller = rf"roller(?:\s+(?:x|y|{DECIMAL}))?"
    return {
        "supports": {
            "description": later("in a file without a brief: what holds a joint"),
            "examples": [{"a": "pin", "b": "roller"}],
            **block(text_like(rf"(?:pin|{roller}|holds(?!.*(?:x.*x|y.*y|z.*z))(?:\s+[xyz])+)"), 1),
        },
        "settlements": {
            "description": later("in a file without a brief: how far a support gives way"),
            "examples": [{"b": [0, "-2 mm"]}],
            **block(_vector(LENGTH_UNITS, 3)),
        },
        "misfits": {
            "description": later("in a file without a brief: how much too long a member is cut (minus: too short)"),
            "examples": [{"a-d": "0.1 mm"}],
            **block(quantity(LENGTH_UNITS), 0, _ENDS),
        },
        "loads": {
            "description": later("in a file without a brief: the force at a joint, to the right and up"),
            "examples": [{"c": [0, -20]}],
            **block(_vector(FORCE_UNITS, 3)),
        },
    }


def _vector(units: dict[str, float], axes: int) -> Written:
    return {"type": "array", "items": quantity(units), "minItems": 2, "maxItems": axes}


def _bar_alone() -> Written:
    properties = {"area": _with_unit(AREA_UNITS), "modulus": _with_unit(STRESS_UNITS)}
    given = {"type": "object", "properties": properties, "additionalProperties": False, "minProperties": 1}
    return {"anyOf": [_NOTHING, _STICK, {"type": "number"}, given]}


def _with_unit(units: dict[str, float]) -> Written:
    """More than nought, and never without a unit."""
    names = "|".join(name.replace("2", "[2²]") for name in units)
    return text_like(rf"\+?(?![0.]+(?:[^0-9.]|$))(?!0[0-9])[0-9.]+(?:[eE][+-]?[0-9]{{1,3}})? *(?:{names})")


def _working() -> Written:
    units = "|".join((*FORCE_UNITS, "g", "kg"))
    size = rf"\+?[0-9.]+(?:[eE][+-]?[0-9]+)? *(?:{units})?"
    nought = rf"\+?[0.]+ *(?:{units})?"
    across, upright = rf"{size} +(?:left|right)", rf"{size} +(?:up|down)"
    reaction = rf"(?:{upright}(?: +{across})?|{across}(?: +{upright})?|{nought})"
    name = r"[^-,]*[^\s,-][^-,]*"
    return {
        "description": later("what you worked out by hand"),
        "type": "object",
        "additionalProperties": False,
        "properties": {
            "reactions": {
                "description": later("the force of a support on a joint, and which way it goes"),
                "examples": [{"a": "50 up"}],
                **block({"anyOf": [{"const": 0}, text_like(reaction)]}, 0, _JOINT),
            },
            "forces": {
                "description": later("the force in a member, with T or C; or T or C alone, or 0"),
                "examples": [{"a-b": "80 C"}],
                **block({"anyOf": [{"const": 0}, text_like(rf"(?:(?:{size})? *[TC]|{nought})")]}, 0, _ENDS),
            },
            "zero members": {
                "description": later("the members without force, or none"),
                "examples": [["b-d", "c-e"]],
                "anyOf": [
                    {"type": "array", "items": {"type": "string", **_ENDS}},
                    {"type": "null"},
                    block(_NOTHING, 0, _ENDS),
                    text_like(rf"(?:none|{name}-{name}(?:,{name}-{name})*)?"),
                ],
            },
        },
    }
