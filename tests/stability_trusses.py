"""Trusses that buckle or snap through as a whole, for tests."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

from tests.trusses import member
from worker.truss.model import Member, Support, Truss, Vector

SPACE_PIN = Support("pin", ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)))


def pyramid(legs: int, degrees: float, load: float) -> Truss:
    """Bars from pins on a circle of 100 mm up to one loaded joint."""
    turn = 2 * math.pi / legs
    feet: dict[str, Vector] = {f"f{i}": (100 * math.cos(i * turn), 100 * math.sin(i * turn), 0.0) for i in range(legs)}
    joints = feet | {"top": (0.0, 0.0, 100 * math.tan(math.radians(degrees)))}
    members = tuple(member(foot, "top") for foot in feet)
    return Truss(joints, members, dict.fromkeys(feet, SPACE_PIN), {"top": (0.0, 0.0, -load)})


def guyed_column(bars: int, length: float, k: float, push: float) -> Truss:
    """Bars in line along x, pushed at the far end, a spring of stiffness k (N/mm) below each inner hinge."""
    joints: dict[str, Vector] = {f"h{i}": (i * length, 0.0) for i in range(bars + 1)}
    feet: dict[str, Vector] = {f"g{i}": (i * length, -40.0) for i in range(1, bars)}
    springs = tuple(Member(f"g{i}-h{i}", f"g{i}", f"h{i}", area_mm2=1.0, modulus_MPa=40.0 * k) for i in range(1, bars))
    members = tuple(member(f"h{i}", f"h{i + 1}") for i in range(bars)) + springs
    supports = {"h0": Support.pin(), f"h{bars}": Support.roller()} | dict.fromkeys(feet, Support.pin())
    return Truss(joints | feet, members, supports, {f"h{bars}": (-push, 0.0)})


def star_dome() -> Truss:
    """The hexagonal dome of 24 bars in inches and pounds-force, given in mm and N; loaded at its crown."""
    inch, pound = 25.4, 4.4482216152605
    joints: dict[str, Vector] = {"crown": (0.0, 0.0, 3.2346 * inch)}
    for i in range(6):
        inner, outer = math.radians(60 * i), math.radians(60 * i + 30)
        joints[f"i{i}"] = (9.8425 * inch * math.cos(inner), 9.8425 * inch * math.sin(inner), 2.4472 * inch)
        joints[f"o{i}"] = (19.685 * inch * math.cos(outer), 19.685 * inch * math.sin(outer), 0.0)
    pairs = [("crown", f"i{i}") for i in range(6)] + [(f"i{i}", f"i{(i + 1) % 6}") for i in range(6)]
    pairs += [pair for i in range(6) for pair in ((f"i{i}", f"o{i}"), (f"i{(i + 1) % 6}", f"o{i}"))]
    area, modulus = 0.0155 * inch**2, 30e6 * pound / inch**2
    members = tuple(Member(f"{a}-{b}", a, b, area_mm2=area, modulus_MPa=modulus) for a, b in pairs)
    supports = {f"o{i}": SPACE_PIN for i in range(6)}
    return Truss(joints, members, supports, {"crown": (0.0, 0.0, -220.46 * pound)})


def arched(panels: int, rise: float, depth: float) -> Truss:
    """A shallow arched girder of 600 mm between pins at both ends of its lower chord, loaded at its top."""
    panel = 600 / panels

    def height(x: float) -> float:
        return 4 * rise * x * (600 - x) / 600**2

    low: dict[str, Vector] = {f"l{i}": (i * panel, height(i * panel)) for i in range(panels + 1)}
    high: dict[str, Vector] = {f"h{i}": ((i + 0.5) * panel, height((i + 0.5) * panel) + depth) for i in range(panels)}
    pairs = [(f"l{i}", f"l{i + 1}") for i in range(panels)] + [(f"h{i}", f"h{i + 1}") for i in range(panels - 1)]
    pairs += [pair for i in range(panels) for pair in ((f"l{i}", f"h{i}"), (f"h{i}", f"l{i + 1}"))]
    supports = {"l0": Support.pin(), f"l{panels}": Support.pin()}
    middle = f"l{panels // 2}"
    arch = Truss(low | high, tuple(member(*pair) for pair in pairs), supports, {middle: (0.0, -100.0)})
    return renamed(arch, {name: "top" if name == middle else name for name in arch.joints})


def renamed(truss: Truss, names: Mapping[str, str]) -> Truss:
    """The same truss with other names for its joints; members keep theirs."""
    return replace(
        truss,
        joints={names[name]: at for name, at in truss.joints.items()},
        members=tuple(replace(m, start=names[m.start], end=names[m.end]) for m in truss.members),
        supports={names[name]: support for name, support in truss.supports.items()},
        loads={names[name]: load for name, load in truss.loads.items()},
    )
