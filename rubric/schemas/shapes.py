"""The JSON Schema of a shape as people write it: spoken keys, units in text, nothing that a reader would refuse.

A value whose reader does not say how it is written (``rubric.written.reads``) may be anything.
"""

from __future__ import annotations

import sys
from typing import Any

from pydantic import BaseModel
from pydantic.json_schema import GenerateJsonSchema, JsonSchemaValue
from pydantic_core import core_schema

from rubric.located import plain, read_yaml
from rubric.problems import Findings, Refused
from rubric.quantities import number
from rubric.written import DECIMAL, text_like

_BOUNDS = {"ge": "minimum", "le": "maximum"}

_EITHER = (("points", "weight"), ("at least", "at most"), ("at most", "exactly"), ("per day", "per hour"))
"""Keys of which a block has one."""

_SEE_MODULE = "See the module's docstring"


def schema_of(model: type[BaseModel]) -> dict[str, Any]:
    """The schema of ``model`` and of everything in it."""
    return model.model_json_schema(by_alias=True, schema_generator=_AsWritten, mode="validation")


class _AsWritten(GenerateJsonSchema):
    def function_before_schema(self, schema: core_schema.BeforeValidatorFunctionSchema) -> JsonSchemaValue:
        if "json_schema_input_schema" in schema or _holds_model(schema["schema"]):
            return _within(super().function_before_schema(schema), schema["schema"])
        return {}

    def model_schema(self, schema: core_schema.ModelSchema) -> JsonSchemaValue:
        made = super().model_schema(schema)
        if str(made.get("description", "")).startswith(_SEE_MODULE):
            page = sys.modules[schema["cls"].__module__].__doc__ or ""
            made["description"] = page.partition("\n\n")[0].replace("``", "'")
        for one, other in _EITHER:
            if one in made.get("properties", {}) and other in made["properties"]:
                made["required"] = [key for key in made.get("required", ()) if key != one]
                made.setdefault("allOf", []).append({"oneOf": [{"required": [one]}, {"required": [other]}]})
        return made

    def nullable_schema(self, schema: core_schema.NullableSchema) -> JsonSchemaValue:
        """A key that may be left out is left out: nothing after its colon is no value."""
        return self.generate_inner(schema["schema"])

    def default_schema(self, schema: core_schema.WithDefaultSchema) -> JsonSchemaValue:
        """With the usual value where it is a single word or number."""
        made = self.generate_inner(schema["schema"])
        usual = schema.get("default")
        return {**made, "default": usual} if isinstance(usual, str | int | float) else made

    def float_schema(self, schema: core_schema.FloatSchema) -> JsonSchemaValue:
        return {"anyOf": [{"type": "number"}, text_like(rf"{DECIMAL} *(?:[A-Za-z%][A-Za-z0-9/]*)?")]}

    def int_schema(self, schema: core_schema.IntSchema) -> JsonSchemaValue:
        return {"type": ["integer", "string"]}

    def bool_schema(self, schema: core_schema.BoolSchema) -> JsonSchemaValue:
        return {"type": ["boolean", "string"]}

    def str_schema(self, schema: core_schema.StringSchema) -> JsonSchemaValue:
        return {"type": ["string", "number", "boolean"]}

    def field_title_should_be_set(self, schema: Any) -> bool:
        return False

    def generate(self, schema: Any, mode: Any = "validation") -> JsonSchemaValue:
        made: JsonSchemaValue = _tidied(super().generate(schema, mode))
        return made


def _within(made: JsonSchemaValue, read: Any) -> JsonSchemaValue:
    """With the bounds that a field sets to the number that was read."""
    bounds = {key: read[key] for key in _BOUNDS if key in read}
    return {**made, **bounds} if bounds else made


def _holds_model(schema: Any) -> bool:
    while schema["type"].startswith("function-"):
        schema = schema["schema"]
    return bool(schema["type"] in ("model", "model-fields", "definition-ref"))


def _tidied(made: Any) -> Any:
    """Bounds by their names in JSON Schema, and examples as values in place of the YAML that people read."""
    if isinstance(made, list):
        return [_tidied(item) for item in made]
    if not isinstance(made, dict):
        return made
    found = {_BOUNDS.get(key, key): _tidied(value) for key, value in made.items() if key != "examples"}
    values = [value for text in made.get("examples", ()) if (value := _value(str(text))) is not None]
    return found | ({"examples": values} if values else {})


def _value(text: str) -> Any:
    try:
        value = plain(read_yaml(f"x: {text}\n", Findings()))["x"]
    except Refused:
        return None
    if "..." in str(value):
        return None
    return number(value) if isinstance(value, str) and number(value) is not None else value
