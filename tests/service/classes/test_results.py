"""An outcome in words and rows: what depends on how the load stands."""

from __future__ import annotations

from rubric.messages.outcomes import Analysis, CutStick, Failure, MemberRow, Outlook, StickNeed, Travel
from service.classes.results import cut_lines, member_lines, stops

ROW = MemberRow(
    name="a-b", start="a", end="b", stick="bar", count=1, length_mm=100, area_mm2=10, slenderness=50, force_N=0,
    stress_MPa=-3, capacity_N=60, utilisation=0.5, mode="buckling", range_N=(-30, 12), worst_N=-30, worst_at="c",
)  # fmt: skip
MOVING = Analysis(
    state="stable", joints=(), members=(ROW,), degree=0, mechanisms=0, mass_g=40, failure_load_N=90,
    first_failure=Failure(member="a-b", mode="buckling", load_N=90),
    travel=Travel(joints=("b", "c"), places_mm=(100, 200), worst="c", member="a-b", forces_N=(12, -30)),
)  # fmt: skip


def test_a_member_under_a_moving_load_shows_its_worst_force_and_its_range() -> None:
    line = member_lines(MOVING)[0]
    assert (line.force, line.kind, line.range) == ("−30 C", "compression", "−30 C to +12 T")


def test_each_stop_of_a_moving_load_shows_the_force_in_the_member_that_breaks_first() -> None:
    found = [(stop.joint, stop.place, stop.force, stop.worst) for stop in stops(MOVING)]
    assert found == [("b", "100", "+12 T", False), ("c", "200", "−30 C", True)]


def test_a_load_that_stands_still_has_no_stops_and_no_range() -> None:
    row = ROW.model_copy(update={"force_N": 12.0, "stress_MPa": 1.2, "range_N": None, "worst_N": None, "worst_at": ""})
    still = MOVING.model_copy(update={"travel": None, "members": (row,)})
    assert stops(still) == ()
    assert (member_lines(still)[0].force, member_lines(still)[0].range) == ("+12 T", "")


def test_each_stick_is_shown_with_its_pieces_and_what_is_left_over() -> None:
    layout = (CutStick(pieces=(("a-b", 150.0), ("b-c", 192.094)), left_mm=42.3), CutStick(pieces=(), left_mm=0.0))
    need = StickNeed(stick="bar", needed=2, in_kit=3, fits=True, layout=layout)
    found = cut_lines(MOVING.model_copy(update={"outlook": Outlook(sticks=(need,))}))
    assert (found[0].stick, found[0].pieces, found[0].left) == ("bar, stick 1", "a-b 150, b-c 192.1", "42.3")
    assert (found[1].stick, found[1].left) == ("bar, stick 2", "0")
    assert cut_lines(MOVING) == ()
