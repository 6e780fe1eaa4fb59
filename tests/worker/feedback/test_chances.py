"""Figures of what comes beyond the first failure: scatter, collapse, a load that travels."""

from __future__ import annotations

from rubric.drawing import palette
from rubric.messages.outcomes import Analysis, Figure
from rubric.wording import amount
from tests.worker.feedback import gallery, seen
from worker.feedback.figures import collapse, influence, scatter


def dots(figure: Figure) -> list[tuple[float, bool]]:
    """Places of the dots from the left, and whether each is full; the two samples under the figure left out."""
    found = seen.within(seen.all_of(figure, "g")[0], "circle")
    return sorted((float(c.get("cx", 0)), c.get("fill") != palette.PAPER) for c in found)


def test_twenty_dots_stand_in_the_order_of_their_loads_and_are_full_from_the_target_on() -> None:
    case = gallery.case("bow")
    ahead = case.analysis.outlook
    assert ahead is not None
    found = dots(scatter(ahead, case.brief))
    assert [full for _, full in found] == [load >= 200 for load in ahead.twenty_N]
    assert len(found) == 20


def test_the_scatter_says_its_three_loads_and_its_target_with_their_unit() -> None:
    case = gallery.case("warren 4")
    ahead = case.analysis.outlook
    figure = scatter(ahead, case.brief)
    for load in (ahead.low_N, ahead.median_N, ahead.high_N):
        assert amount(load, "N") in figure.alternative
    assert "target 200 N" in seen.words_of(figure)
    assert "load at which the bridge breaks, N" in seen.words_of(figure)


def test_a_target_far_off_is_told_at_the_edge_so_that_the_dots_stay_apart() -> None:
    case = gallery.case("far too weak")
    figure = scatter(case.analysis.outlook, case.brief)
    places = [x for x, _ in dots(figure)]
    assert max(places) - min(places) > 150
    assert "target 9000 N" in seen.words_of(figure)


def test_no_scatter_is_drawn_where_chance_was_not_reckoned() -> None:
    case = gallery.case("bow")
    assert scatter(None, case.brief) is None
    assert scatter(case.analysis.outlook.model_copy(update={"low_N": None}), case.brief) is None


def test_older_outlooks_without_the_twenty_still_give_a_bar() -> None:
    case = gallery.case("bow")
    figure = scatter(case.analysis.outlook.model_copy(update={"twenty_N": ()}), case.brief)
    assert dots(figure) == []
    assert "carry the target" in figure.alternative


def test_a_collapse_tells_each_stage_with_its_load_and_what_breaks() -> None:
    analysis = gallery.case("a member between any two joints").analysis
    figure = collapse(analysis)
    first = analysis.outlook.breaks[0]
    assert f"1. At {amount(first.at_N, 'N')}: {first.members[0]} buckles." in " ".join(seen.words_of(figure))
    assert f"{len(analysis.outlook.breaks) - 6} more stages follow." in " ".join(seen.words_of(figure))
    for stage in analysis.outlook.breaks:
        assert all(f"{member} " in figure.alternative for member in stage.members)


def test_the_first_stage_of_a_collapse_is_the_first_failure() -> None:
    analysis = gallery.case("a member between any two joints").analysis
    assert analysis.first_failure.member in analysis.outlook.breaks[0].members
    assert amount(analysis.outlook.breaks[0].at_N, "N") == amount(analysis.first_failure.load_N, "N")


def test_a_determinate_truss_and_one_that_gives_way_as_a_whole_have_no_collapse_to_draw() -> None:
    assert collapse(gallery.case("warren 6").analysis) is None
    analysis = gallery.case("bow").analysis
    whole = analysis.outlook.model_copy(update={"whole_load_N": 1.0})
    assert collapse(analysis.model_copy(update={"outlook": whole})) is None


def numbers(analysis: Analysis) -> list[str]:
    return [f"{float(f'{abs(force):.3g}'):g} {'T' if force > 0 else 'C'}" for force in analysis.travel.forces_N]


def test_an_influence_line_has_a_number_for_each_place_of_the_load() -> None:
    case = gallery.case("a load that travels")
    words = seen.words_of(influence(case.analysis, case.brief))
    for number in numbers(case.analysis):
        assert number in words


def test_an_influence_line_runs_below_its_line_of_no_force_for_compression() -> None:
    case = gallery.case("a load that travels")
    figure = influence(case.analysis, case.brief)
    (curve,) = seen.all_of(figure, "polyline")
    heights = [float(pair.split(",")[1]) for pair in curve.get("points").split()]
    forces = case.analysis.travel.forces_N
    assert max(range(5), key=lambda i: heights[i]) == min(range(5), key=lambda i: forces[i])


def test_a_load_that_stands_still_has_no_influence_line() -> None:
    case = gallery.case("warren 6")
    assert influence(case.analysis, case.brief) is None
