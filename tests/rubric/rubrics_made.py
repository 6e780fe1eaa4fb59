"""Rubrics and evidence of every kind, drawn at random for properties."""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

from rubric.evidence import Answer, Evidence, Place, Verdict
from rubric.measures import CATALOGUE, COUNTED
from rubric.rubrics import Rubric

PLAIN = [name for name, measure in CATALOGUE.items() if measure.unit != "%"]
CENTS = st.integers(1, 4000).map(lambda n: n / 100)
VERDICTS: tuple[Verdict, ...] = ("right", "follows", "rounded", "unit", "sense", "wrong", "left out")
SAYS = st.sampled_from(
    [{}, {"earned": "Well done, {name}."}, {"some": "{seen}; {asked}. {how}", "not earned": "{missing} to go."}]
)


def _criterion(kind: str, points: float, draw: st.DrawFn) -> dict[str, Any]:
    measure = draw(st.sampled_from(PLAIN))
    edges = sorted(draw(st.lists(st.integers(1, 900), min_size=2, max_size=4, unique=True)))
    worths = [round(points * part, 2) for part in draw(st.permutations((0, 0.25, 0.5, 1)))]
    earns = dict(zip(edges, [*worths[: len(edges) - 1], points], strict=True))
    keys: dict[str, dict[str, Any]] = {
        "threshold": {"measure": measure, draw(st.sampled_from(["at least", "at most"])): edges[0]},
        "scale": {"measure": measure, "earns": earns},
        "steps": {"measure": measure, "bands": [{"from": value, "words": "so", "points": worth}
                  for value, worth in zip([0, *edges], [worths[0], *earns.values()], strict=True)]},
        "share of par": {"full at": 0.6, "none at": 0.1},
        "count": {"of": draw(st.sampled_from(COUNTED)), draw(st.sampled_from(["at most", "exactly"])): edges[0] % 20,
                  "each takes": round(points / 2, 2) or points},
        "place": {"earns": {1: points, 2: round(points / 2, 2), 9: 0}},
        "working": {"asks": ["forces"]},
        "judgement": {"look for": "care"},
    }  # fmt: skip
    return {"kind": kind, "points": points, **keys[kind]}


KINDS = ["threshold", "scale", "steps", "share of par", "count", "place", "working", "judgement"]


@st.composite
def rubrics(draw: st.DrawFn) -> Rubric:
    """A rubric of one to six criteria, with rules."""
    criteria = []
    for number in range(draw(st.integers(1, 6))):
        kind = draw(st.sampled_from(KINDS))
        one = {"name": f"n{number}", **_criterion(kind, draw(CENTS), draw)}
        extra = draw(st.sampled_from(["plain", "plain", "bonus", "deduct"])) if number else "plain"
        if extra == "bonus" or (extra == "deduct" and kind != "judgement"):
            one[extra] = "yes"
        criteria.append(one if kind == "judgement" else {**one, "say": draw(SAYS)})
    rules: dict[str, Any] = {
        "entry": [{"measure": "mechanisms", "at most": 0, "if not": draw(st.sampled_from(["zero", "cap at 3 points", "off the board"]))}],
        "lateness": draw(st.sampled_from([{"per day": "10 %", "most": "35 %", "grace": "10 min"}, {"per hour": "0.5 points", "most": "4 points"}])),
        "round to": draw(st.sampled_from([0.1, 0.25, 0.5, 1])),
    }  # fmt: skip
    kept = {key: value for key, value in rules.items() if draw(st.booleans())}
    return Rubric.model_validate({"title": "T", "release": "by hand", "criteria": criteria, **kept})


@st.composite
def evidences(draw: st.DrawFn) -> Evidence:
    """Evidence of work of any quality: files with mistakes, mechanisms, what no truss could have."""
    if draw(st.integers(0, 9)) == 0:
        return Evidence()
    value = st.none() | st.floats(0, 1000) | st.integers(0, 30).map(float)
    measures = {name: draw(value) for name in CATALOGUE} | {"mechanisms": draw(st.sampled_from([0.0, 0.0, 1.0]))}
    answers = tuple(
        Answer(about="force", name=f"a-{i}", given="", given_N=None, true_N=1, verdict=verdict, said="Look again.")
        for i, verdict in enumerate(draw(st.lists(st.sampled_from(VERDICTS), max_size=9)))
    )
    some = draw(st.sets(st.sampled_from([f"n{number}" for number in range(6)])))
    place = Place(place=draw(st.integers(1, 12)), of=12)
    late = draw(st.sampled_from([0.0, 5.0]) | st.floats(0, 20_000))
    return Evidence(
        measures=measures, working=dict.fromkeys(some, answers), places=dict.fromkeys(some, place), minutes_late=late
    )
