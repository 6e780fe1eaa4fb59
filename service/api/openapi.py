"""The OpenAPI file, made from the table of operations."""

from __future__ import annotations

from functools import cache
from typing import Any

from pydantic import BaseModel
from pydantic.json_schema import models_json_schema

from service.api import shapes
from service.api.operation import MOST, USUAL, Operation
from service.api.table import OPERATIONS
from service.api.tokens import READ_NAMES, SCOPES
from service.privacy.doings import KINDS

_WHOLE = {"type": "integer", "minimum": 1, "maximum": 999_999_999}
_PARAMETERS: dict[str, dict[str, Any]] = {
    "cursor": {
        "description": "'next' of the page before",
        "schema": {"type": "string", "pattern": "^[0-9]{1,9}$"},
    },
    "limit": {
        "description": f"items of a page, {USUAL} where left out",
        "schema": {"type": "integer", "minimum": 1, "maximum": MOST},
    },
    "student_id": {"description": "of this student alone", "schema": _WHOLE},
    "kind": {"description": "acts of this kind alone", "schema": {"type": "string", "enum": list(KINDS)}},
    "by_id": {"description": "of this person alone", "schema": _WHOLE},
    "since": {"description": "from this day on", "schema": {"type": "string", "format": "date"}},
    "until": {"description": "up to this day", "schema": {"type": "string", "format": "date"}},
    "other_id": {
        "description": "the attempt beside it; where left out, the one before it, else the next",
        "schema": _WHOLE,
    },
}
_REFUSED = {
    400: "The request cannot be read",
    401: "No token, or one that opens nothing",
    403: "The token has not the scope, or is not a coordinator's",
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
    scope += f" Tells names, so it needs '{READ_NAMES}' too." if operation.named else ""
    scope += " The token must be a coordinator's." if operation.coordinator else ""
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
    found = [{"name": name, "in": "path", "required": True, "schema": _WHOLE} for name in names]
    found += [{"name": name, "in": "query", **_PARAMETERS[name]} for name in operation.query]
    if operation.keyed:
        what = "chosen by the program: the same key again does nothing more"
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
    usual |= {413, 415} if operation.method == "post" else set()
    wrong = {"application/problem+json": {"schema": _reference(shapes.Problem)}}
    refused = {
        str(code): {"description": _REFUSED[code], "content": wrong} for code in sorted(usual | {*operation.refusals})
    }
    return {str(operation.status): {"description": operation.summary, "content": good}, **refused}


def _reference(model: type[BaseModel]) -> dict[str, str]:
    return {"$ref": f"#/components/schemas/{model.__name__}"}
