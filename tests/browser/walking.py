"""Every page that each of the people can open, shown in a browser straight from the application.

The application's test client of one person answers the browser: no port and no sign-in form.  The addresses come
from the routes themselves, with the objects of the matrix in ``tests.service.test_routes``, so that a new page is
walked as soon as it stands there.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from urllib.parse import urlsplit

from flask.testing import FlaskClient
from playwright.sync_api import Browser, Page, Route
from werkzeug.routing import Rule
from werkzeug.test import TestResponse

from rubric import library
from service.app import CONTENT_POLICY
from service.help.library import tasks
from service.people.guards import PROGRAMS
from tests.service import test_routes as routes
from tests.service.site import HEAVY_GIRDER, MECHANISM, MISTAKEN, TOO_DEEP, Site, post, token

VISITOR = "nobody"
WALKERS = (VISITOR, routes.OWN, routes.TEACHER, routes.COORDINATOR)
ADDRESS = "http://school.invalid"


@dataclass(frozen=True)
class Seen:
    """A whole page as one person got it; ``posted`` where an empty form was sent to its address."""

    address: str
    text: str
    posted: bool = False

    def __str__(self) -> str:
        return f"{'POST ' if self.posted else ''}{self.address}"


def furnish(site: Site) -> list[str]:
    """Works of every kind and a trial beside the objects of the matrix; the addresses that show them."""
    student, teacher = site.signed_in(routes.OWN), site.signed_in(routes.TEACHER)
    works = [site.hand_in(student, text) for text in (MECHANISM, MISTAKEN, TOO_DEEP, HEAVY_GIRDER)]
    site.work()
    brief, rubric = library.brief_text("footbridge").decode(), library.rubric_text("footbridge").decode()
    harder = rubric.replace("earns: {100: 0, 600: 25}", "earns: {400: 0, 4000: 25}")
    desk = f"/staff/assignments/{site.assignment}"
    tried = post(teacher, f"{desk}/writing", brief=brief, rubric=harder, do="try")
    site.work()
    post(teacher, f"{desk}/release", do="hold", attempt=str(works[-1]), why="I measure it once more.")
    works.append(site.hand_in(student, HEAVY_GIRDER + b"# this one waits"))
    helping = ["/help?q=buckling", "/help?q=xylophone", *(f"/help/{task}" for task in tasks())]
    return [*(f"/attempts/{one}" for one in works), urlsplit(tried.location).path, "/nowhere", *helping]


def client_of(site: Site, name: str) -> FlaskClient:
    return site.visitor() if name == VISITOR else site.signed_in(name)


def pages(site: Site, objects: tuple[int, int], name: str, more: list[str]) -> list[Seen]:
    """What this person reads at every address that opens a whole page."""
    client = client_of(site, name)
    found = []
    for address in [*(routes.address(site, rule, *objects) for rule in _rules(site, "GET")), *more]:
        with client.get(address) as answer:
            if is_page(answer):
                found.append(Seen(address, answer.text))
    return found


def answers(site: Site, objects: tuple[int, int], name: str) -> list[Seen]:
    """What this person reads after sending each form empty; some of them change what they are sent to."""
    found = []
    for rule in _rules(site, "POST"):
        address, client = routes.address(site, rule, *objects), client_of(site, name)
        answer = client.post(address, data={"csrf_token": token(client)})
        if is_page(answer) and answer.status_code not in (403, 404, 405):
            found.append(Seen(address, answer.text, posted=True))
    return found


def is_page(answer: TestResponse) -> bool:
    whole = answer.mimetype == "text/html" and not answer.location
    return whole and answer.text.lstrip().startswith("<!doctype html")


def main_of(seen: Seen) -> str:
    """What differs between pages: neither the head nor the foot of the page, nor a token."""
    main = seen.text.partition("<main")[2].partition("</main>")[0]
    return re.sub(r'name="(csrf_token|key)" value="[^"]+"', "", main)


@contextmanager
def showing(browser: Browser, site: Site, name: str) -> Iterator[tuple[Page, list[Seen]]]:
    """A browser page, and a list whose last entry is what its next navigation brings."""
    client, shown, given = client_of(site, name), list[Seen](), list[Seen]()
    context = browser.new_context(base_url=ADDRESS, reduced_motion="reduce", service_workers="block")

    def answer(route: Route) -> None:
        if route.request.is_navigation_request() and shown == given:
            route.fulfill(status=204)  # a page that waits loads itself again: it stays as it is looked at
            return
        if route.request.is_navigation_request():
            given[:] = shown
            headers = {"Content-Type": "text/html; charset=utf-8", "Content-Security-Policy": CONTENT_POLICY}
            route.fulfill(body=shown[-1].text, headers=headers)
            return
        parts = urlsplit(route.request.url)
        with client.get(f"{parts.path}?{parts.query}") as found:
            route.fulfill(status=found.status_code, body=found.data, headers=dict(found.headers))

    context.route("**/*", answer)
    try:
        yield context.new_page(), shown
    finally:
        context.close()


def _rules(site: Site, method: str) -> list[Rule]:
    own = (rule for rule in site.app.url_map.iter_rules() if not rule.endpoint.startswith(f"{PROGRAMS}."))
    return [rule for rule in own if method in (rule.methods or ()) and rule.endpoint not in ("static", "help.schema")]
