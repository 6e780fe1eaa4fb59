"""Bridges as students would draw them, and disguises as a copier would put on.

Originals are of three kinds.  A *common solution* is a usual pattern with equal panels and level or
evenly bowed chords; its one free number is the depth.  Many students make the same.  A *work of its
own* has at least six numbers that its student chose freely, on the lines of graph paper.  Between them lie
*slight* works with three to five such numbers.
"""

from __future__ import annotations

import math
import random
from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from rubric.messages.likeness import Fingerprint, Pair, Work
from worker.likeness import fingerprint
from worker.truss.model import Member, Support, Truss

SPANS = (500.0, 600.0, 600.0, 600.0, 800.0)
STICKS = ("square3", "square5", "square5 x2", "flat6")

Place = tuple[float, float]
Bars = list[tuple[str, str]]


def graph_paper(rng: random.Random, low: float, high: float) -> float:
    """A number as students write it: mostly tens of millimetres, some fives, few single ones."""
    step = rng.choices((10, 5, 1), (0.65, 0.25, 0.1))[0]
    return float(min(max(round(rng.uniform(low, high) / step) * step, low), high))


COMMON, SLIGHT, OWN = "common", "slight", "own"
KINDS = (COMMON, SLIGHT, OWN)


def original(rng: random.Random, kind: str) -> Truss:
    """One student's own drawing."""
    if kind == COMMON:
        return common_solution(rng)
    if kind == SLIGHT:
        return rng.choice((lambda: bent(rng, (2, 3)), lambda: lopsided(rng, (2,))))()
    return rng.choice((lambda: bent(rng), lambda: lopsided(rng), lambda: bellied(rng), lambda: fans(rng)))()


