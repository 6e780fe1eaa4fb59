"""Sign-in cards: what a student signs in with, and the same as a QR code.

The code holds an address whose words stand behind a ``#``: a browser keeps that part to itself, so the words
reach no server log.
"""

from __future__ import annotations

from dataclasses import dataclass
from urllib.parse import quote

import segno
from markupsafe import Markup

from service.people.enrol import SignIn


@dataclass(frozen=True)
class Card:
    """One card; ``code`` is an SVG drawing."""

    sign_in: SignIn
    code: Markup


def cards(sign_ins: list[SignIn], entrance: str) -> list[Card]:
    """A card for each sign-in; ``entrance`` is the address of the page where students sign in."""
    return [Card(one, code(f"{entrance}#{quote(one.class_code)}/{one.secret}")) for one in sign_ins]


def code(text: str) -> Markup:
    """A text as a QR code, drawn as SVG."""
    drawn = segno.make(text, error="m", micro=False).svg_inline(scale=1, border=2, omitsize=True, svgclass="qr")
    return Markup(drawn)  # noqa: S704 - drawn here from squares alone  # nosec B704
