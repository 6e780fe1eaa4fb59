"""Every mistaken and hostile file handed in over HTTP: no error page, and the wording on the student's page."""

from __future__ import annotations

import io
from html import unescape

from service.demo.bridges import HOSTILE, MARKUP
from tests.corpus.mistaken import CASES, Case, expected
from tests.service.site import Site, token

SAID = expected()


def hand_in(site: Site, client, case: Case) -> str:
    """Upload the file, let it be marked, and return the student's page."""
    fields = {"csrf_token": token(client), "file": (io.BytesIO(case.data), f"{case.name}.yaml")}
    answer = client.post(f"/assignments/{site.assignment}/attempts", data=fields, content_type="multipart/form-data")
    assert answer.status_code in (303, 413, 422), case.name
    if answer.status_code != 303:
        return answer.text
    site.work()
    page = client.get(answer.location)
    assert page.status_code == 200, case.name
    return page.text


def test_no_file_makes_an_error_page_and_each_mistake_is_told_as_at_the_command_line(site: Site) -> None:
    clients = [site.signed_in("Ada Fern"), site.signed_in("Ben Holt")]
    cases = [case for case in CASES if case.with_brief]
    told = 0
    for number, case in enumerate(cases):
        page = hand_in(site, clients[number % 2], case)
        assert "<script>" not in page, case.name
        if len(case.data) <= 64 * 1024 and case.data.strip():
            mend = SAID[case.name][0].split("To mend it: ")[1]
            assert mend in unescape(page), (case.name, mend)
            told += 1
    assert told >= 80


def test_markup_in_names_is_shown_as_text_and_never_as_markup(site: Site) -> None:
    client = site.signed_in("Ada Fern")
    for text in (MARKUP, HOSTILE):
        number = site.hand_in(client, text.encode())
        site.work()
        page = client.get(f"/attempts/{number}").text
        assert "<img" not in page
        assert "<b>b</b>" not in page
        assert "<script>" not in page
