"""The typesetter: all that we set is XML, which is read quickly, and whatever else comes is set all the same."""

from __future__ import annotations

import subprocess
from typing import Any

import pytest
from weasyprint import HTML

from tests.worker.feedback import samples, test_report
from tests.worker.feedback.plan import bridges
from tests.worker.feedback.test_sheets import OUTCOMES
from tests.worker.season import test_printing
from worker.feedback.plan.printing import plan_html
from worker.feedback.report import report_html
from worker.feedback.sheets import sheet_html
from worker.feedback.typesetter import NothingFetched, Page, set_pdf
from worker.season.printing import award_html

PAGES = {
    **{
        name: lambda outcome=outcome: sheet_html(samples.HEAD, samples.BRIEF, outcome)
        for name, outcome in OUTCOMES.items()
    },
    "plan": lambda: plan_html(samples.HEAD, bridges.BRIEF, "Girder", bridges.analysis_of(bridges.TYPICAL)),
    "report": lambda: report_html(test_report.order()),
    "certificates": lambda: award_html(test_printing.order("certificates", 2)),
    "booklet": lambda: award_html(test_printing.order("booklet", 2)),
}


@pytest.mark.parametrize("name", sorted(PAGES))
def test_all_that_we_set_is_xml(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    def slow(*_: Any, **__: Any) -> None:
        pytest.fail("read as HTML")

    monkeypatch.setattr(HTML, "__init__", slow)
    assert Page(PAGES[name](), NothingFetched()).etree_element.tag == "html"


@pytest.mark.parametrize("name", sorted(PAGES))
def test_a_page_read_as_xml_is_the_page_that_a_browser_reads(name: str) -> None:
    page = PAGES[name]()
    quick, slow = Page(page, NothingFetched()), HTML(string=page, url_fetcher=NothingFetched())
    assert _seen(quick.etree_element) == _seen(slow.etree_element)


def test_what_xml_has_no_room_for_is_set_all_the_same() -> None:
    pdf = set_pdf("<!DOCTYPE html><title>t</title><p>one \x0b two<br>three &nbsp; four", "p { margin: 0 }")
    read = subprocess.run(["pdftotext", "-", "-"], input=pdf, capture_output=True, check=True).stdout.decode()
    assert {"one", "two", "three", "four"} <= set(read.split())


def _seen(node: Any) -> list[Any]:
    """Elements with their attributes and first words, in order; XML keeps no attribute that names a space."""
    return [
        (one.tag, {key: value for key, value in one.attrib.items() if "xmlns" not in key}, (one.text or "").split())
        for one in node.iter()
    ]
