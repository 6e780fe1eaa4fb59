"""Trusses for tests: makers, generators with a seed, and ways of changing one without changing its physics."""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Mapping
from dataclasses import replace

from worker.truss.model import Member, Support, Truss, Vector

AREA_MM2, MODULUS_MPA = 36.0, 3400.0  # a 6 x 6 mm stick of balsa


def member(start: str, end: str, area: float | None = AREA_MM2) -> Member:
    """A member of balsa named after its joints."""
    return Member(f"{start}-{end}", start, end, area_mm2=area, modulus_MPa=MODULUS_MPA)


def two_bar(half_span: float = 300.0, rise: float = 400.0, load: float = 100.0) -> Truss:
    """Two members from pins at a and c up to a loaded joint b."""
    joints = {"a": (0.0, 0.0), "b": (half_span, rise), "c": (2 * half_span, 0.0)}
    supports = {"a": Support.pin(), "c": Support.pin()}
    return Truss(joints, (member("a", "b"), member("b", "c")), supports, {"b": (0.0, -load)})


def warren(panels: int = 6, panel: float = 100.0, depth: float = 80.0, load: float = 10.0) -> Truss:
    """Warren girder with a load on each inner joint of the bottom chord; 4 panels - 1 members."""
    bottom = {f"b{i}": (i * panel, 0.0) for i in range(panels + 1)}
    top = {f"t{i}": ((i + 0.5) * panel, depth) for i in range(panels)}
    chords = [(f"b{i}", f"b{i + 1}") for i in range(panels)] + [(f"t{i}", f"t{i + 1}") for i in range(panels - 1)]
    web = [pair for i in range(panels) for pair in ((f"b{i}", f"t{i}"), (f"t{i}", f"b{i + 1}"))]
    return _girder(bottom | top, chords + web, panels, load)


def pratt(panels: int = 6, panel: float = 100.0, depth: float = 120.0, load: float = 10.0) -> Truss:
    """Pratt girder, loaded as ``warren``; 4 panels - 3 members.  Alike on both sides if ``panels`` is even."""
    bottom = {f"b{i}": (i * panel, 0.0) for i in range(panels + 1)}
    top = {f"t{i}": (i * panel, depth) for i in range(1, panels)}
    chords = [(f"b{i}", f"b{i + 1}") for i in range(panels)] + [(f"t{i}", f"t{i + 1}") for i in range(1, panels - 1)]
    posts = [(f"b{i}", f"t{i}") for i in range(1, panels)] + [("b0", "t1"), (f"b{panels}", f"t{panels - 1}")]
    half = panels // 2
    diagonals = [(f"t{i}", f"b{i + 1}") for i in range(1, half)]
    diagonals += [(f"t{i}", f"b{i - 1}") for i in range(half + 1, panels)]
    return _girder(bottom | top, chords + posts + diagonals, panels, load)


def _girder(joints: Mapping[str, Vector], pairs: list[tuple[str, str]], panels: int, load: float) -> Truss:
    supports = {"b0": Support.pin(), f"b{panels}": Support.roller()}
    loads = {f"b{i}": (0.0, -load) for i in range(1, panels)}
    return Truss(joints, tuple(member(*pair) for pair in pairs), supports, loads)


def triangulated(seed: int, joints: int = 7, slope_deg: float = 0.0, settles: bool = False) -> Truss:
    """A determinate truss grown from one triangle: each new joint stands on a member already there.

    Pin at j0, roller at j1 on a slope; random stiffness, and a random load on every joint.
    """
    rng = random.Random(seed)
    where: dict[str, Vector] = {"j0": (0.0, 0.0), "j1": (rng.uniform(200, 400), rng.uniform(-50, 50))}
    pairs = [("j0", "j1")]
    for index in range(2, joints):
        start, end = rng.choice(pairs)
        where[f"j{index}"] = _apex(where[start], where[end], rng)
        pairs += [(start, f"j{index}"), (end, f"j{index}")]
    supports = {"j0": Support.pin(), "j1": Support.roller(slope_deg, f"roller {slope_deg:g}")}
    truss = Truss(
        where,
        tuple(member(*pair, area=rng.uniform(4, 80)) for pair in pairs),
        supports,
        {name: (rng.uniform(-100, 100), rng.uniform(-100, 100)) for name in where},
    )
    return settled(truss, rng) if settles else truss


def _apex(a: Vector, b: Vector, rng: random.Random) -> Vector:
    """A point beside the line from a to b, so that no corner of the triangle is too sharp."""
    along, aside = rng.uniform(0.2, 0.8), rng.choice((-1, 1)) * rng.uniform(0.5, 1.2)
    dx, dy = b[0] - a[0], b[1] - a[1]
    size = rng.uniform(150, 350) / math.hypot(dx, dy)  # keeps far corners from shrinking or growing away
    return (a[0] + along * dx - aside * size * dy, a[1] + along * dy + aside * size * dx)


def settled(truss: Truss, rng: random.Random) -> Truss:
    """The same truss, each support moved by up to 2 mm along the directions in which it holds."""

    def move(support: Support) -> Vector:
        amounts = [rng.uniform(-2, 2) for _ in support.held]
        return tuple(sum(a * h[k] for a, h in zip(amounts, support.held, strict=True)) for k in range(2))

    return replace(truss, settlements={joint: move(support) for joint, support in truss.supports.items()})


