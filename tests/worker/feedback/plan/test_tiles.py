"""Pages of the full-size plan: they cover the truss, overlap, and are as few as can be."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubric.drawing.boxes import Box
from tests.worker.feedback.plan import bridges
from worker.feedback.plan.outlines import bars
from worker.feedback.plan.seams import seams
from worker.feedback.plan.tiles import MOST_PAGES, OVERLAP_MM, PAPERS_MM, Grid, grid
from worker.truss.model import Truss


def spread(truss: Truss, paper: str = "A4") -> Grid:
    joints = list(truss.joints.values())
    found = grid([bar.box for bar in bars(bridges.analysis_of(truss), bridges.BRIEF)], joints, paper)
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("truss", "paper", "names"),
    [
        (bridges.SMALL, "A4", "A1"),
        (bridges.TYPICAL, "A4", "A1 A2 A3"),
        (bridges.TYPICAL, "Letter", "A1 A2 A3"),
        (bridges.TYPICAL, "A3", "A1 A2"),
        (bridges.FLAT, "A4", "A1 A2 A3 A4 A5 A6 A7"),
        (bridges.DEEP, "A4", "A1 A2 B1 B2 C1 C2 D1 D2"),
    ],
)
def test_pages_are_named_by_row_and_column(truss: Truss, paper: str, names: str) -> None:
    assert [tile.name for tile in spread(truss, paper).tiles] == names.split()


def test_paper_is_turned_whichever_way_takes_fewer_pages() -> None:
    lying = spread(bridges.FLAT)
    assert (lying.wide, lying.high) == PAPERS_MM["A4"][::-1]
    tower = grid([Box((50, 120), 40, 115)], [], "A4")
    assert tower is not None
    assert (tower.wide, tower.high, len(tower.tiles)) == (*PAPERS_MM["A4"], 1)


@given(st.floats(30, 1500), st.floats(5, 700), st.sampled_from(sorted(PAPERS_MM)))
def test_every_place_of_the_truss_is_on_some_page(wide: float, high: float, paper: str) -> None:
    found = grid([Box((wide / 2, high / 2), wide / 2, high / 2)], [], paper)
    if found is None:
        return
    for x in (0, wide / 3, wide / 2, wide):
        for y in (0, high / 3, high / 2, high):
            assert any(
                0 <= x - tile.left <= found.window[0] and 0 <= tile.top - y <= found.window[1] for tile in found.tiles
            )


def test_neighbours_overlap_by_ten_mm() -> None:
    found = spread(bridges.DEEP)
    first, right, below = found.at(0, 0), found.at(0, 1), found.at(1, 0)
    assert first is not None
    assert right is not None
    assert below is not None
    assert first.left + found.window[0] - right.left == pytest.approx(OVERLAP_MM)
    assert below.top - (first.top - found.window[1]) == pytest.approx(OVERLAP_MM)


def test_a_place_of_the_grid_without_a_stick_gets_no_page() -> None:
    corner = [Box((300, 0), 300, 2), Box((0, 300), 2, 300)]
    found = grid(corner, [], "A4")
    assert found is not None
    assert len(found.tiles) < found.rows * found.columns
    assert found.at(0, found.columns - 1) is None


def test_both_pages_at_a_seam_have_the_same_line_and_crosses() -> None:
    found = spread(bridges.DEEP)
    by_name = {tile.name: list(seams(found, tile)) for tile in found.tiles}
    for name, edges in by_name.items():
        for edge in edges:
            (twin,) = [one for one in by_name[edge.neighbour] if one.neighbour == name]
            assert (twin.start, twin.end, twin.cut) == (
                pytest.approx(edge.start),
                pytest.approx(edge.end),
                not edge.cut,
            )


def test_seams_keep_clear_of_joints_where_there_is_room_to_shift_them() -> None:
    found, post = spread(bridges.DEEP), 200.0
    edges = [edge for tile in found.tiles for edge in seams(found, tile) if edge.start[0] == edge.end[0]]
    assert edges
    assert all(abs(edge.start[0] - post) > 15 for edge in edges)


def test_where_every_seam_is_near_a_joint_none_falls_upon_one() -> None:
    joints = [(100.0 * i, 0.0) for i in range(9)]
    found = grid([Box((400, 90), 400, 92)], joints, "A4")
    assert found is not None
    places = {edge.start[0] for tile in found.tiles for edge in seams(found, tile) if edge.start[0] == edge.end[0]}
    assert len(places) == found.columns - 1 > 0
    assert min(abs(place - x) for place in places for x, _ in joints) > 5


def test_a_plan_of_too_many_pages_is_not_drawn() -> None:
    assert grid([Box((5e5, 0), 5e5, 2)], [], "A4") is None
    assert grid([Box((5e5, 5e5), 5e5, 5e5)], [], "A3") is None
    assert grid([Box((9000, 0), 9000, 2)], [], "A4") is None
    assert MOST_PAGES == 60
