"""The state of an attempt, for the page that waits."""

from __future__ import annotations

from flask import Blueprint, Response, jsonify

from rubric.messages.names import MARK
from service import web
from service.api.problems import problem
from service.classes import plans
from service.classes.attempts import stage
from service.jobs import ahead
from service.records import queries
from service.saying import ahead_said

pages = Blueprint("api", __name__, url_prefix="/api/v1")


@pages.get("/attempts/<int:submission_id>/state")
def attempt_state(submission_id: int) -> Response:
    """``{"stage": "received" | "held" | "marked" | "printed" | "failed", "plan": ...}`` and, once released, the points.

    ``plan``: "" where there can be none, else "none" yet, "waiting", "ready" or "failed".
    ``waits``: where it stands in the queue, in words.
    """
    found = queries.submission(web.reading(), web.person(), submission_id)
    if found is None:
        refused = problem(404, "No such attempt", "You have no attempt with this number.")
        return Response(refused.get_data(), refused.status_code, content_type=refused.content_type)
    points = {name: None if found.held else getattr(found, name) for name in ("total", "out_of", "waiting_points")}
    plan = plans.state_of(web.reading(), found).stage if plans.can_have(found) else ""
    return jsonify(stage=stage(found), plan=plan, waits=ahead_said(ahead(web.reading(), MARK, found.id)), **points)
