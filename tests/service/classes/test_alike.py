"""Alike work: found across classes, shown to teachers alone, another class's student without a name."""

from __future__ import annotations

import re

from rubric.messages.likeness import Fingerprint, Pair, Shared
from rubric.messages.outcomes import Compared
from service.classes.alike import told_lines
from service.classes.outline import outline
from service.records.comparing import compared, works_to_compare
from service.records.models import Assignment, Person, Submission
from tests.service.site import MISTAKEN, Site, post

OWN = b"""\
joints: {a: [0, 0], b: [110, 0], c: [235, 0], d: [300, 0], e: [455, 0], f: [600, 0],
         p: [110, 85], q: [235, 150], r: [300, 120], s: [455, 65]}
members:
  a-b: square5
  b-c: square5
  c-d: square5
  d-e: square5
  e-f: square5
  a-p: square5 x2
  p-q: square5 x2
  q-r: square5 x2
  r-s: square5 x2
  s-f: square5 x2
  b-p: square3
  c-q: square3
  d-r: square3
  e-s: square3
  p-c: square5
  q-d: square5
  r-e: square5
"""
NUDGED = OWN.replace(b"110, 85", b"112, 84").replace(b"235, 150", b"233, 151").replace(b"square3", b"square5")


def asked(site: Site, teacher: str) -> str:
    """The page after this teacher has looked, and a worker has answered."""
    client = site.signed_in(teacher)
    assert post(client, f"/staff/assignments/{mine(site, teacher)}/alike").status_code == 303
    site.work()
    return client.get(f"/staff/assignments/{mine(site, teacher)}/alike").text


def mine(site: Site, teacher: str) -> int:
    return site.other_assignment if teacher == "Owen Reed" else site.assignment


def handed_in(site: Site, **files: bytes) -> None:
    for name, text in files.items():
        student = {"ada": "Ada Fern", "ben": "Ben Holt", "cleo": "Cleo Marsh"}[name]
        site.hand_in(site.signed_in(student), text, site.other_assignment if name == "cleo" else 0)
    site.work()


def test_a_copy_within_the_class_is_told_with_both_names_and_links(site: Site) -> None:
    handed_in(site, ada=OWN, ben=NUDGED)
    page = asked(site, "Tess Birch")
    assert "1 pair shares something rare" in page
    assert re.search(r"Pair 1: \d\d % alike", page)
    assert "Ada Fern</bdi></h3>" in page
    assert "Ben Holt</bdi></h3>" in page
    assert page.count('<svg class="outline"') == 2
    assert "Likeness proves nothing." in page


def test_of_another_class_a_teacher_reads_the_class_and_no_name_and_gets_no_link(site: Site) -> None:
    handed_in(site, ada=OWN, cleo=NUDGED)
    page = asked(site, "Tess Birch")
    assert "A student of class <bdi>Herons</bdi>" in page
    assert "Cleo" not in page
    assert page.count('href="/attempts/') == 1
    assert "Cleo Marsh" in asked(site, "Owen Reed")
    assert "Ada" not in asked(site, "Owen Reed")


def test_a_coordinator_looks_after_both_classes_and_reads_both_names(site: Site) -> None:
    handed_in(site, ada=OWN, cleo=NUDGED)
    page = asked(site, "Cora Vale")
    assert "Ada Fern" in page
    assert "Cleo Marsh" in page


def test_plain_trusses_and_ones_own_attempts_are_not_told(site: Site) -> None:
    handed_in(site, ada=OWN, ben=MISTAKEN)
    handed_in(site, ada=NUDGED)
    assert "No two students share anything rare." in asked(site, "Tess Birch")


def test_while_a_worker_compares_the_page_says_so(site: Site) -> None:
    client = site.signed_in("Tess Birch")
    page = post(client, f"/staff/assignments/{site.assignment}/alike")
    assert "comparing the bridges" in client.get(page.location).text
    assert "Look for work that is alike" not in client.get(page.location).text


def test_likeness_is_on_no_page_of_a_student_and_in_no_mark(site: Site) -> None:
    handed_in(site, ada=OWN, ben=NUDGED)
    with site.records.read() as session:
        before = [(one.total, one.outcome) for one in session.query(Submission)]
    asked(site, "Tess Birch")
    with site.records.read() as session:
        assert [(one.total, one.outcome) for one in session.query(Submission)] == before
        assert all("fingerprint" not in one.outcome for one in session.query(Submission))
        number = session.query(Submission).first().id
    ada = site.signed_in("Ada Fern")
    for address in ("/", f"/attempts/{number}", f"/assignments/{site.assignment}", f"/api/attempts/{number}"):
        page = ada.get(address, follow_redirects=True).text
        assert not [word for word in ("/alike", "ikeness", "Ben Holt") if word in page]


def test_a_worker_gets_numbers_and_no_names(site: Site) -> None:
    handed_in(site, ada=OWN, cleo=OWN)
    handed_in(site, ada=OWN)
    with site.records.read() as session:
        works = works_to_compare(session, site.assignment)
    assert [(work.group, work.submission) for work in works] == [(site.assignment, 1), (site.other_assignment, 2)]
    assert "Ada" not in "".join(work.model_dump_json() for work in works)


def test_a_student_who_asks_the_tables_gets_nothing(site: Site) -> None:
    handed_in(site, ada=OWN)
    with site.records.read() as session:
        assert compared(session, session.get_one(Person, site.ids["Ada Fern"]), [1]) == {}
        assert compared(session, session.get_one(Person, site.ids["Tess Birch"]), [1])[1].student == "Ada Fern"


def test_works_that_are_gone_are_left_out_of_the_page() -> None:
    pairs = (Pair(one=1, other=2, likeness=0.9, bits=20),)
    told = Compared(job=1, attempt="a", works=2, pairs=pairs, shared=(Shared(submissions=(1, 2)),))
    assert told_lines(told, {}) == ((), ())


def test_pairs_that_may_be_chance_are_told_apart_and_the_earlier_work_comes_first(site: Site) -> None:
    handed_in(site, ada=OWN, ben=NUDGED)
    with site.records.read() as session:
        works = compared(session, session.get_one(Person, site.ids["Tess Birch"]), [1, 2])
    pairs = tuple(Pair(one=2, other=1, likeness=0.9, bits=bits) for bits in (30, 6))
    (strong, weak), _ = told_lines(Compared(job=1, attempt="a", works=2, pairs=pairs), works)
    assert (strong.weak, weak.weak) == (False, True)
    assert (strong.first.student, strong.other.student) == ("Ada Fern", "Ben Holt")
    assert (strong.percent, strong.likeness) == (90, "The bridges are nearly the same.")
    assert weak.rarity.endswith("look closely.")


def test_an_outline_is_drawn_to_its_own_size_and_can_be_mirrored() -> None:
    mark = Fingerprint(joints=((0, 0), (3000, 2000), (10_000, 0)), bars=((0, 1), (1, 2), (0, 2)), span_mm=600)
    assert 'viewBox="-350 -2350 10700 2700"' in outline(mark)
    assert "M0 0L3000 -2000" in outline(mark)
    assert "M10000 0L7000 -2000" in outline(mark, turned=True)
    assert 'aria-label="Outline of a bridge with 3 joints and 3 members"' in outline(mark)


def test_where_nothing_is_handed_in_nothing_is_compared(site: Site) -> None:
    client = site.signed_in("Tess Birch")
    post(client, f"/staff/assignments/{site.assignment}/alike")
    site.work()
    with site.records.read() as session:
        found = session.get_one(Assignment, site.assignment)
        assert (found.alike["works"], found.alike_at is not None) == (0, True)
