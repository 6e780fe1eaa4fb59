"""A real site on a temporary folder, and Debian's chromium to walk through it.

Every page that a test opens is watched: no request leaves the host, nothing breaks the content
policy, no script fails.
"""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect, sync_playwright

from rubric import library
from service.classes.setting import add_contest, set_assignment
from service.people import enrol
from service.people.enrol import SignIn
from service.records.engine import open_records
from service.records.migrations import upgrade
from service.records.models import COORDINATOR, TEACHER
from service.sending import Sending

CHROMIUM = "/usr/bin/chromium"
FLAGS = (
    "--headless --no-sandbox --disable-gpu --disable-quic --no-first-run --disable-background-networking "
    "--disable-component-update --disable-sync"
).split()

STUDENTS = [
    *("Ada Fern", "Ben Holt", "Cleo Marsh", "Dan <b>Stone</b>", "Eli Brook", "Fay Moss", "Hal Pine"),
    *("Ida Lund", "Jan Roth"),  # of the tests by keyboard alone
]
MARKED_S = 30_000
"""Milliseconds that a busy machine may take to mark or print."""

expect.set_options(timeout=15_000)  # so long may it take to show what is there


@dataclass(frozen=True)
class Live:
    """Where the site is, and who may sign in."""

    address: str
    sign_ins: dict[str, SignIn]


@pytest.fixture(scope="session")
def live(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Live]:
    """``kingpost serve`` with a school of two classes in a contest."""
    folder = tmp_path_factory.mktemp("site")
    sign_ins = _school(folder)
    port = _free_port()
    environment = {name: value for name, value in os.environ.items() if not name.startswith("KINGPOST_")}
    environment |= {"KINGPOST_DATA": str(folder), "KINGPOST_PORT": str(port)}
    with (folder / "serve.log").open("wb") as log:
        serving = subprocess.Popen(
            [sys.executable, "-m", "rubric.commandline", "serve", "--marking", "1", "--printing", "1"],
            env=environment,
            stdout=log,
            stderr=log,
            start_new_session=True,
        )
        try:
            _wait_for(f"http://127.0.0.1:{port}/health", serving, folder / "serve.log")
            yield Live(f"http://127.0.0.1:{port}", sign_ins)
        finally:
            serving.send_signal(signal.SIGTERM)
            try:
                serving.wait(20)
            except subprocess.TimeoutExpired:
                os.killpg(serving.pid, signal.SIGKILL)
                serving.wait()


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """One chromium for the whole run."""
    with sync_playwright() as playwright:
        opened = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        yield opened
        opened.close()


Open = Callable[..., Page]


@pytest.fixture
def open_page(live: Live, browser: Browser) -> Iterator[Open]:
    """Opens pages in windows of their own, and at the end holds what they did against the rules."""
    contexts: list[BrowserContext] = []
    wrong: list[str] = []

    def opened(**options: object) -> Page:
        context = browser.new_context(base_url=live.address, **options)  # type: ignore[arg-type]
        contexts.append(context)
        page = context.new_page()
        page.on("pageerror", lambda error: wrong.append(f"script: {error}"))
        page.on("console", lambda message: wrong.append(message.text) if "Content Security" in message.text else None)
        page.on("request", lambda request: _same_host(request.url, live.address, wrong))
        return page

    yield opened
    for context in contexts:
        context.close()
    assert wrong == []


@pytest.fixture
def sign_in(live: Live, open_page: Open) -> Open:
    """Opens a page in which somebody has signed in by the form."""

    def signed_in(name: str, **options: object) -> Page:
        page, one = open_page(**options), live.sign_ins[name]
        if one.class_code:
            page.goto("/sign-in")
            page.get_by_label("Class code").fill(one.class_code.lower())
            page.get_by_label("Your three words").fill(one.secret.replace("-", " "))
        else:
            page.goto("/sign-in/staff")
            page.get_by_label("Name", exact=True).fill(one.name)
            page.get_by_label("Password").fill(one.secret)
        page.get_by_role("button", name="Sign in").click()
        page.get_by_role("button", name="Sign out").wait_for()
        return page

    return signed_in


def hand_in(page: Page, text: bytes) -> None:
    """Upload a truss file on the student's desk and wait for its mark."""
    page.goto("/desk")
    page.get_by_label("Truss file").set_input_files({"name": "b.yaml", "mimeType": "text/plain", "buffer": text})
    page.get_by_role("button", name="Hand in").click()
    page.locator("#part-result[data-version=done]").wait_for(timeout=MARKED_S)


def wait_for_drawing(page: Page) -> None:
    """Load the desk again until a worker has drawn the brief, as the page asks for."""
    for _ in range(60):
        page.goto("/desk")
        if page.locator("figure svg").count():
            return
        page.get_by_text("The drawing is on its way.").wait_for()
        page.wait_for_timeout(500)
    raise AssertionError("the brief was never drawn")


def _school(folder: Path) -> dict[str, SignIn]:
    records = open_records(f"sqlite:///{folder}/kingpost.sqlite")
    upgrade(records.engine)
    brief, rubric = library.brief_text("footbridge"), library.rubric_text("footbridge")
    with records.write() as session:
        enrol.set_school(session, "Millbrook School", "Europe/Lisbon")
        sign_ins = enrol.add_class(session, "Otters", "8B", STUDENTS)
        sign_ins += enrol.add_class(session, "Herons", "9C", ["Gus Reed"])
        sign_ins.append(enrol.add_staff(session, TEACHER, "Tess Birch", ["8B"]))
        sign_ins.append(enrol.add_staff(session, COORDINATOR, "Cora Vale"))
        add_contest(session, "Spring bridges")
        set_up = [set_assignment(session, code, brief, rubric, contest="Spring bridges") for code in ("8B", "9C")]
    for _, job in set_up:
        assert Sending(records, str(folder / "broker")).send(job)
    records.engine.dispose()
    return {one.name: one for one in sign_ins}


def _free_port() -> int:
    with socket.socket() as found:
        found.bind(("127.0.0.1", 0))
        return int(found.getsockname()[1])


def _wait_for(address: str, serving: subprocess.Popen[bytes], log: Path) -> None:
    for _ in range(300):
        try:
            with urllib.request.urlopen(address, timeout=2):
                return
        except OSError:
            assert serving.poll() is None, log.read_text()
            time.sleep(0.1)
    raise AssertionError(f"the site did not come up:\n{log.read_text()}")


def _same_host(url: str, address: str, wrong: list[str]) -> None:
    if not url.startswith((f"{address}/", "blob:", "data:")):
        wrong.append(f"a request to {url}")
