"""The board on the wall: what fits when one bridge is tested, and when two are."""

from __future__ import annotations

import pytest

from rubric.contest.official import official
from service.contest.live_pages import Live
from service.contest.standings import Standings
from tests.rubric.contest.made import bridge, rules
from tests.service.contest.day import begin, enter, stations
from tests.service.contest.test_contest_pages import told
from tests.service.site import Site, post


@pytest.mark.parametrize(("rigs", "shown"), [(0, 5), (1, 5), (2, 4)])
def test_two_rigs_at_once_take_the_room_of_a_place(rigs: int, shown: int) -> None:
    results = tuple(official(rules(), [bridge(n, 50, 100 + n) for n in range(1, 9)]))
    found = Standings(rules(), results, {}, {}, None, frozenset())
    ((_, places),) = Live(found, results[:rigs], None, (), 8).divisions
    assert [one.place for one in places] == list(range(1, shown + 1))


def test_bridges_on_two_rigs_stand_side_by_side_above_all_else(site: Site) -> None:
    enter(site, begin(site))
    _, first = stations(site)
    _, second = stations(site)
    tess, board = site.signed_in("Tess Birch"), f"/contests/{site.contest}/live/now"
    post(tess, f"/staff/stations/{first}/call", number="1")
    assert 'class="now rigs"' not in site.visitor().get(board).text
    assert told(site.visitor(), board).count("On the rig now") == 1
    post(tess, f"/staff/stations/{second}/call", number="2")
    page = site.visitor().get(board).text
    assert page.index('class="now rigs"') < page.index('class="below"')
    assert told(site.visitor(), board).count("On the rig now") == 2
