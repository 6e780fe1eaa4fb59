"""What a station asks about, and what it refuses."""

from __future__ import annotations

import pytest

from rubric.contest.rig import Rig
from rubric.contest.rules import WeighIn
from rubric.contest.weighing import load_doubts, mass_doubts

LIMITS = WeighIn.model_validate({"mass": "60 g", "differs": "15 %"})
RIG = Rig.model_validate({"most": "400 N"})


def test_a_mass_near_the_prediction_and_under_the_limit_is_not_asked_about() -> None:
    assert mass_doubts(LIMITS, 57.5, 50) == ()
    assert mass_doubts(LIMITS, 60, None) == ()


def test_a_mass_that_differs_is_asked_about_in_words() -> None:
    assert mass_doubts(LIMITS, 58, 50) == ("58 g is 16 % more than the 50 g that was predicted.",)
    assert mass_doubts(LIMITS, 40, 50) == ("40 g is 20 % less than the 50 g that was predicted.",)


def test_a_slip_of_the_decimal_point_and_too_much_mass_are_both_told() -> None:
    slip, over = mass_doubts(LIMITS, 512, 51.2)
    assert slip.endswith("Is a digit or the decimal point out of place?")
    assert over == "512 g is 452 g over the 60 g that a bridge may have."


@pytest.mark.parametrize("mass", [0, -3, 1e9])
def test_a_mass_that_no_bridge_has_is_refused(mass: float) -> None:
    with pytest.raises(ValueError, match="Type it again, in grams"):
        mass_doubts(LIMITS, mass, 50)


def test_a_load_as_predicted_is_not_asked_about() -> None:
    assert load_doubts(RIG, 150, "N", 200) == ()


def test_a_load_over_the_maximum_or_far_from_the_prediction_is_asked_about() -> None:
    assert load_doubts(RIG, 450, "N", None) == (
        "450 N is over the 400 N at which every test stops. Was it typed in the right unit?",
    )
    (far,) = load_doubts(RIG, 20, "N", 200)
    assert far == "20 N on the bridge, and 200 N was predicted. Is a digit or the decimal point out of place?"


def test_a_reading_below_the_tare_is_refused_with_the_reason() -> None:
    tared = Rig.model_validate({"most": "400 N", "tare": 5})
    with pytest.raises(ValueError, match="The display shows 5 N with nothing on it"):
        load_doubts(tared, 4, "N", 200)
