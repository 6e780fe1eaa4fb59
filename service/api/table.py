"""What programs may ask for: one table, from which the OpenAPI file is made."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any

from pydantic import BaseModel
from pydantic.json_schema import models_json_schema

from rubric.marking import Marks
from rubric.messages.outcomes import Marked
from service.api import shapes
from service.api.tokens import HAND_IN, READ_CLASS, READ_MARKS, SCOPES, SET_WORK

PDF = "application/pdf"
MOST, USUAL = 200, 50
"""Items of a page."""


@dataclass(frozen=True)
class Operation:
    """One thing to ask for."""

    method: str
    path: str
    endpoint: str
    summary: str
    answer: type[BaseModel] | str
    scope: str = ""
    """The scope it needs; any token will do where there is none."""
    status: int = 200
    body: type[BaseModel] | None = None
    query: tuple[str, ...] = ()
    refusals: tuple[int, ...] = ()
    keyed: bool = False


PAGED = ("cursor", "limit")

OPERATIONS = (
    Operation("get", "/classes", "classes", "The class that the token is for", shapes.Classes),
    Operation("get", "/classes/{class_id}", "school_class", "One class", shapes.SchoolClass, READ_CLASS),
    Operation(
        "get", "/classes/{class_id}/students", "students", "Its students", shapes.Students, READ_CLASS, query=PAGED
    ),
    Operation(
        "get",
        "/classes/{class_id}/assignments",
        "assignments",
        "What is set for it",
        shapes.Assignments,
        READ_CLASS,
        query=PAGED,
    ),
    Operation(
        "post",
        "/classes/{class_id}/assignments",
        "set_work",
        "Set an assignment",
        shapes.AssignmentInFull,
        SET_WORK,
        201,
        shapes.NewAssignment,
        refusals=(415, 422),
    ),
    Operation(
        "get", "/assignments/{assignment_id}", "assignment", "One assignment", shapes.AssignmentInFull, READ_CLASS
    ),
    Operation("get", "/assignments/{assignment_id}/board", "board", "Its board", shapes.Board, READ_CLASS),
    Operation(
        "get",
        "/assignments/{assignment_id}/attempts",
        "attempts",
        "Attempts at it, oldest first",
        shapes.Attempts,
        READ_MARKS,
        query=(*PAGED, "student_id"),
    ),
    Operation(
        "post",
        "/assignments/{assignment_id}/attempts",
        "hand_in",
        "Hand in for a student, once for each key",
        shapes.Attempt,
        HAND_IN,
        202,
        shapes.NewAttempt,
        refusals=(409, 413, 415, 422),
        keyed=True,
    ),
    Operation("get", "/attempts/{attempt_id}", "attempt", "One attempt", shapes.AttemptInFull, READ_MARKS),
    Operation(
        "get", "/attempts/{attempt_id}/marks", "marks", "Its marks as they stand", Marks, READ_MARKS, refusals=(409,)
    ),
    Operation(
        "get",
        "/attempts/{attempt_id}/outcome",
        "outcome",
        "All that was worked out of it",
        Marked,
        READ_MARKS,
        refusals=(409,),
    ),
    Operation("get", "/attempts/{attempt_id}/sheet", "sheet", "Its feedback sheet", PDF, READ_MARKS),
    Operation("get", "/schemas", "schemas", "JSON Schemas of truss file, brief and rubric", shapes.SchemaNames),
)

_PARAMETERS: dict[str, dict[str, Any]] = {
    "cursor": {
        "description": "'next' of the page before",
        "schema": {"type": "string", "pattern": "^[0-9]{1,9}$"},
    },
    "limit": {
        "description": f"items of a page, {USUAL} where left out",
        "schema": {"type": "integer", "minimum": 1, "maximum": MOST},
    },
    "student_id": {
        "description": "of this student alone",
        "schema": {"type": "integer", "minimum": 1, "maximum": 999_999_999},
    },
}
_REFUSED = {
    400: "The request cannot be read",
    401: "No token, or one that opens nothing",
    403: "The token has not the scope",
    404: "Not there, or not of the token's class",
    409: "Not now",
    413: "Too large",
    415: "No JSON",
    422: "Something in it is to be mended",
    429: "Too many requests; Retry-After says when to come back",
}


@cache
def openapi() -> dict[str, Any]:
    """The whole OpenAPI 3.1 document."""
    answers = {o.answer for o in OPERATIONS if isinstance(o.answer, type)}
    bodies = {o.body for o in OPERATIONS if o.body} | {shapes.Problem}  # of a problem most may be left out
    named = [(model, "serialization") for model in answers] + [(model, "validation") for model in bodies]
    _, found = models_json_schema(
        sorted(named, key=lambda pair: pair[0].__name__),  # type: ignore[arg-type]
        ref_template="#/components/schemas/{model}",
    )
    paths: dict[str, Any] = {}
    for operation in OPERATIONS:
        paths.setdefault(f"/api/v1{operation.path}", {})[operation.method] = _written(operation)
    return {
        "openapi": "3.1.0",
        "info": {
            "title": "Kingpost",
            "version": "1",
            "description": "For programs of the school.  A token is made by a teacher, for one class.  Scopes: "
            + "; ".join(f"{scope}: {what}" for scope, what in SCOPES.items())
            + ".",
        },
        "security": [{"token": []}],
        "paths": paths,
        "components": {
            "schemas": found["$defs"],
            "securitySchemes": {"token": {"type": "http", "scheme": "bearer"}},
        },
    }


def _written(operation: Operation) -> dict[str, Any]:
    scope = f"Needs the scope '{operation.scope}'." if operation.scope else "Any token will do."
    found: dict[str, Any] = {
        "operationId": operation.endpoint,
        "summary": operation.summary,
        "description": scope,
        "parameters": _parameters(operation),
        "responses": _responses(operation),
    }
    if operation.body:
        content = {"application/json": {"schema": _reference(operation.body)}}
        found["requestBody"] = {"required": True, "content": content}
    return found


def _parameters(operation: Operation) -> list[dict[str, Any]]:
    names = [part[1:-1] for part in operation.path.split("/") if part.startswith("{")]
    whole = {"type": "integer", "minimum": 1, "maximum": 999_999_999}
    found = [{"name": name, "in": "path", "required": True, "schema": whole} for name in names]
    found += [{"name": name, "in": "query", **_PARAMETERS[name]} for name in operation.query]
    if operation.keyed:
        what = "chosen by the program: the same key again hands in nothing more"
        schema = {"type": "string", "pattern": "^[A-Za-z0-9_-]{1,80}$"}
        found.append(
            {"name": "Idempotency-Key", "in": "header", "required": True, "description": what, "schema": schema}
        )
    return found


def _responses(operation: Operation) -> dict[str, Any]:
    if isinstance(operation.answer, str):
        good = {operation.answer: {"schema": {"type": "string", "format": "binary"}}}
    else:
        good = {"application/json": {"schema": _reference(operation.answer)}}
    usual = {400, 401, 429} | ({403} if operation.scope else set()) | ({404} if "{" in operation.path else set())
    wrong = {"application/problem+json": {"schema": _reference(shapes.Problem)}}
    refused = {
        str(code): {"description": _REFUSED[code], "content": wrong} for code in sorted(usual | {*operation.refusals})
    }
    return {str(operation.status): {"description": operation.summary, "content": good}, **refused}


def _reference(model: type[BaseModel]) -> dict[str, str]:
    return {"$ref": f"#/components/schemas/{model.__name__}"}
