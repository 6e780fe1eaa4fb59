"""Whatever stands in a rubric: it is read, or refused in words, and nothing else happens."""

from __future__ import annotations

import copy
from typing import Any

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from rubric import library
from rubric.problems import Refused
from rubric.rubrics import read_rubric

RULES = """
entry: [{measure: mass, at most: 80 g, if not: zero}]
lateness: {grace: 1 h, per day: 10 %, most: 30 %}
attempts: {most: 5, counts: best, wait: 10 min}
round to: 1
least: 0
most: 10
"""
TREES = [{**yaml.safe_load(RULES), **yaml.safe_load(library.rubric_text(name))} for name in library.rubric_names()]
ODD = [None, "", "-1", "x", [], {}, ["a"], {"a": "b"}, [[1]], 1e12, "nan", "50 %", {"from": 1}, [{}], True, "9" * 30]


def _spots(tree: Any, trail: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    inner = tree.items() if isinstance(tree, dict) else enumerate(tree) if isinstance(tree, list) else ()
    return [trail, *(spot for key, value in inner for spot in _spots(value, (*trail, key)))]


SPOTS = [(place, spot) for place, tree in enumerate(TREES) for spot in _spots(tree) if spot]


@settings(max_examples=400)
@given(st.sampled_from(SPOTS), st.sampled_from(ODD))
def test_any_value_anywhere_is_read_or_refused_in_words(spot: tuple[int, tuple[Any, ...]], odd: Any) -> None:
    tree = copy.deepcopy(TREES[spot[0]])
    here = tree
    for step in spot[1][:-1]:
        here = here[step]
    here[spot[1][-1]] = odd
    try:
        read_rubric(yaml.safe_dump(tree, sort_keys=False).encode())
    except Refused as refused:
        assert all(problem.found and problem.expected and problem.mend for problem in refused.problems)


@pytest.mark.parametrize("value", ["[]", "{}", "[a]", "{a: b}"])
def test_a_list_or_a_block_in_place_of_a_measure_is_refused(value: str) -> None:
    with pytest.raises(Refused, match="the unknown measure"):
        read_rubric(
            f"title: T\ncriteria: [{{name: a, kind: threshold, measure: {value}, at most: 1, points: 5}}]".encode()
        )
