"""The rules of a contest: what they read, what they refuse, and how they say it."""

from __future__ import annotations

import textwrap
from importlib.resources import files

import pytest

from rubric import library
from rubric.contest.rules import ContestRules, OverMass, read_rules
from rubric.problems import Refused
from tests.rubric.contest.made import RIG, rules

MISTAKEN = [
    ("divisions: []\n", "found 0 divisions; expected 1 to 20. To mend it: add or take out divisions."),
    ("divisions: [{name: A}, {name: a}]\n", "found two divisions called 'a'; expected different names. To mend it: rename one of them."),
    ("divisions: [{name: A, ages: 13 to 11}]\n", "found '13 to 11'; expected the first and the last age, from 5 to 25. To mend it: write for example '11 to 13'."),
    ("divisions: [{name: A, ages: 11 to 13, classes: [8A]}]\n", "found both 'ages' and 'classes'; expected one of the two, or neither. To mend it: take one of them out."),
    ("dates: {day: 2027-03-24, freeze: 2027-03-25}\n", "found 'day' before 'freeze'; expected opens, freeze, day and publish in this order. To mend it: change one of the two."),
    ("ties: [less mas]\n", "found '['less mas']'; expected a list of 'less mass', 'more load', 'nearest prediction' and 'named earlier', each once. To mend it: write for example '[less mass, more load]'."),
    ("rank by: load\nties: [more load]\n", "found a tie-break that is what the list is ranked by, 'load'; expected something else. To mend it: take it out of 'ties'."),
    ("over mass: {per gram: 2 %}\n", "found 'over mass' without a mass; expected the mass of the weigh-in. To mend it: add for example 'weigh in: {mass: 60 g}'."),
    ("entry: [{measure: mechanism, at most: 0}]\n", "found the unknown measure 'mechanism'; expected a measure of the catalogue. To mend it: did you mean 'mechanisms'?"),
    ("entries: 9\n", "found 9 entries for each pupil; expected 1 to 5. To mend it: lower 'entries'."),
    ("retests: {most: 1}\n", "found the unknown key 'retests'; expected a key of this block. To mend it: did you mean 'retest'?"),
]  # fmt: skip


@pytest.mark.parametrize(("lines", "said"), MISTAKEN)
def test_a_mistake_in_the_rules_is_told_with_its_place(lines: str, said: str) -> None:
    with pytest.raises(Refused) as refused:
        rules(lines)
    (problem,) = refused.value.problems
    assert str(problem).split(": ", 1)[1] == said
    assert problem.line >= 3


RIGS = [
    ("{unit: kg}", "found no 'most'; expected the load at which every test stops"),
    ("{most: 9 N, points: [[0, 0], [1, 1]], calibrated: 2027-01-01}", "expected 3 to 40 pairs of a reading"),
    ("{most: 9 N, points: [[0, 0], [1, 1], [2, 2]]}", "found calibration points without a date"),
    ("{most: 9 N, points: [[0, 2], [1, 1], [2, 0]], calibrated: 2027-01-01}", "true value falls while the reading"),
    ("{most: 9 N, points: [[1, 2], [1, 1], [1, 0]], calibrated: 2027-01-01}", "found readings that are all but"),
    ("{most: 9 N, gravity: 98}", "found '98'; expected m/s2, from 9.7 to 9.9"),
]


@pytest.mark.parametrize(("rig", "said"), RIGS)
def test_a_rig_that_cannot_be_used_is_refused_in_words(rig: str, said: str) -> None:
    with pytest.raises(Refused) as refused:
        read_rules(f"title: T\nrig: {rig}\n".encode())
    assert said in str(refused.value)


def test_the_ready_rules_survive_being_kept_as_json() -> None:
    for name in library.contest_names():
        read = read_rules(library.contest_text(name))
        assert ContestRules.model_validate(read.model_dump(mode="json")) == read


def example() -> bytes:
    """The rules of the page that a coordinator reads."""
    page = (files("rubric.contest") / "rules.py").read_text()
    return textwrap.dedent(page.split(".. code-block:: yaml\n")[1].split("\n\nA pupil")[0]).encode()


def test_the_example_of_the_page_is_rules_that_can_be_read() -> None:
    assert read_rules(example()).over_mass == OverMass.model_validate(
        {"free": 1, "per gram": 0.02, "most": 0.2, "out at": 80}
    )


def test_the_first_division_that_takes_a_pupil_is_theirs_and_a_free_one_is_chosen() -> None:
    found = rules(
        "divisions: [{name: Young, ages: 10 to 13}, {name: Nine, classes: [9a]}, {name: Open}, {name: Duo}]\n"
    )
    assert found.divisions_for("9A", 12) == ("Young",)
    assert found.divisions_for("9A", 14) == ("Nine",)
    assert found.divisions_for("8B", None) == ("Open", "Duo")
    assert found.asks_age


@pytest.mark.parametrize(("over_g", "lost"), [(-3, 0), (1, 0), (1.1, 0.02), (2, 0.02), (2.2, 0.04), (99, 0.2)])
def test_each_gram_begun_over_the_mass_costs_its_part(over_g: float, lost: float) -> None:
    rule = OverMass.model_validate({"free": "1 g", "per gram": "2 %", "most": "20 %"})
    assert rule.cost(over_g) == pytest.approx(lost)


def test_the_rules_are_said_in_sentences_that_end() -> None:
    said = read_rules(library.contest_text("school-day")).said
    assert said[0] == "The list is ranked by measured efficiency, the load carried over the weight."
    assert "Each gram over it beyond the first 1 g costs 2 % of the result, 20 % at most." in said
    assert "Between equals this decides: less mass, then the nearer prediction." in said
    assert all(sentence.endswith(".") for sentence in said)


def test_rules_without_over_mass_rank_no_bridge_over_the_mass() -> None:
    said = read_rules(f"title: T\n{RIG}weigh in: {{mass: 60 g}}\n".encode()).said
    assert "A bridge may have 60 g. One that has more is tested, and not ranked." in said
