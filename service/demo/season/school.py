"""Who is in the school of a season, and the three attempts of each pupil: a mix as teachers know it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from random import Random

from service.demo.bridges import FOUR_MISTAKES, Design, arch, as_table, as_yaml, girder, zigzag
from service.demo.school import COORDINATOR, TEACHER

SCHOOL, CONTEST = "Lantern Hill School", "Bridge season at Lantern Hill"
STAFF = (COORDINATOR, TEACHER, "Maud Harrowgate")
"""The coordinator, who at the scale and who at the rig."""

FIRST = (
    "Ada Bilal Chiara Dmitri Edda Farid Grace Hana Ivo Juno Kofi Lena Mateo Nadia Oskar "
    "Priya Quentin Rosa Sami Tilda Umar Vera Wanda Xenia Yann Zora Amos Britt Cosmo Dora"
).split()
LAST = ("Fennimore", "Oakhurst", "Larkspur", "Stonebridge", "Thistlewood", "Applegarth")
CODES = ("7A", "7B", "8A", "10A", "10B", "11A")
LOWER = 3
"""So many of the classes build footbridges; the others build market bridges."""

SENTENCE = "I did not know how to do this, sorry.\n"
FIRST_TRY = "good weak mechanism mistakes limits units sentence half".split()
KINDS = (
    (FIRST_TRY, (40, 15, 15, 8, 7, 5, 5, 5)),
    ("good clever mechanism weak".split(), (70, 10, 10, 10)),
    ("good clever limits".split(), (80, 15, 5)),
)
"""What the first, second and third attempts of pupils are, and how often in a hundred."""


@dataclass(frozen=True)
class Size:
    """How large a season is."""

    classes: int = 6
    pupils: int = 30
    """In each class."""
    attempts: int = 3
    bridges: int = 150


@dataclass(frozen=True)
class Class:
    """A class, its brief, and who sits in it."""

    code: str
    ready: str
    pupils: tuple[str, ...]


def classes(size: Size) -> list[Class]:
    """Half of them footbridges, half of them market bridges."""
    half = -(-size.classes // 2)
    codes = CODES[:half] + CODES[LOWER : LOWER + size.classes - half]
    return [
        Class(
            code,
            "footbridge" if CODES.index(code) < LOWER else "market-bridge",
            tuple(f"{first} {LAST[CODES.index(code)]}" for first in FIRST[: size.pupils]),
        )
        for code in codes
    ]


def attempts(size: Size, one: Class, pupil: str) -> list[tuple[str, bytes]]:
    """File names and files of a pupil, in order; the same ones whenever they are asked for."""
    random = Random(f"{one.code} {pupil}")  # noqa: S311 - a game  # nosec B311
    return [_file(random, one.ready, KINDS[n], n + 1) for n in range(size.attempts)]


def _file(random: Random, ready: str, kinds: tuple[list[str], tuple[int, ...]], number: int) -> tuple[str, bytes]:
    kind = random.choices(kinds[0], kinds[1])[0]
    design = (_foot if ready == "footbridge" else _market)(random, kind, f"Bridge {number}")
    if kind == "good" and random.random() < 0.2:
        return f"bridge{number}.csv", as_table(design).encode()
    text = _SPOILT.get(kind, as_yaml)(design)
    return f"bridge{number}.yaml", text.encode()


_SPOILT: dict[str, Callable[[Design], str]] = {
    "mistakes": lambda _: FOUR_MISTAKES,
    "sentence": lambda _: SENTENCE,
    "half": lambda design: as_yaml(design)[:330],
    "units": lambda design: as_yaml(design).replace("units: mm", "units: cm"),
    "mechanism": lambda design: as_yaml(design.without("t1-b2", "d0-u1")),
}


def _foot(random: Random, kind: str, title: str) -> Design:
    depth = 230.0 if kind == "limits" else float(random.randrange(90, 145, 5))
    light = "square3" if kind == "weak" else "square5"
    top = "square5" if kind == "weak" else "square5 x2"
    if kind == "good" and random.random() < 0.2:
        return zigzag(title, 600, 4, depth, bottom=light, top=top, diagonal="square5 x2")
    panels = random.choice((4, 4, 6))
    shape = arch(depth + 20) if kind == "clever" else depth
    return girder(title, 600, panels, shape, bottom=light, top=top, vertical="square3", diagonal=light)


def _market(random: Random, kind: str, title: str) -> Design:
    depth = 260.0 if kind == "limits" else float(random.randrange(110, 185, 5))
    flat = random.random() < 0.4 or kind == "clever"
    light, top = ("flat6", "flat6 x2") if flat else ("square4", "square4" if kind == "weak" else "square4 x2")
    if kind == "good" and random.random() < 0.2:
        return zigzag(title, 800, 8, depth, bottom="flat6", top="flat6 x2", diagonal="flat6")
    shape = arch(depth) if kind == "clever" else depth
    return girder(title, 800, random.choice((8, 8, 10)), shape, bottom=light, top=top, vertical=light, diagonal=light)