def common_solution(rng: random.Random) -> Truss:
    """A Warren, Pratt or Howe truss, level or bowed, with equal panels."""
    span, panels = rng.choice(SPANS), rng.choice((4, 4, 6, 6, 8, 10))
    depth = graph_paper(rng, 80, 180)
    if rng.random() < 0.35:
        return warren(span, panels, depth, posts=rng.random() < 0.4)
    bowed = rng.random() < 0.25
    tops = [round(depth * (math.sin(math.pi * i / panels) if bowed else 1)) for i in range(1, panels)]
    return posts(span, [span * i / panels for i in range(1, panels)], tops, rng.choice("NV") * (panels // 2 - 1))


def warren(span: float, panels: int, depth: float, posts: bool) -> Truss:
    """Triangles alone, or with posts."""
    joints: dict[str, Place] = {f"d{i}": (span * i / panels, 0.0) for i in range(panels + 1)}
    joints |= {f"u{i}": (span * (i - 0.5) / panels, depth) for i in range(1, panels + 1)}
    bars = [(f"d{i}", f"d{i + 1}") for i in range(panels)] + [(f"u{i}", f"u{i + 1}") for i in range(1, panels)]
    bars += [pair for i in range(1, panels + 1) for pair in ((f"d{i - 1}", f"u{i}"), (f"u{i}", f"d{i}"))]
    if posts:
        for i in range(1, panels):
            joints[f"p{i}"] = (span * i / panels, depth)
            bars.remove((f"u{i}", f"u{i + 1}"))
            bars += [(f"u{i}", f"p{i}"), (f"p{i}", f"u{i + 1}"), (f"d{i}", f"p{i}")]
    return truss(joints, bars)


def posts(
    span: float, xs: list[float], tops: list[float], web: str, other: str = "", lows: Sequence[float] = ()
) -> Truss:
    """A deck with a post over each inner joint; ``web`` says for each inner panel of the left half how its
    diagonal falls (N inwards, V outwards, X both), ``other`` the same for the right half from its end."""
    n = len(xs) + 1
    joints: dict[str, Place] = {"d0": (0.0, 0.0), f"d{n}": (span, 0.0)}
    joints |= {f"d{i}": (x, 0.0) for i, x in enumerate(xs, 1)} | {
        f"t{i}": (xs[i - 1], tops[i - 1]) for i in range(1, n)
    }
    bars = [(f"d{i}", f"d{i + 1}") for i in range(n)] + [(f"t{i}", f"t{i + 1}") for i in range(1, n - 1)]
    bars += [("d0", "t1"), (f"t{n - 1}", f"d{n}")] + [(f"d{i}", f"t{i}") for i in range(1, n)]
    for i in range(1, n - 1):
        left = i < n / 2
        way = (web * n)[i - 1] if left else ((other or web) * n)[n - 2 - i]
        falls, rises = (f"t{i}", f"d{i + 1}"), (f"d{i}", f"t{i + 1}")
        inward, outward = (falls, rises) if left else (rises, falls)
        bars += {"N": [inward], "V": [outward], "X": [inward, outward]}[way]
    for i, low in enumerate(lows, 1):
        if low:
            joints[f"l{i}"] = (xs[i - 1], -low)
            bars.append((f"d{i}", f"l{i}"))
    hung = ["d0", *(f"l{i}" for i, low in enumerate(lows, 1) if low), f"d{n}"]
    return truss(joints, bars + (list(pairwise(hung)) if len(hung) > 2 else []))


def bent(rng: random.Random, halves: tuple[int, ...] = (4, 4, 5)) -> Truss:
    """Symmetric: every panel and every height of the half is the student's own."""
    span, half = rng.choice(SPANS), rng.choice(halves)
    xs = own_places(rng, span / 2, half)
    tops = [graph_paper(rng, 50, 180) for _ in range(half)]
    mirror = [*xs, span / 2, *(span - x for x in reversed(xs))]
    return posts(span, mirror, [*tops, *reversed(tops[:-1])], "".join(rng.choices("NVX", (5, 3, 1), k=half - 1)))


def lopsided(rng: random.Random, halves: tuple[int, ...] = (3, 3, 4)) -> Truss:
    """Not symmetric: heights and panels of its own on either side."""
    span, half = rng.choice(SPANS), rng.choice(halves)
    left, right = own_places(rng, span / 2, half), own_places(rng, span / 2, half)
    xs = [*left, span / 2, *(span - x for x in reversed(right))]
    tops = [graph_paper(rng, 50, 180) for _ in xs]
    webs = ["".join(rng.choices("NVX", (5, 3, 1), k=max(half - 1, 1))) for _ in "lr"]
    return posts(span, xs, tops, *webs)


def bellied(rng: random.Random) -> Truss:
    """A bow above and a belly below the deck."""
    span, half = rng.choice(SPANS), 3
    xs = own_places(rng, span / 2, half)
    tops, lows = ([graph_paper(rng, low, high) for _ in range(half)] for low, high in ((40, 160), (20, 90)))
    mirror = [*xs, span / 2, *(span - x for x in reversed(xs))]
    return posts(span, mirror, [*tops, *tops[-2::-1]], rng.choice("NV") * 2, lows=[*lows, *lows[-2::-1]])


def fans(rng: random.Random) -> Truss:
    """Two or three masts, and every deck joint hung from the nearest."""
    span = rng.choice(SPANS)
    inner = own_places(rng, span, rng.choice((6, 7)))
    inner[2] = span / 2 if inner[1] + 35 <= span / 2 <= inner[3] - 35 else inner[2]
    masts = [(x, graph_paper(rng, 70, 180)) for x in own_places(rng, span, rng.choice((3, 4)))]
    joints: dict[str, Place] = {f"d{i}": (x, 0.0) for i, x in enumerate([0.0, *inner, span])}
    joints |= {f"m{i}": place for i, place in enumerate(masts)}
    n = len(inner) + 1
    bars = [(f"d{i}", f"d{i + 1}") for i in range(n)] + [(f"m{i}", f"m{i + 1}") for i in range(len(masts) - 1)]
    for i in range(n + 1):
        near = sorted(range(len(masts)), key=lambda m: abs(masts[m][0] - joints[f"d{i}"][0]))
        bars += [(f"d{i}", f"m{m}") for m in near[: rng.choice((1, 1, 2))]]
    bars += [("d0", "m0"), (f"d{n}", f"m{len(masts) - 1}")]
    return truss(joints, list(dict.fromkeys(bars)))


def own_places(rng: random.Random, half: float, parts: int) -> list[float]:
    """Places of inner joints of half a deck: panels of unequal width, at least 35 mm each."""
    while True:
        xs = sorted(graph_paper(rng, 40, half - 35) for _ in range(parts - 1))
        if all(b - a >= 35 for a, b in zip([0.0, *xs], [*xs, half], strict=True)):
            return xs


def truss(joints: dict[str, Place], bars: Bars) -> Truss:
    """Bars as members, held at the ends of the deck."""
    ends = sorted((name for name, (_, y) in joints.items() if y == 0), key=lambda name: joints[name][0])
    members = tuple(Member(f"{p}-{q}", p, q, "square5") for p, q in bars)
    return Truss(joints, members, {ends[0]: Support.pin(), ends[-1]: Support.roller()})


# Disguises: each takes a truss and gives it back so that it looks like another.


def renamed(t: Truss, rng: random.Random) -> Truss:
    names = [f"j{n}" for n in range(len(t.joints))]
    rng.shuffle(names)
    new = dict(zip(t.joints, names, strict=True))
    members = [replace(m, name=f"{new[m.start]}-{new[m.end]}", start=new[m.start], end=new[m.end]) for m in t.members]
    supports = {new[j]: s for j, s in t.supports.items()}
    return replace(t, joints={new[j]: p for j, p in t.joints.items()}, members=tuple(members), supports=supports)


def shuffled(t: Truss, rng: random.Random) -> Truss:
    joints, members = list(t.joints.items()), list(t.members)
    rng.shuffle(joints)
    rng.shuffle(members)
    turned = (replace(m, start=m.end, end=m.start) if rng.random() < 0.5 else m for m in members)
    return replace(t, joints=dict(joints), members=tuple(turned))


def mirrored(t: Truss, rng: random.Random) -> Truss:
    reach = max(x for x, _ in t.joints.values())
    return renamed(replace(t, joints={j: (reach - x, y) for j, (x, y) in t.joints.items()}), rng)


def shifted_and_scaled(t: Truss, rng: random.Random) -> Truss:
    size, dx, dy = rng.uniform(0.5, 2), rng.uniform(-200, 200), rng.uniform(-200, 200)
    return replace(t, joints={j: (dx + size * x, dy + size * y) for j, (x, y) in t.joints.items()})


def nudged(t: Truss, rng: random.Random, part: float = 0.04) -> Truss:
    """Every joint but the supports up to ``part`` of a panel, up or down and to either side."""
    deck = sorted(x for x, y in t.joints.values() if y == 0)
    panel = (deck[-1] - deck[0]) / (len(deck) - 1)
    moved = {
        j: p if j in t.supports else tuple(round(c + rng.uniform(-part, part) * panel, 1) for c in p)
        for j, p in t.joints.items()
    }
    return replace(t, joints=moved)


def other_sticks(t: Truss, rng: random.Random) -> Truss:
    members = tuple(replace(m, stick=rng.choice(STICKS), count=rng.choice((1, 2))) for m in t.members)
    return replace(t, members=members)


def split(t: Truss, rng: random.Random) -> Truss:
    """A joint in the middle of a member, held by a bar to another joint."""
    m = rng.choice(t.members)
    (x1, y1), (x2, y2) = t.joints[m.start], t.joints[m.end]
    joints = dict(t.joints) | {"new": ((x1 + x2) / 2, (y1 + y2) / 2)}
    halves = [replace(m, name=f"{m.start}-new", end="new"), replace(m, name=f"new-{m.end}", start="new")]
    far = [j for j in t.joints if j not in (m.start, m.end)]
    near = min(far, key=lambda j: math.dist(joints[j], joints["new"]))
    halves += [Member(f"new-{near}", "new", near, m.stick)] if rng.random() < 0.6 else []
    return replace(t, joints=joints, members=(*(k for k in t.members if k != m), *halves))


def one_more(t: Truss, rng: random.Random) -> Truss:
    there = {frozenset((m.start, m.end)) for m in t.members}
    free = [(p, q) for p in t.joints for q in t.joints if p < q and frozenset((p, q)) not in there]
    near = sorted(free, key=lambda pair: math.dist(t.joints[pair[0]], t.joints[pair[1]]))[:6]
    p, q = rng.choice(near)
    return replace(t, members=(*t.members, Member(f"{p}-{q}", p, q, "square5")))


def one_less(t: Truss, rng: random.Random) -> Truss:
    gone = rng.choice(t.members)
    return replace(t, members=tuple(m for m in t.members if m != gone))


Disguise = Callable[[Truss, random.Random], Truss]


def both(*parts: Disguise) -> Disguise:
    def together(t: Truss, rng: random.Random) -> Truss:
        for part in parts:
            t = part(t, rng)
        return t

    return together


DISGUISES: dict[str, Disguise] = {
    "joints renamed, members reordered and turned": both(renamed, shuffled),
    "mirrored": mirrored,
    "shifted and scaled": shifted_and_scaled,
    "every joint nudged": nudged,
    "other sticks, renamed": both(other_sticks, renamed),
    "a member split": split,
    "a member more": one_more,
    "a member less": one_less,
    "mirrored, nudged, renamed, other sticks": both(mirrored, nudged, other_sticks, shuffled),
    "a member split, nudged, scaled": both(split, nudged, shifted_and_scaled, renamed),
}


ORIGINALS = 0
"""The group of all works without disguise."""


@dataclass(frozen=True)
class Corpus:
    """Works of as many students; ``family`` is the original of each, ``disguise`` what it wears ('': nothing)."""

    works: tuple[Work, ...]
    family: tuple[int, ...]
    disguise: tuple[str, ...]
    kind: tuple[str, ...]


def corpus(seed: int, own: int, common: int, slight: int = 0) -> Corpus:
    """Originals of all kinds in one group, and ten disguises of each in classes of about thirty."""
    rng = random.Random(seed)
    rows: list[tuple[Fingerprint, int, str, str]] = []
    kinds = [OWN] * own + [COMMON] * common + [SLIGHT] * slight
    for family, kind in enumerate(kinds):
        drawn = original(rng, kind)
        for name, disguise in {"": renamed, **DISGUISES}.items():
            mark = fingerprint(disguise(drawn, rng))
            assert mark is not None
            rows.append((mark, family, name, kind))
    rng.shuffle(rows)
    works = tuple(
        Work(submission=n, student=n, group=1 + n // 30 if name else ORIGINALS, fingerprint=mark)
        for n, (mark, _, name, _) in enumerate(rows)
    )
    return Corpus(works, *(tuple(row[i] for row in rows) for i in (1, 2, 3)))  # type: ignore[arg-type]


@dataclass(frozen=True)
class Figures:
    """How well copies are told from work of one's own.

    A pair of different originals that is reported is wrong, whatever its kind.  Copies of common solutions cannot be
    told from independent ones: to report one is neither right nor wrong.
    """

    copies: int
    recall: float
    precision: float
    slight_recall: float
    wrong: int
    missed: dict[str, int]

    def __str__(self) -> str:
        return (
            f"{self.copies} copies: recall {self.recall:.4f}, precision {self.precision:.4f} ({self.wrong} wrong); "
            f"copies of slight works: recall {self.slight_recall:.3f}; missed: {self.missed}"
        )


def figures(given: Corpus, pairs: Iterable[Pair]) -> Figures:
    """Recall over each original with its ten disguises, and precision over all that was reported."""
    reported = {frozenset((pair.one, pair.other)) for pair in pairs}
    original_of = {given.family[n]: n for n, name in enumerate(given.disguise) if not name}
    copies: dict[str, list[tuple[int, bool]]] = {OWN: [], SLIGHT: [], COMMON: []}
    for n, name in enumerate(given.disguise):
        if name:
            copies[given.kind[n]].append((n, frozenset((n, original_of[given.family[n]])) in reported))
    right = sum(found for _, found in copies[OWN])
    wrong = sum(len({given.family[n] for n in pair}) == 2 for pair in reported)
    return Figures(
        copies=len(copies[OWN]),
        recall=right / len(copies[OWN]),
        precision=right / (right + wrong),
        slight_recall=sum(found for _, found in copies[SLIGHT]) / max(len(copies[SLIGHT]), 1),
        wrong=wrong,
        missed=dict(Counter(given.disguise[n] for n, found in copies[OWN] if not found)),
    )
