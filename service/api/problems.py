"""Errors for programs: RFC 9457."""

from __future__ import annotations

import json
from http import HTTPStatus

from flask import request
from werkzeug.wrappers import Response


def problem(status: int, title: str, detail: str) -> Response:
    """A problem as ``application/problem+json``."""
    body = {
        "type": "about:blank",
        "title": title or HTTPStatus(status).phrase,
        "status": status,
        "detail": detail,
        "instance": request.path,
    }
    return Response(json.dumps(body), status, content_type="application/problem+json")