def made_redundant(truss: Truss, seed: int, extra: int = 2, rollers: int = 0) -> Truss:
    """The same truss with more members between joints not yet joined, and more rollers like the first."""
    rng = random.Random(seed)
    joined = {frozenset((m.start, m.end)) for m in truss.members}
    names = list(truss.joints)
    free = [(a, b) for i, a in enumerate(names) for b in names[i + 1 :] if frozenset((a, b)) not in joined]
    added = tuple(member(a, b, area=rng.uniform(4, 80)) for a, b in rng.sample(free, min(extra, len(free))))
    roller = next(support for support in truss.supports.values() if len(support.held) == 1)
    unheld = [name for name in names if name not in truss.supports]
    supports = dict(truss.supports) | dict.fromkeys(rng.sample(unheld, rollers), roller)
    changed = replace(truss, members=truss.members + added, supports=supports)
    return settled(changed, rng) if truss.settlements else changed


def mapped(truss: Truss, turn: Callable[[Vector], Vector]) -> Truss:
    """The same truss with every vector turned or mirrored."""
    supports = {j: Support(s.said, tuple(map(turn, s.held))) for j, s in truss.supports.items()}
    return replace(
        truss,
        joints={name: turn(v) for name, v in truss.joints.items()},
        supports=supports,
        loads={name: turn(v) for name, v in truss.loads.items()},
        settlements={name: turn(v) for name, v in truss.settlements.items()},
    )


def turned(degrees: float) -> Callable[[Vector], Vector]:
    """Rotation of a vector about the origin, anticlockwise."""
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return lambda v: (c * v[0] - s * v[1], s * v[0] + c * v[1])


def mirrored(v: Vector) -> Vector:
    """Reflection in the y axis."""
    return (-v[0], v[1])


def shuffled(truss: Truss, seed: int) -> tuple[Truss, dict[str, str]]:
    """The same truss with joints and members in another order, ends swapped, joints renamed; and old to new."""
    rng = random.Random(seed)
    order = rng.sample(list(truss.joints), len(truss.joints))
    new = {name: f"q{index}" for index, name in enumerate(order)}
    members = [
        replace(m, start=new[m.end], end=new[m.start])
        if rng.random() < 0.5
        else replace(m, start=new[m.start], end=new[m.end])
        for m in rng.sample(truss.members, len(truss.members))
    ]
    changed = replace(
        truss,
        joints={new[name]: truss.joints[name] for name in order},
        members=tuple(members),
        supports={new[name]: s for name, s in truss.supports.items()},
        loads={new[name]: v for name, v in truss.loads.items()},
        settlements={new[name]: v for name, v in truss.settlements.items()},
    )
    return changed, new


def grown_in_space(seed: int, joints: int = 8) -> Truss:
    """A determinate space truss grown from one triangle: each new joint stands on three that are there.

    The first triangle lies level and is held in six directions; random stiffness, a random load on every joint.
    """
    rng = random.Random(seed)
    where: dict[str, Vector] = {
        "j0": (0.0, 0.0, 0.0),
        "j1": (rng.uniform(200, 400), 0.0, 0.0),
        "j2": (rng.uniform(50, 250), rng.uniform(200, 400), 0.0),
    }
    pairs = [("j0", "j1"), ("j1", "j2"), ("j0", "j2")]
    faces = [("j0", "j1", "j2")]
    for index in range(3, joints):
        name, face = f"j{index}", faces.pop(rng.randrange(len(faces)))
        where[name] = _apex_in_space([where[corner] for corner in face], rng)
        pairs += [(corner, name) for corner in face]
        faces += [(face[0], face[1], name), (face[1], face[2], name), (face[0], face[2], name)]
    held = {"j0": "xyz", "j1": "yz", "j2": "z"}
    return Truss(
        where,
        tuple(member(*pair, area=rng.uniform(4, 80)) for pair in pairs),
        {name: Support.in_space(axes, f"holds {' '.join(axes)}") for name, axes in held.items()},
        {name: tuple(rng.uniform(-100, 100) for _ in range(3)) for name in where},
    )


def _apex_in_space(face: list[Vector], rng: random.Random) -> Vector:
    """A point off the middle of a triangle, along its normal: no tetrahedron is too flat."""
    (ax, ay, az), (bx, by, bz), (cx, cy, cz) = face
    u, v = (bx - ax, by - ay, bz - az), (cx - ax, cy - ay, cz - az)
    normal = (u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0])
    height = rng.choice((-1, 1)) * rng.uniform(120, 300) / math.hypot(*normal)
    return tuple(sum(corner[k] for corner in face) / 3 + height * normal[k] for k in range(3))


def misfitting(truss: Truss, seed: int, members: int = 3) -> Truss:
    """The same truss, some members cut up to 2 mm too long or too short."""
    rng = random.Random(seed)
    chosen = rng.sample(truss.members, min(members, len(truss.members)))
    return replace(truss, misfits={m.name: rng.uniform(-2, 2) for m in chosen})
