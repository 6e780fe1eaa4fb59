"""Errors for programs: RFC 9457."""

from __future__ import annotations

import json
from http import HTTPStatus
from typing import Any

from flask import request
from werkzeug.wrappers import Response


class Refusal(Exception):
    """A request of a program that is not carried out; ``more`` are further members of the problem."""

    def __init__(self, status: int, title: str, detail: str, **more: Any) -> None:
        super().__init__(title)
        self.status, self.title, self.detail, self.more = status, title, detail, more


def problem(status: int, title: str, detail: str, **more: Any) -> Response:
    """A problem as ``application/problem+json``."""
    body = {
        "type": "about:blank",
        "title": title or HTTPStatus(status).phrase,
        "status": status,
        "detail": detail,
        "instance": request.path,
        **more,
    }
    return Response(json.dumps(body), status, content_type="application/problem+json")
