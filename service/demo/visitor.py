"""A visitor of the site: keeps cookies, sends forms with their token, as a browser would."""

from __future__ import annotations

import json
import re
import urllib.error
import urllib.request
import uuid
from collections.abc import Sequence
from http.cookiejar import CookieJar
from typing import Any
from urllib.parse import urlencode

TIMEOUT_S = 60


class Refused(Exception):
    """A page answered with an error: its address and status."""


class _Stay(urllib.request.HTTPRedirectHandler):
    """Does not go where an answer leads."""

    def redirect_request(self, *_: Any) -> None:
        return None


class Visitor:
    """One person at one site."""

    def __init__(self, site: str) -> None:
        self.site = site
        self._cookies = urllib.request.HTTPCookieProcessor(CookieJar())
        self._opener = urllib.request.build_opener(self._cookies)
        self._token = ""

    def get(self, path: str) -> bytes:
        """The body of a page; follows redirects."""
        return self._open(path, None, {})[1]

    def sign_in(self, code: str, passphrase: str) -> None:
        """As a student."""
        self.post("/sign-in", {"class_code": code, "passphrase": passphrase})
        self._token = ""  # a new session has a new token

    def sign_in_staff(self, name: str, password: str) -> None:
        """As a teacher or the coordinator."""
        self.post("/sign-in/staff", {"name": name, "password": password})
        self._token = ""

    def post(self, path: str, fields: dict[str, str], form_at: str | None = None, safe: Sequence[str] = ()) -> str:
        """Send a form, with boxes ticked; returns the path that the answer led to."""
        token = self._token or self.token(form_at or path)
        body = urlencode([*fields.items(), *(("safe", one) for one in safe), ("csrf_token", token)]).encode()
        return self._open(path, body, {"Content-Type": "application/x-www-form-urlencoded"})[0]

    def ask(self, path: str, fields: dict[str, str]) -> tuple[int, dict[str, Any]]:
        """Send a form as a script does; the status and what was answered, refusals too."""
        body = urlencode({**fields, "csrf_token": self._token}).encode()
        request = urllib.request.Request(self.site + path, body, {"Accept": "application/json"})  # noqa: S310 - our own
        try:
            with self._opener.open(request, timeout=TIMEOUT_S) as answer:
                return answer.status, json.load(answer)
        except urllib.error.HTTPError as error:
            return error.code, json.load(error)

    def upload(self, path: str, form_at: str, file_name: str, data: bytes, follow: bool = True) -> str:
        """Send a file through a form; returns the path that the answer led to, read where ``follow``."""
        edge, token = uuid.uuid4().hex, self._token or self.token(form_at)
        head = f'--{edge}\r\nContent-Disposition: form-data; name="csrf_token"\r\n\r\n{token}\r\n'
        head += f'--{edge}\r\nContent-Disposition: form-data; name="file"; filename="{file_name}"\r\n\r\n'
        body = head.encode() + data + f"\r\n--{edge}--\r\n".encode()
        headers = {"Content-Type": f"multipart/form-data; boundary={edge}"}
        return self._open(path, body, headers, follow)[0]

    def token(self, path: str) -> str:
        """The token that forms of this session carry, read from the page at ``path`` and kept."""
        found = re.search(r'name="csrf_token"[^>]*value="([^"]+)"', self.get(path).decode())
        if found is None:
            raise Refused(f"{path} holds no form to send")
        self._token = found[1]
        return self._token

    def _open(self, path: str, body: bytes | None, headers: dict[str, str], follow: bool = True) -> tuple[str, bytes]:
        opener = self._opener if follow else urllib.request.build_opener(self._cookies, _Stay)
        request = urllib.request.Request(self.site + path, body, headers)  # noqa: S310 - our own site
        try:
            with opener.open(request, timeout=TIMEOUT_S) as answer:
                return answer.url.removeprefix(self.site), answer.read()
        except urllib.error.HTTPError as error:
            if not follow and error.code in (302, 303):
                return error.headers["Location"], b""
            raise Refused(f"{path} answered {error.code}") from None
