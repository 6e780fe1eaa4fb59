"""Pages for whoever writes: rubric, brief, measures, and the JSON Schemas.  Open to everybody."""

from __future__ import annotations

import sys

from flask import Blueprint, Response, abort, render_template

from rubric.brief import Brief
from rubric.criteria import say
from rubric.measures import CATALOGUE
from rubric.rubrics import Rubric
from rubric.rules import attempts, entry, lateness
from rubric.schemas import NAMES
from rubric.schemas.command import as_text
from service.help.made import blocks_of, keys_of, kinds, said

pages = Blueprint("help", __name__)


@pages.get("/help/rubric")
def rubric() -> str:
    """The kinds of criterion, and what else a rubric may say."""
    rules = [("say", say), ("entry", entry), ("lateness", lateness), ("attempts", attempts)]
    return render_template(
        "help-rubric.html",
        whole=said(sys.modules[Rubric.__module__]),
        keys=keys_of(Rubric),
        kinds=kinds(),
        rules=[(name, *said(module)) for name, module in rules],
    )


@pages.get("/help/brief")
def brief() -> str:
    """Every key of a brief."""
    return render_template("help-brief.html", blocks=list(blocks_of(Brief, "The brief")))


@pages.get("/help/measures")
def measures() -> str:
    """The catalogue of measures."""
    return render_template("help-measures.html", measures=list(CATALOGUE.values()))


@pages.get("/schemas/<name>.json")
def schema(name: str) -> Response:
    """A JSON Schema; it changes with the program alone, so an editor may keep it for a day."""
    if name not in NAMES:
        abort(404)
    headers = {"Cache-Control": "public, max-age=86400", "Access-Control-Allow-Origin": "*"}
    return Response(as_text(name), headers=headers, content_type="application/schema+json")
