"""What every request of a program goes through: its token, scope, rate, query and body."""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import wraps
from typing import ParamSpec, TypeVar, cast

from flask import current_app, g, request
from pydantic import BaseModel, ValidationError
from werkzeug.wrappers import Response

from service import web
from service.api.operation import MOST, USUAL, Operation
from service.api.problems import Refusal, problem
from service.api.table import OPERATIONS
from service.api.tokens import READ_NAMES, Rate, find
from service.records.models import COORDINATOR, now
from service.records.token_models import Token

P = ParamSpec("P")
R = TypeVar("R")
M = TypeVar("M", bound=BaseModel)

BY_ENDPOINT = {operation.endpoint: operation for operation in OPERATIONS}
KEY = re.compile(r"[A-Za-z0-9_-]{1,80}")
BIGGEST = 999_999_999


def for_programs(view: Callable[P, R]) -> Callable[P, R]:
    """Let a request in: by its token, which must have the scope of the operation and not come too often."""
    operation = BY_ENDPOINT[view.__name__]

    @wraps(view)
    def guarded(*args: P.args, **kwargs: P.kwargs) -> R:
        g.token = _token()
        _bound_rate()
        for scope in (operation.scope, READ_NAMES if operation.named else ""):
            if scope and scope not in token().scopes:
                raise Refusal(403, "The token may not do that", f"It has not the scope '{scope}'.")
        if operation.coordinator and token().by.role != COORDINATOR:
            raise Refusal(403, "The token may not do that", "Only a coordinator may. Make the token as one.")
        _check_query(operation)
        _read_body(operation)
        return view(*args, **kwargs)

    return guarded


def token() -> Token:
    """The token of this request."""
    return cast(Token, g.token)


def refused(error: Refusal) -> Response:
    """A refusal as a problem."""
    response = problem(error.status, error.title, error.detail, **error.more)
    if error.status == 401:
        response.headers["WWW-Authenticate"] = "Bearer"
    if error.status == 429:
        response.headers["Retry-After"] = str(error.more["wait_s"])
    return response


def page_wanted() -> tuple[int, int]:
    """After which number, and how many items."""
    cursor, limit = request.args.get("cursor", "0"), request.args.get("limit", str(USUAL))
    if not re.fullmatch("[0-9]{1,9}", cursor):
        raise Refusal(400, "No such page", "'cursor' must be what 'next' of the page before says.")
    if not re.fullmatch("[0-9]{1,9}", limit) or not 1 <= int(limit) <= MOST:
        raise Refusal(400, "No such page", f"'limit' must be a whole number from 1 to {MOST}.")
    return int(cursor), int(limit)


def number_wanted(name: str) -> int | None:
    """A row's number from the query, or None where it is not given."""
    given = request.args.get(name)
    if given is None:
        return None
    if not re.fullmatch("[0-9]{1,9}", given) or int(given) < 1:
        raise Refusal(400, "No such number", f"'{name}' must be a whole number from 1 to {BIGGEST}.")
    return int(given)


def body_as(shape: type[M]) -> M:
    """The body in this shape, or each of its faults told."""
    try:
        return shape.model_validate_json(request.get_data())
    except ValidationError as error:
        fields = [f"{'.'.join(map(str, one['loc'])) or 'the body'}: {one['msg']}" for one in error.errors()]
        raise Refusal(422, "The body is to be mended", "See 'fields'.", fields=fields) from None


def key_wanted() -> str:
    """The key under which this is handed in."""
    key = request.headers.get("Idempotency-Key", "")
    if not KEY.fullmatch(key):
        what = "Send a header 'Idempotency-Key' of 1 to 80 letters, digits, '-' or '_', new for each thing to do."
        raise Refusal(400, "No key", what)
    return key


def _token() -> Token:
    kind, _, secret = request.headers.get("Authorization", "").partition(" ")
    found = find(web.reading(), secret.strip()) if kind.lower() == "bearer" else None
    if found is None:
        raise Refusal(401, "No token that opens this", "Send 'Authorization: Bearer' with a token of this school.")
    today = now().replace(hour=0, minute=0, second=0, microsecond=0)
    if found.used_on != today:
        with web.writing() as session:
            session.get_one(Token, found.id).used_on = today
    return found


def _bound_rate() -> None:
    rate = cast(Rate, current_app.extensions["kingpost.rate"])
    wait = rate.wait_s(token().id)
    if wait:
        raise Refusal(429, "Too many requests", f"Come back in {wait} s.", wait_s=wait)


def _read_body(operation: Operation) -> None:
    """Read it as far as there is room, before anything is looked up."""
    kinds = ("application/json",) if operation.body is not None else ("application/json", "")
    if operation.method == "post" and request.mimetype not in kinds:
        raise Refusal(415, "No JSON", "Send the body as application/json.")
    request.get_data()


def _check_query(operation: Operation) -> None:
    for name in request.args:
        if name not in operation.query or len(request.args.getlist(name)) > 1:
            known = ", ".join(operation.query) or "none"
            raise Refusal(400, "The query cannot be read", f"It may hold each of these once: {known}.")
