"""The steps: short, in order, and only those that this bridge needs."""

from __future__ import annotations

import pytest

from rubric.brief import Brief, Glue, Stick
from tests.worker.feedback.plan import bridges
from worker.feedback.plan.steps import steps

PLAIN = bridges.analysis_of(bridges.TYPICAL)
DOUBLED = bridges.analysis_of(bridges.TYPICAL, doubled=("b0-b1",))
GUSSET = Glue.model_validate({"strength": 5, "lap": 12, "gusset": {"thickness": 1, "strength": 20}})


def said(brief: Brief = bridges.BRIEF, pages: int = 3, layers: int = 3) -> str:
    return " ".join(steps(PLAIN, brief, layers, pages))


def test_there_are_about_a_dozen_steps_of_short_sentences() -> None:
    found = steps(DOUBLED, bridges.BRIEF, 3, 3)
    assert 10 <= len(found) <= 13
    sentences = [one for step in found for one in step.replace(":", ".").split(". ")]
    assert max(len(one.split()) for one in sentences) <= 19


def test_the_bar_is_measured_first_and_the_sides_are_joined_last() -> None:
    found = steps(PLAIN, bridges.BRIEF, 3, 3)
    assert "must be 100 mm long" in found[0]
    assert "cross members" in found[-1]


def test_doubled_sticks_are_glued_where_the_brief_says() -> None:
    assert not any("doubled" in step for step in steps(PLAIN, bridges.BRIEF, 3, 3))
    assert any("along their whole length" in step for step in steps(DOUBLED, bridges.BRIEF, 3, 3))
    at_ends = bridges.brief(600, glued="at the ends")
    assert any("at both ends" in step for step in steps(DOUBLED, at_ends, 3, 3))


@pytest.mark.parametrize(("pages", "told"), [(1, False), (2, True)])
def test_pages_are_taped_only_where_there_are_several(pages: int, told: bool) -> None:
    assert ("crosses meet" in said(pages=pages)) == told


def test_laps_gussets_and_round_sticks_are_told_as_the_brief_has_them() -> None:
    assert "glued over 12 mm." in said()
    assert "half their thickness" not in said()
    assert "Glue a gusset over each joint, 1 mm thick. It must cover 12 mm" in said(bridges.brief(600, glue=GUSSET))
    assert "Glue every joint." in said(bridges.brief(600, glue=None))
    dowel = {"square5": Stick.model_validate({"section": "round 4 mm", "length": 900, "count": 9})}
    assert "Cut the ends of round sticks flat, to half their thickness." in said(bridges.brief(600, stock=dowel))


def test_layers_are_counted() -> None:
    assert "up to layer 4" in said(layers=4)
    assert "Then glue on layer 2." in said(layers=2)
    assert "layer" not in said(layers=1)


def test_a_bridge_of_one_side_has_no_other_side_to_build() -> None:
    assert "other side on the same plan" in said()
    assert "other 2 sides" in said(bridges.brief(600, sides=3))
    assert "other side" not in said(bridges.brief(600, sides=1))
    assert "cross members" not in said(bridges.brief(600, sides=1))
