"""Where staff make and revoke the tokens of a class."""

from __future__ import annotations

from flask import Blueprint, abort, flash, redirect, render_template, request, url_for
from sqlalchemy import select
from werkzeug.wrappers import Response

from rubric.language import _
from service import web
from service.api.tokens import SCOPES, make, revoke
from service.people.guards import staff_only
from service.records import queries
from service.records.acts import note
from service.records.models import SchoolClass
from service.records.token_models import Token

pages = Blueprint("tokens", __name__)

MOST_TOKENS = 20
"""Tokens of a class that may be open at once."""


@pages.get("/staff/classes/<int:class_id>/tokens")
@staff_only
def table(class_id: int) -> str:
    """The tokens of a class."""
    return _page(_found(class_id))


@pages.post("/staff/classes/<int:class_id>/tokens")
@staff_only
def add(class_id: int) -> str | tuple[str, int]:
    """Make one; its secret stands on this page and nowhere else."""
    found, scopes = _found(class_id), request.form.getlist("scope")
    if not set(scopes) & set(SCOPES):
        return _page(found, problem=_("Choose at least one thing that the program may do.")), 422
    if sum(token.revoked_at is None for token in _tokens(class_id)) >= MOST_TOKENS:
        said = _("A class has at most {most} tokens. Revoke one first.", most=MOST_TOKENS)
        return _page(found, problem=said), 422
    with web.writing() as session:
        token, secret = make(session, found.id, web.person().id, request.form.get("name", ""), scopes)
        note(session, web.person().id, "token made", "class", found.id, str(token.id))
    web.close_reading()
    return _page(_found(class_id), secret=secret, made=token)


@pages.post("/staff/classes/<int:class_id>/tokens/<int:token_id>/revoke")
@staff_only
def close(class_id: int, token_id: int) -> Response:
    """Revoke one; at once and for good."""
    found = _found(class_id)
    token = next((one for one in _tokens(found.id) if one.id == token_id), None) or abort(404)
    with web.writing() as session:
        revoke(session, token)
        note(session, web.person().id, "token revoked", "class", found.id, str(token.id))
    flash(_("The token is revoked. It opens nothing any more."))
    return redirect(url_for("tokens.table", class_id=class_id), 303)


def _found(class_id: int) -> SchoolClass:
    return queries.school_class(web.reading(), web.person(), class_id) or abort(404)


def _tokens(class_id: int) -> list[Token]:
    return list(web.reading().scalars(select(Token).where(Token.class_id == class_id).order_by(Token.id)))


def _page(found: SchoolClass, problem: str = "", secret: str = "", made: Token | None = None) -> str:
    tokens = [token for token in _tokens(found.id) if token.revoked_at is None]
    return render_template(
        "tokens.html", school_class=found, tokens=tokens, scopes=SCOPES, problem=problem, secret=secret, made=made
    )
