"""Aliases: our own words, never a name, never twice."""

from __future__ import annotations

import pytest

from service.people.aliases import free_aliases, is_alias
from service.records.models import Person
from tests.service.site import Site, post


def test_aliases_are_different_and_recognised(site: Site) -> None:
    with site.records.read() as session:
        offered = free_aliases(session, 300)
    assert len(set(offered)) == 300
    assert all(is_alias(alias) for alias in offered)


@pytest.mark.parametrize(
    "text",
    ["Ada Fern", "<b>Amber</b> Otter", "Amber", "amber otter", "Amber Otter 1e3", "Amber Otter Otter", "", "A \u202e"],
)
def test_what_is_not_of_our_words_is_no_alias(text: str) -> None:
    assert not is_alias(text)


def test_a_student_takes_another_alias(site: Site) -> None:
    client = site.signed_in("Ada Fern")
    assert post(client, "/alias", alias="Amber Otter").status_code == 302
    assert "Your alias is now Amber Otter." in client.get("/desk", follow_redirects=True).text


def test_an_alias_that_somebody_has_is_offered_to_nobody_else(site: Site) -> None:
    with site.records.read() as session:
        taken = session.get_one(Person, site.ids["Ben Holt"]).alias
    answer = post(site.signed_in("Ada Fern"), "/alias", alias=taken)
    assert "That alias is taken. Choose another one." in answer.text


def test_a_name_of_ones_own_is_refused(site: Site) -> None:
    post(site.signed_in("Ada Fern"), "/alias", alias="Ada Fern")
    with site.records.read() as session:
        assert session.get_one(Person, site.ids["Ada Fern"]).alias != "Ada Fern"
