"""The pages of a full class whose names are long, in many scripts, or meant to do harm."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page

from service.people import enrol
from service.records.models import Assignment, Person, SchoolClass
from tests.browser import asking
from tests.browser.walking import Seen, showing
from tests.service.ready import empty_records, swift
from tests.service.site import GIRDER, Site, founded, post

pytestmark = pytest.mark.browser

LONG, SPACED = "Grashalm" * 12, "Wolkenbruch-Regenbogen von der Aue zu Weidenbach und der oberen Mühle am See im Tal"
STACKED = "Z" + "".join(map(chr, range(0x300, 0x330))) + "algo"
NAMES = [
    *(LONG, SPACED, STACKED, "Ali\u202eevil", "<script>alert(1)</script> Lee", '=HYPERLINK("x")', "{{ 7*7 }}"),
    *("محمد عبد الرحمن", "李桥李桥李桥李桥李桥", "Иванов Константин", "&lt;b&gt;bold", "'; DROP TABLE people; --"),
]
TEACHER = "Tess Birch"

CUT = """() => [...document.querySelectorAll('.scroll:has(> .stacks), .stacks, .fixed, fieldset')]
  .filter(e => e.scrollWidth > e.clientWidth + 1).map(e => 'wider than its place: ' + e.outerHTML.slice(0, 80))"""
BROKEN = """() => [...document.querySelectorAll('tbody th bdi')].filter(e => e.textContent === 'Ada Fern')
  .filter(e => e.getClientRects().length > 2).map(() => 'a short name in more pieces than it has words')"""


@pytest.fixture(scope="module")
def full(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Site]:
    """A class of thirty; the one with the longest name has handed in, and her mark was corrected at length."""
    folder = tmp_path_factory.mktemp("full")
    records = empty_records(folder / "kingpost.sqlite")
    with swift(), founded(records, folder) as site:
        _fill(site)
        yield site
    records.engine.dispose()


def _fill(site: Site) -> None:
    with site.records.write() as session:
        for name in [*NAMES, *(f"Nell Reed {number}" for number in range(28 - len(NAMES)))]:
            one = enrol.add_student(session, "8B", name)
            site.secrets[one.name] = one
        for number, person in enumerate(session.query(Person).filter_by(class_id=1).limit(9)):
            person.alias, person.alias_asked = f"{'W' * 22}{number}", f"{'M' * 22}{number}"
        session.get_one(SchoolClass, 1).name = ("Otterklasse" * 8)[:80]
        session.get_one(Assignment, site.assignment).title = "Brücke" * 30
    number = site.hand_in(site.signed_in(LONG), GIRDER)
    site.work()
    post(site.signed_in(TEACHER), f"/attempts/{number}/corrections", **{"points-1": "26", "why-1": "W" * 300})


@pytest.mark.parametrize(
    "address", ["/staff/assignments/1", "/staff/classes/1", "/attempts/1", "/attempts/1/corrections"]
)
def test_a_full_class_of_difficult_names_fits_a_desk_a_phone_and_paper(
    full: Site, browser: Browser, address: str
) -> None:
    page_of = full.signed_in(TEACHER).get(address)
    assert page_of.status_code == 200
    with showing(browser, full, TEACHER) as (page, shown):
        shown.append(Seen(address, page_of.text))
        page.goto(address)
        wrong = {
            "desk": _asked(page, 1280, asking.TOO_WIDE, asking.HIDDEN_SCROLLERS, asking.COVERED, CUT, BROKEN),
            "phone": _asked(page, 320, asking.TOO_WIDE, asking.HIDDEN_SCROLLERS, asking.COVERED, CUT),
        }
        page.emulate_media(media="print")
        wrong["paper"] = _asked(page, 673, asking.TOO_WIDE, asking.OF_THE_SCREEN, asking.COVERED, CUT)
    assert wrong == {"desk": [], "phone": [], "paper": []}


def _asked(page: Page, width: int, *scripts: str) -> list[str]:
    page.set_viewport_size({"width": width, "height": 900})
    return [found for script in scripts for found in page.evaluate(script)]
