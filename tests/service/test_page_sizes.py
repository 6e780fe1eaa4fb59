"""What a slow school laptop has to load: every page of a student with its style and scripts, in bytes."""

from __future__ import annotations

import re

import pytest
from flask.testing import FlaskClient

from tests.service.site import GIRDER, MECHANISM, MISTAKEN, Site, post

MOST_BYTES = 150_000


def weight(site: Site, address: str) -> int:
    client = site.signed_in("Ada Fern")
    page = client.get(address, follow_redirects=True)
    assert page.status_code == 200
    beside = set(re.findall(r'(?:src|href)="(/static/[^"]+)"', page.text))
    return len(page.data) + sum(size(client, one) for one in beside)


def size(client: FlaskClient, address: str) -> int:
    with client.get(address) as answer:
        return len(answer.data)


@pytest.mark.parametrize("text", [GIRDER, MECHANISM, MISTAKEN], ids=["good", "mechanism", "mistaken"])
def test_the_pages_of_a_student_are_under_150_kilobytes_in_all(site: Site, text: bytes) -> None:
    client = site.signed_in("Ada Fern")
    first = site.hand_in(client)
    number = site.hand_in(client, text.replace(b"title: Double", b"title: Triple"))
    site.work()
    post(client, f"/assignments/{site.assignment}/look", text=text.decode())
    site.work()
    assert first != number
    pages = (
        f"/assignments/{site.assignment}",
        f"/attempts/{number}",
        f"/boards/assignments/{site.assignment}",
        "/alias",
        "/help/truss-file",
        "/help/words",
    )
    weights = {address: weight(site, address) for address in pages}
    assert max(weights.values()) <= MOST_BYTES, weights
