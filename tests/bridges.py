"""Bars that hang, stand and cross, cut from sticks whose capacities a test can reckon by hand."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

from rubric.brief import Brief
from worker.strength.sections import with_sections
from worker.strength.wood import Wood, wood
from worker.truss.model import Member, Support, Truss

TENSION_MPA, CRUSHING_MPA, MODULUS_MPA, SHEAR_MPA = 20.0, 15.0, 3000.0, 2.0
TARGET_N = 100.0


def brief(
    sections: Mapping[str, tuple[float, float]] | None = None,
    target_N: float = TARGET_N,
    sides: int = 1,
    glue: tuple[float, float] | None = None,
    **rest: object,
) -> Brief:
    """A brief with sticks of the given sections by name (``bar``: 5 x 2 mm), and glue of (strength MPa, lap mm)."""
    sticks = sections or {"bar": (5.0, 2.0)}
    values = {
        "title": "Bars",
        "span": 1000,
        "load": {"places": "midspan", "target": target_N},
        "sides": sides,
        "wood": {
            "material": "lath",
            "density": 160,
            "modulus": MODULUS_MPA,
            "tension": TENSION_MPA,
            "compression": CRUSHING_MPA,
            "shear": SHEAR_MPA,
        },
        "stock": {name: {"section": list(sides), "length": 900, "count": 9} for name, sides in sticks.items()},
        "glue": None if glue is None else {"strength": glue[0], "lap": glue[1]},
        **rest,
    }
    return Brief.model_validate({key: value for key, value in values.items() if value is not None})


def lath(given: Brief) -> Wood:
    """The values of the brief's wood."""
    return wood(given.wood)


def filled(truss: Truss, given: Brief) -> Truss:
    """The truss with its sticks' areas and moduli, and one side's share of the target as its loads."""
    loads = {
        joint: tuple(given.load.target_N * given.side_share * v for v in way) for joint, way in truss.loads.items()
    }
    return with_sections(replace(truss, loads=loads), given, lath(given).modulus_MPa)


def chain(sticks: list[str], mm: float = 100.0, down: float = -1.0) -> Truss:
    """Bars end to end below a pin, kept in line by rollers; a unit load at the bottom pulls, or pushes with down = 1."""
    joints = {f"j{i}": (0.0, -mm * i) for i in range(len(sticks) + 1)}
    members = tuple(Member(f"m{i}", f"j{i}", f"j{i + 1}", stick) for i, stick in enumerate(sticks))
    supports = {name: Support.roller(90.0) for name in joints} | {"j0": Support.pin()}
    return Truss(joints, members, supports, {f"j{len(sticks)}": (0.0, down)})


def bundle(sticks: list[str], mm: float = 100.0) -> Truss:
    """Bars side by side between a pin and a joint with a unit load that can only sink."""
    members = tuple(Member(f"m{i}", "top", "low", stick) for i, stick in enumerate(sticks))
    supports = {"top": Support.pin(), "low": Support.roller(90.0)}
    return Truss({"top": (0.0, mm), "low": (0.0, 0.0)}, members, supports, {"low": (0.0, -1.0)})


def three_bars(angle_deg: float, middle: str = "bar", outer: str = "bar", mm: float = 100.0) -> Truss:
    """A unit load on a joint that hangs by one bar straight up and one on either side, at an angle to it."""
    aside = mm * math.tan(math.radians(angle_deg))
    joints = {"p": (0.0, 0.0), "l": (-aside, mm), "m": (0.0, mm), "r": (aside, mm)}
    members = (Member("left", "p", "l", outer), Member("middle", "p", "m", middle), Member("right", "p", "r", outer))
    return Truss(joints, members, {name: Support.pin() for name in "lmr"}, {"p": (0.0, -1.0)})


def crossed_panel(mm: float = 100.0, stick: str = "bar") -> Truss:
    """A square panel on two pins, with both diagonals, under a unit load sideways at its top left corner."""
    joints = {"a": (0.0, 0.0), "b": (mm, 0.0), "c": (mm, mm), "d": (0.0, mm)}
    pairs = ("a-d", "b-c", "d-c", "a-c", "b-d")
    members = tuple(Member(pair, *pair.split("-"), stick) for pair in pairs)
    return Truss(joints, members, {"a": Support.pin(), "b": Support.pin()}, {"d": (1.0, 0.0)})
