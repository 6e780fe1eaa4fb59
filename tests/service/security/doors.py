"""Every route that changes something, with somebody who may use it, and an address that exists."""

from __future__ import annotations

from collections.abc import Iterator

from flask.testing import FlaskClient
from sqlalchemy import func, select
from werkzeug.routing import Rule

from service.api import tokens
from service.people.guards import PROGRAMS
from service.records.models import Base
from tests.service.site import Site
from tests.service.test_routes import MAY_OPEN

LARGEST_ROOM = 8_000_000
"""Bytes that the roomiest route takes."""


def changing(site: Site) -> Iterator[tuple[Rule, str, str]]:
    """Rule, address and the name of somebody who may post there ('' for the sign-in)."""
    bound = site.app.url_map.bind("localhost")
    for rule in site.app.url_map.iter_rules():
        for verb in sorted((rule.methods or set()) - {"GET", "HEAD", "OPTIONS"}):
            values = {name: _value(site, name) for name in rule.arguments}
            may = sorted(MAY_OPEN.get(rule.endpoint, {""}))
            yield rule, str(bound.build(rule.endpoint, values, method=verb)), may[0]


def _value(site: Site, name: str) -> object:
    people = {"student_id": site.ids["Ada Fern"], "person_id": site.ids["Tess Birch"]}
    return {"assignment_id": site.assignment, "name": "brief.yaml", "year": 2026, **people}.get(name, 1)


def is_for_programs(rule: Rule) -> bool:
    """Whether a token opens it, and no session."""
    return rule.endpoint.startswith(f"{PROGRAMS}.")


def bearer(site: Site) -> dict[str, str]:
    """The header of a program that may do everything in class 8B, as often as it likes.

    Another one has the first number, and is the one that is taken back where every door is tried.
    """
    site.app.extensions["kingpost.rate"] = tokens.Rate(at_once=10**9)
    with site.records.write() as session:
        tokens.make(session, 1, site.ids["Cora Vale"], "another program", [])
        secret = tokens.make(session, 1, site.ids["Cora Vale"], "a program", list(tokens.SCOPES))[1]
    return {"Authorization": f"Bearer {secret}", "Idempotency-Key": "once-and-for-all"}


def browsers(site: Site) -> dict[str, FlaskClient]:
    """A browser for everybody, signed in; under '' one that is not."""
    return {"": site.visitor()} | {name: site.signed_in(name) for name in site.secrets}


def counts(site: Site) -> dict[str, int]:
    """Rows by table."""
    with site.records.read() as session:
        return {t.name: session.scalar(select(func.count()).select_from(t)) or 0 for t in Base.metadata.sorted_tables}
