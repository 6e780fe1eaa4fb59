"""Twelve typical trusses and twelve extreme ones, solved in full, and pictures of all their figures.

``python -m tests.worker.feedback.gallery OUT.html [names]`` writes them on one page, to be looked at.
"""

from __future__ import annotations

import math
import sys
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from functools import cache
from itertools import combinations
from pathlib import Path

from rubric.brief import TRAVELLING, Brief
from rubric.messages.outcomes import Analysis, Figure, NextStep
from rubric.problems import Findings
from tests import bridges, trusses
from tests.worker.feedback import samples
from tests.worker.feedback.kinds import kinds
from worker.advice.steps import steps
from worker.analysis import analysis, solve
from worker.outlook import outlook
from worker.truss.model import Member, Truss
from worker.truss.placing import place

Pairs = Iterable[tuple[str, str]]
Joints = dict[str, tuple[float, ...]]

STICKS = {"square5": (5.0, 5.0), "square3": (3.0, 3.0), "strip8": (8.0, 2.0)}


def brief(target_N: float = 200.0, **rest: object) -> Brief:
    """A footbridge of 600 mm."""
    return bridges.brief(STICKS, target_N, 2, (5.0, 12.0), **{"span": 600, **rest})


@dataclass(frozen=True)
class Case:
    """A truss as solved for its brief, and what is advised."""

    analysis: Analysis
    brief: Brief
    steps: tuple[NextStep, ...] = ()


def solved(truss: Truss, asked: Brief) -> Case:
    """A truss on the supports and under the loads of a brief."""
    findings = Findings()
    done = solve(place(truss, asked, (1, 1), findings), asked)
    assert not findings.problems, findings.problems
    return Case(analysis(done, outlook(done, b"gallery", par_g=1.0)), asked, steps(done))


def built(joints: Joints, pairs: Pairs, stick: str = "square5") -> Truss:
    return Truss(joints, tuple(Member(f"{a}-{b}", a, b, stick) for a, b in pairs))


def of_sticks(truss: Truss, stick: str = "square5") -> Truss:
    members = tuple(replace(m, stick=stick, area_mm2=None, modulus_MPa=None) for m in truss.members)
    return replace(truss, members=members, supports={}, loads={})


def warren(panels: int = 6, depth: float = 80.0, span: float = 600.0) -> Truss:
    return of_sticks(trusses.warren(panels, span / panels, depth))


def pratt(panels: int = 6, depth: float = 120.0) -> Truss:
    return of_sticks(trusses.pratt(panels, 600 / panels, depth))


def king_post() -> Truss:
    joints: Joints = {"a": (0, 0), "b": (300, 0), "c": (600, 0), "d": (300, 150)}
    return built(joints, [("a", "b"), ("b", "c"), ("a", "d"), ("d", "c"), ("b", "d")])


def queen_post() -> Truss:
    joints: Joints = {
        "a": (0, 0),
        "b": (200, 0),
        "m": (300, 0),
        "c": (400, 0),
        "e": (600, 0),
        "p": (200, 130),
        "q": (400, 130),
    }
    pairs = "a-b b-m m-c c-e a-p p-q q-e b-p c-q p-m m-q"
    return built(joints, [tuple(pair.split("-")) for pair in pairs.split()])  # type: ignore[misc]


def fan(rays: int = 9) -> Truss:
    """Every deck joint hangs from one apex."""
    joints: Joints = {f"d{i}": (600 * i / (rays - 1), 0.0) for i in range(rays)} | {"top": (300.0, 190.0)}
    deck = [(f"d{i}", f"d{i + 1}") for i in range(rays - 1)]
    return built(joints, deck + [(f"d{i}", "top") for i in range(rays)])


def bow(panels: int = 6) -> Truss:
    """A top chord that follows the moments, posts, and crossed diagonals: redundant."""
    low: Joints = {f"b{i}": (600 * i / panels, 0.0) for i in range(panels + 1)}
    top: Joints = {f"t{i}": (600 * i / panels, 600 * i / panels * (1 - i / panels) * 0.8) for i in range(1, panels)}
    pairs = [(f"b{i}", f"b{i + 1}") for i in range(panels)] + [(f"t{i}", f"t{i + 1}") for i in range(1, panels - 1)]
    pairs += [("b0", "t1"), (f"b{panels}", f"t{panels - 1}")] + [(f"b{i}", f"t{i}") for i in range(1, panels)]
    for i in range(1, panels - 1):
        pairs += [(f"b{i}", f"t{i + 1}"), (f"t{i}", f"b{i + 1}")]
    return built(low | top, pairs)


def hung(truss: Truss) -> Truss:
    """Upside down: the truss lies below its deck."""
    return replace(truss, joints={name: (x, 0.0 - y) for name, (x, y, *_) in truss.joints.items()})


