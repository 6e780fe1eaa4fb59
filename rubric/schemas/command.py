"""``kingpost schema``: the schemas for an editor."""

from __future__ import annotations

import argparse
import json

from rubric.schemas import NAMES, schema


def command(arguments: list[str]) -> int:
    """Print the JSON Schema of a truss file, a brief, a rubric or contest rules."""
    parser = argparse.ArgumentParser("kingpost schema", description=command.__doc__)
    parser.add_argument("name", choices=NAMES)
    print(as_text(parser.parse_args(arguments).name))  # noqa: T201
    return 0


def as_text(name: str) -> str:
    """The schema as JSON, one key a line."""
    return json.dumps(schema(name), ensure_ascii=False, indent=2)
