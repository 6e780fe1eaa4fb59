"""A class hour: 50 students work at once against a real ``kingpost serve``, each as a browser with its scripts would.

``python -m tests.load.class_hour [PUPILS [PACE]]``: each signs in within 20 s, then three times: looks at the file
while typing, hands it in, waits as the page does, reads the result and the sheet, looks at the board.  PACE 2 halves
all pauses.  Whoever waits and whoever serves share this machine, so the figures are for both together.
"""

from __future__ import annotations

import json
import random
import re
import sys
import tempfile
import threading
import time
import traceback
from pathlib import Path

from sqlalchemy import select

from service.demo.bridges import as_yaml, girder
from service.people.enrol import SignIn
from service.records.engine import Records
from service.records.models import MARKED, Submission
from tests.load.browsers import Browser, Seen
from tests.load.served import served

PUPILS, PACE = 50, 1.0
HAND_INS, LOOKS = 3, 6
SIGN_IN_S, TYPING_S, READING_S = 20.0, (2.0, 6.0), (5.0, 15.0)
PAGE_MS, MARKS_S = 150, 3
ASKS_S = (0.25, 0.4, 0.7, 1.0, 2.0)
"""The pauses after which the page asks for what was understood of a text."""


def measure(pupils: int = PUPILS, pace: float = PACE) -> list[str]:
    """Lines that say how fast pages and marks were, and what went wrong."""
    with tempfile.TemporaryDirectory() as folder, served(Path(folder), pupils) as (site, records, known, path):
        seen = Seen()
        work = [(site, seen, one, path, number, pace) for number, one in enumerate(known)]
        threads = [threading.Thread(target=_hour, args=given) for given in work]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        return _lines(pupils, seen, _marks_s(records, pupils, seen))


def _lines(pupils: int, seen: Seen, marks: list[float]) -> list[str]:
    pages = [taken for kind, times in seen.seconds.items() if kind != "sign in, secret" for taken in times]
    lines = [
        f"{pupils} students, {len(pages)} pages: {_said(pages)} (p95 asked: {PAGE_MS} ms)",
        f"hand-in to mark: p50 {_at(marks, 0.5):.2f} s, p95 {_at(marks, 0.95):.2f} s (asked: {MARKS_S} s)",
        f"errors: {len(seen.faults)} (asked: 0) {'; '.join(sorted(set(seen.faults))[:5])}",
    ]
    return lines + [f"  {kind}: {len(times)} times, {_said(times)}" for kind, times in sorted(seen.seconds.items())]


def _said(times: list[float]) -> str:
    return f"p50 {1e3 * _at(times, 0.5):.0f} ms, p95 {1e3 * _at(times, 0.95):.0f} ms, most {1e3 * max(times):.0f} ms"


def _at(values: list[float], share: float) -> float:
    return sorted(values)[min(len(values) - 1, int(share * len(values)))] if values else float("nan")


def _marks_s(records: Records, pupils: int, seen: Seen) -> list[float]:
    with records.read() as session:
        rows = session.execute(select(Submission.handed_in, Submission.marked_at, Submission.state)).all()
    unmarked = sum(state != MARKED for _, _, state in rows) + pupils * HAND_INS - len(rows)
    if unmarked:
        seen.faults.append(f"{unmarked} hand-ins without a mark")
    return [(marked - handed_in).total_seconds() for handed_in, marked, _ in rows if marked]


def _hour(site: str, seen: Seen, who: SignIn, path: str, number: int, pace: float) -> None:
    try:
        _Pupil(Browser(site, seen), who, path, number, pace).work()
    except Exception:
        seen.faults.append(traceback.format_exc(limit=-1).strip().splitlines()[-1])


class _Pupil:
    """One student with a browser."""

    def __init__(self, browser: Browser, who: SignIn, path: str, number: int, pace: float) -> None:
        self.browser, self.who, self.path, self.number = browser, who, path, number
        self.board = f"/boards{path}"
        self.dice, self.pace = random.Random(number), pace

    def work(self) -> None:
        """The whole hour."""
        self._pause((0, SIGN_IN_S))
        self.browser.get("sign in", "/sign-in")
        code, secret = self.who.class_code or "", self.who.secret
        self.browser.post("sign in, secret", "/sign-in", class_code=code, passphrase=secret)
        self.browser.get("assignment", "/desk")
        for attempt in range(HAND_INS):
            self._write(attempt)
            self._hand_in(attempt)
            self.browser.get("assignment", self.path)
            self.browser.get("board", self.board)

    def _write(self, attempt: int) -> None:
        text = self._text(attempt)
        for look in range(1, LOOKS + 1):
            self._pause(TYPING_S, least=1.1)
            part = text[: len(text) * look // LOOKS]
            *_, body = self.browser.post("look", f"{self.path}/look", quiet="1", text=part)
            for pause in (*ASKS_S, *ASKS_S[-1:] * 10):
                if 'data-look="waiting"' not in body:
                    break
                time.sleep(pause)
                body = self.browser.get("what was understood", f"{self.path}/look")

    def _hand_in(self, attempt: int) -> None:
        _, led_to, _ = self.browser.post("hand in", f"{self.path}/attempts", text=self._text(attempt))
        page = self.browser.get("attempt", led_to)
        state = re.search(r'data-state="([^"]+)"', page)
        stage = "received"
        for _ in range(120):
            time.sleep(1)
            answer = json.loads(self.browser.get("how far it is", state[1] if state else led_to))
            if answer["stage"] != stage:
                stage = answer["stage"]
                self.browser.get("result", f"{led_to}/parts")
            if stage in ("printed", "failed", "unprinted"):
                break
        self._pause(READING_S)
        if stage == "printed":
            self.browser.get("sheet", f"{led_to}/sheet.pdf")

    def _text(self, attempt: int) -> str:
        sticks = {"bottom": "square5", "top": "square5 x2", "vertical": "square3", "diagonal": "square5"}
        return as_yaml(girder(f"Bridge {self.number}", 600, 4, 100 + self.number + 10 * attempt, **sticks))

    def _pause(self, between: tuple[float, float], least: float = 0.0) -> None:
        time.sleep(max(self.dice.uniform(*between) / self.pace, least))


if __name__ == "__main__":
    given = sys.argv[1:]
    print("\n".join(measure(int(given[0]) if given else PUPILS, float(given[1]) if given[1:] else PACE)))
