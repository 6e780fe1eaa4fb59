"""What scale and rig of a season really show, and the official list worked out from that alone.

Nothing here uses the code that ranks: rules and rig are written out once more as plain arithmetic.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from random import Random
from typing import Any

MASS_LIMIT_G, FREE_G, OUT_AT_G = 110.0, 1.0, 160.0

RULES = """\
title: {title}
divisions: [{{name: Lower, classes: [7A, 7B, 8A]}}, {{name: Upper, classes: [10A, 10B, 11A]}}]
entry: [{{measure: mechanisms, at most: 0}}, {{measure: limits broken, at most: 0}}]
weigh in: {{mass: 110 g, checks: [The span is free]}}
over mass: {{free: 1 g, per gram: 2 %, most: 20 %, out at: 160 g}}
ties: [less mass, named earlier]
rig: {{unit: kg, tare: 0.4, gear: 250 g, gravity: 9.81, most: 1500 N, calibrated: {day}, points: [[0.4, 0], [10.4, 9.9], [50.4, 49.5], [150.4, 148.5]]}}
"""  # noqa: E501


SEEN = {
    "tension": "pulled apart",
    "crushing": "crushed",
    "buckling": "buckled sideways",
    "bending": "bent through",
    "joint": "joint came off",
}
UNEXPECTED = ("tipped or twisted", "joint came off", "not seen", "")


@dataclass(frozen=True)
class Truth:
    """One bridge: its number and half of the school, what was predicted, what the instruments show."""

    number: int
    lower: bool
    predicted_N: float
    mass_g: float
    shown_kg: float
    broke: str = ""
    how: str = ""

    @property
    def load_N(self) -> float:
        """0.99 of the reading less its tare, and the gear that hangs below."""
        return (0.99 * (self.shown_kg - 0.4) + 0.25) * 9.81

    @property
    def score(self) -> float:
        """Load over weight, less 2 % for each gram begun beyond the free one, 20 % at the most."""
        over = max(0, -(-round((self.mass_g - MASS_LIMIT_G - FREE_G) * 1000) // 1000))
        return self.load_N / (self.mass_g / 1000 * 9.80665) * (1 - min(0.2, 0.02 * over))


def truth(number: int, lower: bool, predicted: Mapping[str, Any]) -> Truth:
    """A bridge as pupils build them: somewhat heavy, mostly weaker than predicted, now and then badly glued."""
    random = Random(f"bridge {number}")  # noqa: S311 - a game  # nosec B311
    measures, member, mode = predicted["measures"], predicted["member"], predicted["mode"]
    bad = random.random() < 0.1
    part = random.uniform(0.25, 0.45) if bad else min(random.lognormvariate(-0.15, 0.18), 1.9)
    shown = (measures["failure load"] * part / 9.81 - 0.25) / 0.99 + 0.4
    mass = measures["mass"] * random.uniform(0.95, 1.12)
    broke = member.split("-")[0] if bad else (member if random.random() < 0.7 else "")
    seen = "buckled in its plane" if predicted.get("axis") == "in plane" else SEEN.get(mode, "")
    how = "joint came off" if bad else (seen if broke else random.choice(UNEXPECTED))
    return Truth(number, lower, measures["failure load"], round(mass, 1), round(max(shown, 0.6), 2), broke, how)


def with_ties(found: Sequence[Truth], pairs: int) -> tuple[list[Truth], list[tuple[int, int]]]:
    """The same with pairs of one half of the school whose mass and reading are alike."""
    made, tied = list(found), []
    light = [t for t in found if t.mass_g <= MASS_LIMIT_G and t.lower]
    for one, other in list(zip(light[::2], light[1::2], strict=False))[:pairs]:
        place = made.index(other)
        made[place] = replace(other, mass_g=one.mass_g, shown_kg=one.shown_kg)
        tied.append((one.number, other.number))
    return made, tied


def official(found: Sequence[Truth], out: Collection[int]) -> dict[int, int]:
    """Place by number: each half by score as it is printed, then the lighter, then who was named earlier."""
    places: dict[int, int] = {}
    for half in (True, False):
        ranked = [t for t in found if t.lower is half and t.number not in out and t.mass_g < OUT_AT_G]
        ordered = sorted(ranked, key=lambda t: (-round(t.score, 1), t.mass_g, t.number))
        places |= {t.number: place for place, t in enumerate(ordered, 1)}
    return places
