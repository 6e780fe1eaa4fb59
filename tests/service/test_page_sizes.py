"""What a slow school laptop has to load: every page of a student with its style and scripts, in bytes."""

from __future__ import annotations

import re

import pytest
from flask.testing import FlaskClient

from rubric.language import LANGUAGES, Language
from service.records.models import SchoolClass
from tests.service.site import GIRDER, MECHANISM, MISTAKEN, Site, post

MOST_BYTES = 150_000
PANELS = 76


def fine_girder() -> bytes:
    """A file of 153 joints and 303 members: a Warren girder of very short panels."""
    wide = 600 / PANELS
    joints = [f"  b{i}: [{i * wide:g}, 0]" for i in range(PANELS + 1)]
    joints += [f"  t{i}: [{(i + 0.5) * wide:g}, 80]" for i in range(PANELS)]
    members = [f"  b{i}-b{i + 1}: square5" for i in range(PANELS)] + [
        f"  t{i}-t{i + 1}: square5" for i in range(PANELS - 1)
    ]
    members += [f"  b{i}-t{i}: square5\n  t{i}-b{i + 1}: square5" for i in range(PANELS)]
    return "\n".join(("title: Fine girder", "joints:", *joints, "members:", *members)).encode()


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
        "/help",
        "/help/stop-buckling",
    )
    weights = {address: weight(site, address) for address in pages}
    assert max(weights.values()) <= MOST_BYTES, weights


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_page_of_a_truss_of_150_joints_is_under_150_kilobytes(site: Site, language: Language) -> None:
    with site.records.write() as session:
        for school_class in session.query(SchoolClass):
            school_class.language = language
    number = site.hand_in(site.signed_in("Ada Fern"), fine_girder())
    site.work()
    page = site.signed_in("Ada Fern").get(f"/attempts/{number}").data
    assert page.count(b'<td class="force ') == 303
    assert len(page) <= MOST_BYTES
