"""The pages of the help: open to all, one for each task, and a search that needs no script."""

from __future__ import annotations

import re
from html import unescape
from importlib.resources import files

import pytest
from flask import url_for

from service.help.index import index
from service.help.library import PAGES, PEOPLE, tasks
from tests.service.site import Site
from tests.service.test_page_sizes import MOST_BYTES

GERMAN = {"Accept-Language": "de"}


def test_the_contents_list_every_task_and_every_reference_page(site: Site) -> None:
    page = site.visitor().get("/help").text
    for name, (__, task) in tasks().items():
        assert f'<a href="/help/{name}">{task.title}</a>' in unescape(page)
    assert all(title in page for __, title, __ in PAGES.values())
    assert [f'<h2 id="{people}">' in page for people in PEOPLE] == [True] * 3


def test_each_task_has_a_page_with_its_steps_and_no_sign_of_how_it_is_written(site: Site) -> None:
    client = site.visitor()
    for name, (__, task) in tasks().items():
        answer = client.get(f"/help/{name}")
        main = answer.text.partition("<main")[2].partition("</main>")[0]
        assert answer.status_code == 200
        assert main.count("<li>") == len(task.steps) + len(task.related)
        assert not re.findall(r"\[[A-Z]|``", main), name
        assert len(answer.data) <= MOST_BYTES / 3


def test_each_task_is_said_in_german(site: Site) -> None:
    client = site.visitor()
    for name, (__, task) in tasks().items():
        page = unescape(client.get(f"/help/{name}", headers=GERMAN).text)
        assert '<html lang="de">' in page
        assert task.title not in page
        assert task.why not in page


def test_pages_lead_only_to_tasks_that_are_there_and_under_their_own_title() -> None:
    led = {}
    for file in (files("service") / "templates").iterdir():
        link = r"url_for\('tasks.task', name='([^']+)'\) }}\">{{ _\(\"([^\"]+)\"\)"
        led |= dict(re.findall(link, file.read_text("utf-8")))
    assert len(led) >= 6
    assert {name: tasks()[name][1].title for name in led} == led


def test_a_task_that_is_not_there_is_no_page(site: Site) -> None:
    assert site.visitor().get("/help/fly").status_code == 404


@pytest.mark.parametrize(
    ("name", "people"), [("Ada Fern", "students"), ("Tess Birch", "teachers"), ("Cora Vale", "coordinators")]
)
def test_everybody_is_led_to_their_own_tasks_from_every_page_and_from_the_desk(
    site: Site, name: str, people: str
) -> None:
    client = site.signed_in(name)
    desk = client.get("/staff/office" if people == "coordinators" else "/", follow_redirects=True).text
    head, __, main = desk.partition("<main")
    assert f'href="/help#{people}"' in head
    assert f'href="/help#{people}"' in main


def test_somebody_who_is_not_signed_in_finds_the_help_in_the_foot(site: Site) -> None:
    assert '<a href="/help">Help</a>' in site.visitor().get("/sign-in").text.partition("<footer")[2]


def test_a_search_lists_what_it_found_and_where_it_leads(site: Site) -> None:
    client = site.visitor()
    page = client.get("/help?q=efficiency").text
    found = re.findall(r'<li><p><a href="([^"]+)">', page)
    assert len(found) > 3
    for address in found:
        path, __, anchor = address.partition("#")
        answer = client.get(path)
        assert answer.status_code == 200
        assert not anchor or f'id="{anchor}"' in answer.text


def test_every_anchor_of_the_index_is_on_its_page(site: Site) -> None:
    client = site.visitor()
    with site.app.test_request_context():
        pages = {entry.endpoint: url_for(entry.endpoint, **entry.values) for entry in index("en") if entry.anchor}
    pages = {endpoint: client.get(path).text for endpoint, path in pages.items()}
    assert len(pages) == 5
    for entry in index("en"):
        assert entry.anchor is None or f'id="{entry.anchor}"' in pages[entry.endpoint], entry


def test_a_search_that_finds_nothing_says_so_and_what_to_try(site: Site) -> None:
    page = site.visitor().get("/help?q=xylophone").text
    assert "Nothing was found. Try one word" in page
    assert '<h2 id="students">' in page


def test_a_search_that_finds_much_tells_how_much_more(site: Site) -> None:
    assert re.search(r"[0-9]+ more places were found", site.visitor().get("/help?q=bridge").text)


def test_a_hostile_query_is_shown_as_harmless_text(site: Site) -> None:
    for query in ("<script>alert(1)</script>", '" autofocus onfocus="x', "\u202ebuckling\u2066", "{{ 7 * 7 }}"):
        page = site.visitor().get("/help", query_string={"q": query}).text
        assert "<script>alert" not in page
        assert 'onfocus="x' not in page
        assert not set(page) & set("\u202e\u2066")
        assert "49" not in page


def test_a_query_of_ten_thousand_letters_is_answered_and_not_sent_back_whole(site: Site) -> None:
    answer = site.visitor().get("/help", query_string={"q": "x" * 10_000})
    assert answer.status_code == 200
    assert "x" * 81 not in answer.text


def test_the_form_of_the_search_stands_on_every_page_of_the_help(site: Site) -> None:
    client = site.visitor()
    for name in ("", "/stop-buckling", "/rubric", "/brief", "/measures", "/words", "/truss-file"):
        assert 'role="search"' in client.get(f"/help{name}").text, name
