"""A long list of bridges in parts, and what of it is shown."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.contest.picking import Facts, pick, wanted_of
from tests.service.contest.day import begin, enter, read, stations, typed
from tests.service.contest.test_contest_pages import told
from tests.service.site import Site, post

ROWS = [
    Facts(n, "Lower" if n <= 70 else "Upper", (f"Calm Heron {n}",), frozenset({"tested" if n % 2 else "not weighed"}))
    for n in range(1, 121)
]


def shown(**asked: str) -> list[int]:
    return [row.number for row in pick(ROWS, lambda row: row, wanted_of(asked)).rows]


def test_a_long_list_comes_in_parts_and_each_bridge_stands_in_one() -> None:
    parts = [shown(part=str(part)) for part in (1, 2, 3)]
    assert [len(part) for part in parts] == [50, 50, 20]
    assert [n for part in parts for n in part] == shown(part="all") == [row.number for row in ROWS]


@pytest.mark.parametrize(("part", "first"), [("0", 1), ("99", 101), ("-1", 1), ("x", 1), ("9" * 90, 101), ("²", 1)])
def test_a_part_that_is_not_there_shows_the_nearest(part: str, first: int) -> None:
    assert shown(part=part)[0] == first


def test_a_bridge_is_found_by_its_number_or_a_part_of_its_alias() -> None:
    assert shown(find="12") == shown(find="#12") == [12]
    assert shown(find="heron 119") == [119]
    assert shown(find="nobody") == []
    assert shown(find="%") == []


def test_division_and_state_narrow_together() -> None:
    found = shown(division="Upper", state="tested", part="all")
    assert found == [n for n in range(71, 121) if n % 2]
    assert shown(state="sunk") == shown()  # a state that there is none of is not asked for


def test_it_is_known_in_which_part_a_division_begins() -> None:
    found = pick(ROWS, lambda row: row, wanted_of({}))
    assert found.begins == {"Lower": 1, "Upper": 2}
    assert found.to(2) == {"part": "2"}
    assert replace(found.wanted, find="a").narrows


def test_desk_and_list_show_what_is_asked_for_and_say_how_much_that_is(site: Site) -> None:
    enter(site, begin(site))
    scale, _ = stations(site)
    read(site, scale, typed(2, "60"))
    contest, cora = f"/staff/contests/{site.contest}", site.signed_in("Cora Vale")
    for page in (contest, f"{contest}/list"):
        assert "1 of 3 bridges." in told(cora, f"{page}?find=2")
        assert "2 of 3 bridges." in told(cora, f"{page}?state=not+weighed")
        assert "0 of 3 bridges. Show all bridges" in told(cora, f"{page}?find=nobody")
        assert "No bridge fits that." in told(cora, f"{page}?division=%3Cb%3E")
    assert "1 of 3 bridges." in told(cora, f"{contest}?find=ada+f")  # a pupil's name, where names are shown
    assert "0 of 3 bridges." in told(cora, f"{contest}/list?find=ada+f")


def test_whoever_confirms_or_rules_comes_back_to_the_same_part_of_the_list(site: Site) -> None:
    enter(site, begin(site))
    address = post(
        site.signed_in("Cora Vale"), "/staff/entries/2/protest?part=2&find=heron&x=1", text="Slipped."
    ).location
    assert address == f"/staff/contests/{site.contest}/list?find=heron&part=2#bridge-2"
