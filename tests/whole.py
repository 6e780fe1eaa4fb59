"""Generated trusses for the stability of the whole and for rigid joints, compared with two libraries.

``kingpost``'s answers against PyNite and OpenSees: buckling factors from the stiffness matrices that each
assembles, solved by scipy; frames solved by each.  Disagreements are relative to the largest of their kind.
"""

from __future__ import annotations

import itertools
import math
import random
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

import numpy as np
import scipy.linalg

from tests import opensees, pynite
from tests.stability_trusses import SPACE_PIN, arched, pyramid, renamed
from tests.trusses import made_redundant, mapped, member, pratt, triangulated, turned, two_bar, warren
from worker.frame import frame
from worker.stability import buckling, limit_load
from worker.statics import solve
from worker.truss.model import Support, Truss, Vector

SLOPES_DEG = (0.0, 30.0, -20.0, 12.5)


@dataclass(frozen=True)
class Case:
    """A generated truss, what kind it is, and the slope of its rollers where they have one."""

    kind: str
    truss: Truss
    slope_deg: float = 0.0


def cases() -> Iterator[Case]:
    """280 trusses: plane and space, determinate and redundant, near-critical, long thin, up to 150 joints."""
    for seed in range(70):
        slope = SLOPES_DEG[seed % 4]
        plane = triangulated(seed, 3 + seed % 10, slope, settles=seed % 3 == 0)
        yield Case("plane, determinate", plane, slope)
        yield Case(
            "plane, redundant",
            made_redundant(plane, seed, 1 + seed % 3, seed // 2 % 2 * (len(plane.joints) > 4)),
            slope,
        )
    for seed in range(40):
        yield Case("space, determinate", space(seed, 4 + seed % 9))
        yield Case("space, redundant", space(seed, 5 + seed % 8, extra=1 + seed % 3))
    for seed in range(40):
        yield Case("near-critical", flattened(seed))
    for seed in range(15):
        yield Case("long and thin", (pratt, warren)[seed % 2](8 + 2 * seed, 100.0, 30.0 + seed))
    yield Case("150 joints", triangulated(7, 150))
    yield Case("150 joints", made_redundant(triangulated(8, 150), 8, 20))
    yield Case("150 joints", warren(74))
    yield Case("150 joints", space(9, 100))
    yield Case("150 joints", space(10, 150, extra=10))


def space(seed: int, joints: int, extra: int = 0) -> Truss:
    """A space truss on three pinned joints: each new joint stands on three that are there already."""
    rng = random.Random(seed)
    where: dict[str, Vector] = {"j0": (0.0, 0.0, 0.0), "j1": (300.0, 20.0, -10.0), "j2": (120.0, 260.0, 15.0)}
    faces, pairs = [("j0", "j1", "j2")], []
    for index in range(3, joints):
        new, face = f"j{index}", rng.choice(faces)
        where[new] = _above([where[name] for name in face], rng)
        pairs += [(name, new) for name in face]
        faces += [(*two, new) for two in itertools.combinations(face, 2)]
    free = [p for p in itertools.combinations(where, 2) if p not in pairs and not {*p} <= {"j0", "j1", "j2"}]
    pairs += rng.sample(free, min(extra, len(free)))
    members = tuple(member(*pair, area=rng.uniform(4, 80)) for pair in pairs)
    loads = {name: tuple(rng.uniform(-100, 100) for _ in range(3)) for name in where}
    return Truss(where, members, dict.fromkeys(("j0", "j1", "j2"), SPACE_PIN), loads)


def _above(corners: list[Vector], rng: random.Random) -> Vector:
    """A point over a face, on either side of it, so that it is held well."""
    a, b, c = (np.array(corner) for corner in corners)
    normal = np.cross(b - a, c - a)
    height = rng.choice((-1, 1)) * rng.uniform(150, 350)
    foot = (a + b + c) / 3 + np.array([rng.uniform(-50, 50) for _ in range(3)])
    return tuple((foot + height * normal / np.linalg.norm(normal)).tolist())


def flattened(seed: int) -> Truss:
    """A two-bar truss or a girder's end tower, so flat at one joint that it is nearly a mechanism."""
    rng = random.Random(seed)
    rise = 100.0 * 10 ** rng.uniform(-2.5, -0.5)
    low = two_bar(100.0, rise, rng.uniform(1, 50))
    if seed % 2:
        return low
    where = dict(low.joints) | {"d": (100.0 + rng.uniform(-40, 40), -rng.uniform(60, 120))}
    members = (*low.members, member("a", "d"), member("d", "c"))
    supports = {"a": Support.pin(), "c": Support.roller()}
    ties = replace(low, joints=where, members=(*members, member("a", "c", area=rng.uniform(20, 80))), supports=supports)
    return replace(ties, loads=low.loads | {"d": (rng.uniform(-5, 5), -rng.uniform(1, 20))})


def level(case: Case) -> Truss:
    """The truss turned until its rollers lie along x, as both libraries want them."""
    return mapped(case.truss, turned(-case.slope_deg)) if case.slope_deg else case.truss


Tangents = Callable[[Truss, Mapping[str, float]], tuple[np.ndarray, np.ndarray]]


def factor_from(tangents: Tangents, truss: Truss, forces: Mapping[str, float]) -> float | None:
    """Buckling factor from a library's matrices: supports held by a null space, the eigenproblem by scipy."""
    K, G = tangents(truss, forces)
    names, d = list(truss.joints), len(next(iter(truss.joints.values())))
    held = [(joint, h) for joint, support in truss.supports.items() for h in support.held]
    H = np.zeros((len(held), len(K)))
    for row, (joint, direction) in enumerate(held):
        H[row, d * names.index(joint) : d * names.index(joint) + d] = direction
    Z = scipy.linalg.null_space(H)
    rates = scipy.linalg.eigh(-Z.T @ G @ Z, Z.T @ K @ Z, eigvals_only=True)
    return 1 / float(rates[-1]) if rates[-1] > 1e-10 * abs(rates).max() else None


def off(found: float | None, wanted: float | None) -> float:
    """Relative disagreement; infinite where only one of the two buckles."""
    if found is None or wanted is None:
        return 0.0 if found is wanted else math.inf
    return abs(found - wanted) / abs(wanted)


def buckling_off(case: Case) -> dict[str, float]:
    """Disagreement of the buckling factor with each library's."""
    forces = solve(case.truss).forces
    found = buckling(case.truss, forces).factor
    libraries = {"OpenSees": opensees.tangents, "PyNite": pynite.tangents}
    return {name: off(found, factor_from(each, case.truss, forces)) for name, each in libraries.items()}


def shallow_cases() -> Iterator[Case]:
    """60 uneven trusses that snap through at joint ``top``: pyramids, two-bar trusses, shallow arched girders."""
    for seed in range(60):
        rng = random.Random(seed)
        if seed % 3 == 0:
            yield Case("shallow pyramid", uneven(pyramid(3 + seed % 4, rng.uniform(3, 20), 100.0), rng))
        elif seed % 3 == 1:
            low = two_bar(100.0, rng.uniform(5, 35), 100.0)
            names = {"a": "a", "b": "top", "c": "c"}
            yield Case("shallow two-bar", uneven(renamed(low, names), rng))
        else:
            yield Case("shallow arch", uneven(arched(4 + 2 * (seed % 4), rng.uniform(15, 40), rng.uniform(4, 8)), rng))


def uneven(truss: Truss, rng: random.Random) -> Truss:
    """The same truss, its joints a little moved, its areas unlike, its load a little slanting."""
    moved = {name: tuple(x + rng.uniform(-0.5, 0.5) for x in v) for name, v in truss.joints.items()}
    members = tuple(replace(m, area_mm2=rng.uniform(10, 60)) for m in truss.members)
    loads = {name: tuple(x + rng.uniform(-2, 2) for x in v) for name, v in truss.loads.items()}
    return replace(truss, joints=moved, members=members, loads=loads)


def shallow_off(case: Case) -> dict[str, float]:
    """Disagreement of the limit load with OpenSees' corotational bars, the joint ``top`` pushed down in steps."""
    found = limit_load(case.truss, up_to=1e4)
    down = len(case.truss.joints["top"])
    theirs = opensees.highest_load(case.truss, "top", down, -0.01, 6000)
    return {"OpenSees": off(found.factor, theirs)}


def second_moments(truss: Truss) -> dict[str, float]:
    """Of square sticks with the members' areas, mm4."""
    return {m.name: (m.area_mm2 or 0.0) ** 2 / 12 for m in truss.members}


def frame_off(case: Case) -> dict[str, float]:
    """Largest disagreement of a frame's axial forces and end moments with each library's; plane trusses."""
    I = second_moments(case.truss)  # noqa: E741
    found = frame(case.truss, I, {m.name: math.sqrt(m.area_mm2 or 0.0) / 2 for m in case.truss.members})
    straight = level(case)
    theirs, other = opensees.frame_model(straight, I), pynite.rigid(straight, I)
    axial = max(map(abs, found.forces.values()))
    bending = max(abs(x) for ends in found.end_moments.values() for x in ends)
    result = {"OpenSees axial": 0.0, "OpenSees moments": 0.0, "PyNite axial": 0.0, "PyNite moments": 0.0}
    for name, N in found.forces.items():
        pairs = {
            "OpenSees": (theirs.forces[name], theirs.end_moments[name]),
            "PyNite": (pynite.force(other, name), pynite.end_moments(other, name)),
        }
        for library, (force, ends) in pairs.items():
            gaps = [abs(a - b) for a, b in zip(found.end_moments[name], ends, strict=True)]
            result[f"{library} axial"] = max(result[f"{library} axial"], abs(N - force) / axial)
            result[f"{library} moments"] = max(result[f"{library} moments"], max(gaps) / bending)
    return result


@dataclass(frozen=True)
class Agreement:
    """Largest disagreement over all trusses of a kind: ``largest`` by kind and then by what was compared."""

    counts: Mapping[str, int]
    largest: Mapping[str, Mapping[str, float]]

    def lines(self) -> list[str]:
        """A table: kind, how many, then each comparison's largest relative disagreement."""
        columns = list(dict.fromkeys(column for row in self.largest.values() for column in row))
        lines = [f"{'kind':20} {'trusses':>7} " + " ".join(f"{column:>17}" for column in columns)]
        for kind, row in self.largest.items():
            cells = (f"{row[column]:17.1e}" if column in row else f"{'-':>17}" for column in columns)
            lines.append(f"{kind:20} {self.counts[kind]:7} " + " ".join(cells))
        return lines


def agreement(compare: Callable[[Case], Mapping[str, float]], chosen: Iterable[Case] | None = None) -> Agreement:
    """``compare`` each of the chosen cases; all of ``cases`` without a choice."""
    counts: dict[str, int] = {}
    largest: dict[str, dict[str, float]] = {}
    for case in cases() if chosen is None else chosen:
        counts[case.kind] = counts.get(case.kind, 0) + 1
        row = largest.setdefault(case.kind, {})
        for column, value in compare(case).items():
            row[column] = max(row.get(column, 0.0), value)
    return Agreement(counts, largest)


def is_plane(case: Case) -> bool:
    """Whether a truss has two coordinates."""
    return len(next(iter(case.truss.joints.values()))) == 2


def report() -> list[str]:
    """The tables, as lines."""
    return [
        "buckling factor of the whole truss",
        *agreement(buckling_off).lines(),
        "limit load of shallow trusses",
        *agreement(shallow_off, shallow_cases()).lines(),
        "frame with rigid joints",
        *agreement(frame_off, filter(is_plane, cases())).lines(),
    ]


if __name__ == "__main__":
    print("\n".join(report()))
