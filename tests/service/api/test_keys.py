"""Keys of programs: what is sent twice under one is done once, whatever it is."""

from __future__ import annotations

from typing import Any

import pytest

from service.records.contest_models import Protest
from service.records.models import Assignment, Submission, Trial
from service.records.token_models import KeyedDoing
from tests.service.api.conftest import WithToken
from tests.service.api.test_work import ask
from tests.service.site import HEAVY_GIRDER, Site

pytestmark = pytest.mark.usefixtures("unbounded")


def requests(site: Site, asked: dict[str, Any]) -> dict[type, tuple[str, dict[str, Any]]]:
    """What may carry a key, by what it makes."""
    texts = {name: asked[name] for name in ("brief", "rubric")}
    attempt = {"student_id": site.ids["Ada Fern"], "text": HEAVY_GIRDER.decode()}
    return {
        Assignment: ("/classes/1/assignments", texts),
        Trial: (f"/assignments/{site.assignment}/trials", texts),
        Protest: ("/entries/1/protests", {"text": "The scale stood askew."}),
        Submission: (f"/assignments/{site.assignment}/attempts", attempt),
    }


@pytest.mark.parametrize("made", [Assignment, Trial, Protest, Submission])
def test_a_request_under_the_same_key_makes_one_row_and_answers_the_same(
    full: Site, with_token: WithToken, made: type
) -> None:
    headers = with_token(by="Cora Vale")
    path, body = requests(full, ask(full, headers, f"/assignments/{full.assignment}").json)[made]
    before = count(full, made)
    assert ask(full, headers, path, body).status_code == 400
    first, again = (ask(full, headers, path, body, key="once") for _ in range(2))
    assert first.status_code in (201, 202), first.text
    assert (again.status_code, again.json["id"]) == (first.status_code, first.json["id"])
    assert count(full, made) == before + 1
    other = ask(full, headers, path, body | {"title" if made is Assignment else "text": "Another."}, key="once")
    assert other.status_code == 422, other.text
    assert count(full, made) == before + 1


def test_a_key_of_one_kind_of_request_opens_no_other(full: Site, with_token: WithToken) -> None:
    headers = with_token(by="Cora Vale")
    every = requests(full, ask(full, headers, f"/assignments/{full.assignment}").json)
    path, body = every[Protest]
    assert ask(full, headers, path, body, key="once").status_code == 201
    for made in (Assignment, Trial):
        path, body = every[made]
        answer = ask(full, headers, path, body, key="once")
        assert (answer.status_code, answer.json["title"]) == (422, "The key was used before")


def test_what_is_refused_leaves_its_key_free(full: Site, with_token: WithToken) -> None:
    headers = with_token(by="Cora Vale")
    assert ask(full, headers, "/entries/1/protests", {"text": " "}, key="once").status_code == 409
    assert count(full, KeyedDoing) == 0
    assert ask(full, headers, "/entries/1/protests", {"text": "It was dry."}, key="once").status_code == 201


def count(site: Site, table: type) -> int:
    with site.records.read() as session:
        return session.query(table).count()
