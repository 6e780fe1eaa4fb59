"""A brief in plain words: what it asks for beyond the usual is said, and nothing else."""

from __future__ import annotations

from rubric import library
from rubric.brief import TRAVELLING
from service.classes.brief_said import facts

FOOTBRIDGE = library.brief("footbridge")


def test_the_usual_way_of_working_it_out_is_not_mentioned() -> None:
    assert "How it is worked out" not in dict(facts(FOOTBRIDGE))


def test_self_weight_and_rigid_joints_are_told_before_anybody_designs() -> None:
    found = dict(facts(FOOTBRIDGE.model_copy(update={"self_weight": "counted", "joints": "rigid"})))
    assert found["How it is worked out"] == (
        "The bridge carries its own weight too.",
        "Glued joints count as stiff, so that members are bent as well as pulled and pushed.",
    )


def test_a_load_that_moves_is_told_to_stand_on_every_deck_joint() -> None:
    load = FOOTBRIDGE.load.model_copy(update={"places": TRAVELLING})
    found = dict(facts(FOOTBRIDGE.model_copy(update={"load": load})))
    assert found["Load to carry"][1] == (
        "It stands on each joint of the deck (y = 0 mm) in turn. The bridge must carry it everywhere."
    )


def test_what_a_saw_cut_takes_away_is_told_with_the_kit() -> None:
    sawn = dict(facts(FOOTBRIDGE.model_copy(update={"kerf_mm": 1.5})))
    assert sawn["Your kit"][-1] == "Each saw cut takes 1.5 mm away."
    assert "saw cut" not in " ".join(dict(facts(FOOTBRIDGE))["Your kit"])
