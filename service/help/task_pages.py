"""The help: a list of tasks for each of the three people, a page for each task, and the search.  Open to everybody."""

from __future__ import annotations

from flask import Blueprint, abort, render_template, request, url_for

from rubric.drawing.text import clean
from rubric.language import _, spoken
from service.help.controls import marked, plain
from service.help.index import MOST_FOUND, search
from service.help.library import HEADINGS, PAGES, PEOPLE, tasks, tasks_of

pages = Blueprint("tasks", __name__)

_SHOWN = 80
"""Letters of a query that are shown again."""


@pages.get("/help")
def contents() -> str:
    """All tasks and reference pages, or what a query finds among them."""
    query = request.args.get("q", "").strip()
    found = search(query, spoken()) if query else []
    return render_template(
        "help.html",
        query=clean(query, _SHOWN),
        found=[(entry, url_for(entry.endpoint, _anchor=entry.anchor, **entry.values)) for entry in found[:MOST_FOUND]],
        more=max(0, len(found) - MOST_FOUND),
        people=[(people, _(HEADINGS[people]), _listed(people)) for people in PEOPLE],
        reference=[(url_for(endpoint), _(title), _(summary)) for endpoint, title, summary in PAGES.values()],
    )


@pages.get("/help/<name>")
def task(name: str) -> str:
    """One task, step by step."""
    if name not in tasks():
        abort(404)
    people, found = tasks()[name]
    title, why, steps = found.said
    return render_template(
        "help-task.html",
        people=people,
        heading=_(HEADINGS[people]),
        title=title,
        why=marked(why),
        steps=[marked(step) for step in steps],
        figure=found.figure() if found.figure else None,
        related=[_related(key) for key in found.related],
    )


def _listed(people: str) -> list[tuple[str, str, str]]:
    """Address, title and purpose of each task of these people."""
    return [
        (url_for("tasks.task", name=name), _(one.title), plain(_(one.why))) for name, one in tasks_of(people).items()
    ]


def _related(key: str) -> tuple[str, str]:
    """Address and title of a task or reference page."""
    if key in PAGES:
        endpoint, title, __ = PAGES[key]
        return url_for(endpoint), _(title)
    return url_for("tasks.task", name=key), _(tasks()[key][1].title)
