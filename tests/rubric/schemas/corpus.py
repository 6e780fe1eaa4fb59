"""Files as an editor sees them, for holding schemas against readers."""

from __future__ import annotations

import re
from typing import Any

import yaml

_NULL = re.compile(r"|~|null|Null|NULL")
_BOOL = re.compile(r"true|True|TRUE|false|False|FALSE")
_INT = re.compile(r"[-+]?[0-9]+")
_FLOAT = re.compile(r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?")


def as_editor(data: bytes) -> Any:
    """The file by the core schema of YAML 1.2; raises yaml.YAMLError or UnicodeDecodeError where it is no YAML."""
    node = yaml.compose(data.decode("utf-8-sig"), Loader=yaml.CSafeLoader)
    return None if node is None else _value(node)


def _value(node: yaml.Node) -> Any:
    if isinstance(node, yaml.MappingNode):
        return {str(key.value): _value(value) for key, value in node.value}
    if isinstance(node, yaml.SequenceNode):
        return [_value(item) for item in node.value]
    text = str(node.value)
    if node.style in ("'", '"'):
        return text
    if _NULL.fullmatch(text):
        return None
    if _BOOL.fullmatch(text):
        return text.lower() == "true"
    if _INT.fullmatch(text):
        return int(text)
    return float(text) if _FLOAT.fullmatch(text) else text
