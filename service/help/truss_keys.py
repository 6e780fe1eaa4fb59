"""Every key of a truss file, from its schema."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

import yaml

from rubric.language import _
from rubric.schemas.truss import truss_schema
from service.help.made import Key


def keys_of_file() -> tuple[Key, ...]:
    """The keys in the language of the moment; ``working: forces`` is a key within a block."""
    schema = truss_schema()
    alone = {name: shape for name, shape in schema["then"]["properties"].items() if "description" in shape}
    return tuple(_keys(schema["properties"] | alone, schema["required"]))


def _keys(shapes: Mapping[str, Any], required: list[str], within: str = "") -> Iterator[Key]:
    for name, shape in shapes.items():
        what, usual = shape["description"], _("needed") if name in required else shape.get("default", "")
        yield Key(f"{within}{name}", _(what), _example(shape), usual)
        yield from _keys(shape.get("properties", {}), shape.get("required", []), f"{within}{name}: ")


def _example(shape: Mapping[str, Any]) -> str:
    """The first example as it is typed, or all that may be chosen."""
    if "enum" in shape:
        return ", ".join(shape["enum"])
    if not shape.get("examples"):
        return ""
    written = str(yaml.safe_dump(shape["examples"][0], default_flow_style=True, width=1000, sort_keys=False))
    return written.removesuffix("...\n").strip().removeprefix("{").removesuffix("}")
