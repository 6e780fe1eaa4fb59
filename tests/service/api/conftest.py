"""Tokens of class 8B for the tests of what programs may do."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from service.api.tokens import SCOPES, Rate, make
from tests.service.site import Site

Headers = dict[str, str]
WithToken = Callable[..., Headers]


@pytest.fixture
def with_token(site: Site) -> WithToken:
    """Makes a token of class 8B with these scopes, or with all; by its teacher or another person."""

    def made(*scopes: str, by: str = "Tess Birch", class_id: int = 1) -> Headers:
        with site.records.write() as session:
            _, secret = make(session, class_id, site.ids[by], "a test", list(scopes or SCOPES))
        return {"Authorization": f"Bearer {secret}"}

    return made


@pytest.fixture
def unbounded(site: Site) -> None:
    """Let programs ask as often as they like."""
    site.app.extensions["kingpost.rate"] = Rate(at_once=10**9)
