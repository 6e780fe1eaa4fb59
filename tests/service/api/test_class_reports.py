"""Programs and the class report."""

from __future__ import annotations

from service.api.operation import PDF
from service.api.tokens import READ_MARKS, READ_NAMES
from tests.service.api.conftest import WithToken
from tests.service.api.test_programs import ask
from tests.service.site import Site


def test_a_program_has_the_report_set_and_fetches_it(site: Site, with_token: WithToken) -> None:
    headers, where = with_token(READ_MARKS, READ_NAMES), f"/assignments/{site.assignment}/report"
    assert ask(site, headers, where).status_code == 409
    first = ask(site, headers, where, method="POST", json={"paper": "Letter"})
    assert (first.status_code, first.json) == (202, {"stage": "waiting", "paper": "Letter", "made_at": None})
    again = ask(site, headers, where, method="POST", json={})
    assert (again.status_code, again.json["title"]) == (409, "No report is set now")
    site.work()
    made = ask(site, headers, where)
    assert (made.status_code, made.content_type, made.data[:5]) == (200, PDF, b"%PDF-")


def test_it_names_students_so_it_needs_the_scope_for_names(site: Site, with_token: WithToken) -> None:
    where = f"/assignments/{site.assignment}/report"
    assert ask(site, with_token(READ_MARKS), where).status_code == 403
    assert ask(site, with_token(READ_MARKS, READ_NAMES), where).status_code == 409
