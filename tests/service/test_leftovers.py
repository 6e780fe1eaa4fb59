"""Pages of people, of contests, of help and of what is kept, walked in German: nothing of them is said in English."""

from __future__ import annotations

import pytest

from tests.service.leftovers import aliases, leftovers, speak, texts, walked
from tests.service.site import Site, post
from tests.service.test_routes import COORDINATOR, TEACHER, one_of_each

PEOPLE = ("people", "rosters", "privacy", "doings", "class_desk", "office", "tokens")
CONTEST = ("contest", "contest_desk", "contest_rules", "entering", "stations", "live", "contest_files", "awards")

DATA = (
    "All",
    "Millbrook School",
    "Spring bridges",
    "Cora Vale",
    "Tess Birch",
    "Owen Reed",
    "Ada Fern",
    "Otters",
    "Herons",
)


def test_texts_are_those_that_people_read_and_no_data() -> None:
    page = '<p title="A title">Two  words <bdi>a <b>name</b></bdi> more</p><code>key</code><script>var x</script>'
    assert texts(page) == ["A title", "Two words", "more"]


def test_a_text_that_stands_in_both_pages_is_left_over_unless_it_is_data() -> None:
    page = "<h1>Rules</h1><p>Ada Fern</p><p>61 g, 5 mm</p><p>Code</p>"
    assert leftovers(page, page, DATA) == ["Rules"]
    assert leftovers(page, page.replace("Rules", "Regeln"), DATA) == []


@pytest.mark.parametrize("name", [TEACHER, COORDINATOR])
@pytest.mark.parametrize("own", [PEOPLE, CONTEST, ("help", "words")])
def test_staff_who_read_german_find_no_english(site: Site, name: str, own: tuple[str, ...]) -> None:
    objects = one_of_each(site)
    english = walked(site, name, objects, own)
    speak(site, "de")
    german = walked(site, name, objects, own)
    assert german.keys() == english.keys()
    assert len(german) > 3
    data = {*DATA, *aliases(site)}
    left = {where: leftovers(english[where], page, data) for where, page in german.items()}
    assert {where: texts for where, texts in left.items() if texts} == {}


REFUSED = (
    ("/staff/office/classes", {"name": "", "code": "8B"}),
    ("/staff/office/people", {"name": "Tess Birch", "role": "teacher"}),
    ("/staff/office/keeping", {"months": "1", "begins": "8"}),
    ("/staff/classes/1/delete", {"typed": "no"}),
    ("/staff/students/1/delete", {"typed": "no"}),
    ("/staff/classes/1/tokens", {}),
    ("/staff/classes/1/list", {"list": ""}),
    ("/staff/classes/1/list", {"list": "Name;Nummer\nAda Fern;1\nBen Holt;2\nBen Holt;3\n;4"}),
    ("/staff/contests/1/stations", {"kind": "load test", "name": "Rig"}),
    ("/staff/contests/1/rules", {"rules": "title: T\nrig: {most: 300 N}\n", "do": "check"}),
    ("/staff/stations/1/readings", {"number": "1", "value": "61", "key": "a" * 12}),
    ("/staff/stations/1/readings", {"number": "7", "value": "x", "key": "b" * 12}),
)


def test_what_is_refused_is_said_in_german(site: Site) -> None:
    one_of_each(site)
    client = site.signed_in(COORDINATOR)
    english = [post(client, where, **typed).text for where, typed in REFUSED]
    speak(site, "de")
    german = [post(client, where, **typed).text for where, typed in REFUSED]
    both, data = zip(REFUSED, english, german, strict=True), {*DATA, *aliases(site)}
    left = {where: leftovers(first, then, data) for (where, _), first, then in both}
    assert {where: texts for where, texts in left.items() if texts} == {}
