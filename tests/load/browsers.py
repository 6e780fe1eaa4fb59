"""A browser for load tests: keeps its connection and its cookies, and times every answer."""

from __future__ import annotations

import http.client
import re
import time
from dataclasses import dataclass, field
from urllib.parse import urlencode, urlsplit

TIMEOUT_S = 60


@dataclass
class Seen:
    """What was asked of the service so far: seconds by kind of page, and what went wrong."""

    seconds: dict[str, list[float]] = field(default_factory=dict)
    faults: list[str] = field(default_factory=list)

    def note(self, kind: str, taken_s: float) -> None:
        """Keep one answer's time.  Appending is safe from many threads."""
        self.seconds.setdefault(kind, []).append(taken_s)


class Browser:
    """One person's browser at one site."""

    def __init__(self, site: str, seen: Seen) -> None:
        self._connection = http.client.HTTPConnection(urlsplit(site).netloc, timeout=TIMEOUT_S)
        self._cookies: dict[str, str] = {}
        self._seen = seen
        self._token = ""

    def get(self, kind: str, path: str) -> str:
        """A page, after following where it leads; what is no page of 200 counts as a fault."""
        for _ in range(4):
            status, led_to, body = self._ask(kind, "GET", path, None)
            if status not in (302, 303):
                break
            path = led_to
        if status != 200:
            self._seen.faults.append(f"GET {path}: {status}")
        found = re.search(rb'name="csrf_token"[^>]*value="([^"]+)"', body)
        if found:
            self._token = found[1].decode()
        return body.decode("utf-8", "replace")

    def post(self, kind: str, path: str, **fields: str) -> tuple[int, str, str]:
        """Send a form with the token last seen; status, where the answer leads, and its body."""
        body = urlencode({**fields, "csrf_token": self._token}).encode()
        status, led_to, answer = self._ask(kind, "POST", path, body)
        if status not in (200, 302, 303):
            self._seen.faults.append(f"POST {path}: {status}")
        return status, led_to, answer.decode("utf-8", "replace")

    def _ask(self, kind: str, method: str, path: str, body: bytes | None) -> tuple[int, str, bytes]:
        headers = {"Cookie": "; ".join(f"{name}={value}" for name, value in self._cookies.items())}
        if body is not None:
            headers["Content-Type"] = "application/x-www-form-urlencoded"
        start = time.perf_counter()
        try:
            self._connection.request(method, path, body, headers)
        except (BrokenPipeError, ConnectionResetError, http.client.CannotSendRequest):
            self._connection.close()  # the server ended a connection that lay idle, as it may: a browser opens another
            self._connection.request(method, path, body, headers)
        try:
            answer = self._connection.getresponse()
        except http.client.RemoteDisconnected:
            self._connection.close()
            self._connection.request(method, path, body, headers)
            answer = self._connection.getresponse()
        data = answer.read()
        self._seen.note(kind, time.perf_counter() - start)
        for line in answer.headers.get_all("Set-Cookie") or ():
            name, _, value = line.partition(";")[0].partition("=")
            self._cookies[name] = value
        return answer.status, answer.headers.get("Location", ""), data