def without(truss: Truss, *names: str) -> Truss:
    return replace(truss, members=tuple(m for m in truss.members if m.name not in names))


def complete(count: int = 8) -> Truss:
    """A member between any two joints."""
    ring = {f"k{i}": (300 + 200 * math.cos(2.3 * i), 90 + 80 * math.sin(2.3 * i)) for i in range(count - 3)}
    joints: Joints = {"a": (0.0, 0.0), "m": (300.0, 0.0), "z": (600.0, 0.0)} | ring
    return built(joints, combinations(joints, 2))


def critical() -> Truss:
    """Members enough, yet it moves: f lies on the line from d to e."""
    joints: Joints = {"a": (0, 0), "b": (300, 0), "c": (600, 0), "d": (150, 100), "e": (450, 100), "f": (300, 100)}
    pairs = "a-b b-c a-d c-e b-d b-e d-f f-e d-c"
    return built(joints, [tuple(pair.split("-")) for pair in pairs.split()])  # type: ignore[misc]


HOSTILE = {"a": "<img/src=x>", "b": "y" * 60, "c": "'\"&", "d": "مفصل"}

TYPICAL: dict[str, Callable[[], Case]] = {
    "king post": lambda: solved(king_post(), brief()),
    "queen post": lambda: solved(queen_post(), brief()),
    "warren 4": lambda: solved(warren(4, 100), brief()),
    "warren 6": lambda: solved(warren(6, 80), brief()),
    "warren 10": lambda: solved(warren(10, 70), brief(load={"places": "along the deck", "target": 120})),
    "pratt 6": lambda: solved(pratt(6), brief(load={"places": [200, 400], "target": 160})),
    "pratt 8": lambda: solved(pratt(8, 100), brief()),
    "bow": lambda: solved(bow(), brief(load={"places": "along the deck", "target": 200})),
    "below the deck": lambda: solved(hung(warren(4, 90)), brief()),
    "fan": lambda: solved(fan(), brief()),
    "a load that travels": lambda: solved(
        warren(6, 100), brief(load={"places": TRAVELLING, "target": 90}, **{"self weight": "counted"})
    ),
    "a square that leans": lambda: solved(without(pratt(6), "t2-b3", "t4-b3"), brief()),
}

EXTREME: dict[str, Callable[[], Case]] = {
    "flat triangle": lambda: solved(replace(king_post(), joints={**king_post().joints, "d": (300, 5)}), brief(20)),
    "flat": lambda: solved(warren(6, 6), brief(20)),
    "deep": lambda: solved(warren(6, 900), brief()),
    "a span of a metre, a hand deep": lambda: solved(warren(2, 90), brief()),
    "75 joints": lambda: solved(warren(37, 60), brief(load={"places": "along the deck", "target": 30})),
    "150 joints": lambda: solved(warren(74, 60), brief(load={"places": "along the deck", "target": 30})),
    "hostile names": lambda: solved(samples.renamed(king_post(), HOSTILE), brief()),
    "tangled": lambda: Case(samples.analysis_of(trusses.triangulated(5, 18)), brief()),
    "a member between any two joints": lambda: solved(complete(), brief()),
    "far too weak": lambda: solved(warren(4, 60), brief(9000, joints="rigid")),
    "many squares": lambda: solved(without(pratt(10), *(f"t{i}-b{i + 1}" for i in range(1, 5))), brief()),
    "the count is right, yet it moves": lambda: solved(critical(), brief()),
}


@cache
def case(name: str) -> Case:
    return (TYPICAL | EXTREME)[name]()


def page(figures: Iterable[tuple[str, Figure]]) -> str:
    """All figures one after another, each as wide as it prints at two screen dots a unit."""
    shown = "".join(f"<h3>{what}</h3><div style='width:{wide(one)}px'>{one.svg}</div>" for what, one in figures)
    return f"<meta charset=utf-8><style>body{{font:12px sans-serif;margin:8px}}h3{{margin:6px 0}}</style>{shown}"


def wide(figure: Figure) -> float:
    return float(figure.svg.split('viewBox="0 0 ')[1].split()[0])


@cache
def all_figures(name: str) -> tuple[tuple[str, Figure], ...]:
    """Every figure that there is for one case."""
    found = case(name)
    drawn = ((what, draw()) for what, draw in kinds(found.analysis, found.brief, found.steps).items())
    return tuple((f"{name}: {what}", figure) for what, figure in drawn if figure is not None)


if __name__ == "__main__":
    names = sys.argv[2:] or list(TYPICAL | EXTREME)
    Path(sys.argv[1]).write_text(page(one for name in names for one in all_figures(name)), "utf-8")
