"""JSON Schemas (draft 2020-12) of what people write: truss files, briefs, rubrics and the rules of contests.

For editors, which check and complete while somebody types.  They are made from the same shapes and
unit tables as the readers.  A schema looks at each value alone, so the readers refuse more: see
``tests/rubric/schemas/test_schemas.py`` for what a schema cannot say.
"""

from __future__ import annotations

from typing import Any

NAMES = ("truss", "brief", "rubric", "contest")

DIALECT = "https://json-schema.org/draft/2020-12/schema"


def schema(name: str) -> dict[str, Any]:
    """The schema of one of ``NAMES``."""
    # Imported here, because the list of commands looks into this package and must come at once.
    from pydantic import BaseModel

    from rubric.brief import Brief
    from rubric.contest.rules import ContestRules
    from rubric.rubrics import Rubric
    from rubric.schemas.shapes import schema_of
    from rubric.schemas.truss import truss_schema

    shapes: dict[str, type[BaseModel]] = {"brief": Brief, "rubric": Rubric, "contest": ContestRules}
    made = truss_schema() if name == "truss" else schema_of(shapes[name])
    return {"$schema": DIALECT, **made}
