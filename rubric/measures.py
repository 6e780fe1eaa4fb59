"""The catalogue of measures: everything a rubric may name, in the trade's words.

The worker computes every one of them (``worker.measures``); a measure that a truss cannot
have, such as the failure load of a mechanism, is None.
"""

from __future__ import annotations

from dataclasses import dataclass

Measures = dict[str, float | None]
"""Values by name of the measure, each in its own unit."""


@dataclass(frozen=True)
class Measure:
    """One thing that can be measured of a truss."""

    name: str
    unit: str
    meaning: str
    computed_in: str
    more_is_better: bool
    units: str = ""
    """Which group of units a rubric may write its numbers in; nothing: plain numbers."""
    sign: str = "never negative"
    """What its sign says."""
    counted: bool = False
    """Whether it is a number of things, so that a rubric may ask for at most so many."""
    phrase: str = ""
    """How a sentence names it, where that is not 'the' and the name."""

    @property
    def in_a_sentence(self) -> str:
        """``the mass``, ``the number of joints``."""
        return self.phrase or f"the {self.name}"


_ALL = (
    Measure(
        "mechanisms",
        "",
        "Number of independent ways in which the truss can move without any member changing length. "
        "A stable truss has 0.",
        "worker.statics",
        False,
        counted=True,
        phrase="the number of mechanisms",
    ),
    Measure(
        "degree of redundancy",
        "",
        "How many members, or held directions, it has beyond what it needs to stand. "
        "With 0 it is statically determinate.",
        "worker.statics",
        False,
    ),
    Measure(
        "failure load",
        "N",
        "Load on the whole bridge at which its first member or joint fails.",
        "worker.strength",
        True,
        "force",
    ),
    Measure(
        "reserve factor",
        "",
        "Failure load over the brief's target load: 1 just carries the target, 2 carries it twice.",
        "worker.strength",
        True,
    ),
    Measure(
        "largest utilisation",
        "%",
        "Demand over capacity of the member that works hardest, at the target load. At 100 % it fails.",
        "worker.strength",
        False,
    ),
    Measure(
        "stability factor",
        "",
        "Load at which the truss gives way as a whole over the target load; 10 where it is 10 or more.",
        "worker.stability",
        True,
    ),
    Measure(
        "peak load",
        "N",
        "Most that the whole bridge carries when its members break in turn.",
        "worker.collapse",
        True,
        "force",
    ),
    Measure(
        "kept after first failure",
        "%",
        "Load that the bridge still takes after its first failure, over the load of that failure; "
        "0 % where it falls at once.",
        "worker.collapse",
        True,
        phrase="the load kept after the first failure",
    ),
    Measure(
        "chance of carrying the target",
        "%",
        "How many of 100 bridges built like this carry the target load. No two sticks are alike.",
        "worker.chance",
        True,
    ),
    Measure(
        "bending share",
        "%",
        "Largest stress from bending over the largest from pull or push, with stiff joints in place of hinges.",
        "worker.frame",
        False,
    ),
    Measure(
        "sticks",
        "",
        "Whole sticks that the whole bridge is cut from.",
        "worker.advice",
        False,
        counted=True,
        phrase="the number of sticks",
    ),
    Measure(
        "sticks over the kit",
        "",
        "Sticks that the whole bridge needs beyond those in the kit; 0 where it can be cut from one kit.",
        "worker.advice",
        False,
        counted=True,
        phrase="the number of sticks over the kit",
    ),
    Measure(
        "share of par",
        "%",
        "Efficiency over that of the lightest bridge there could be for the same load; always below 100 %.",
        "worker.advice",
        True,
    ),
    Measure(
        "mass",
        "g",
        "Mass of the whole bridge: all side trusses and the cross-member allowance.",
        "worker.strength",
        False,
        "mass",
    ),
    Measure(
        "efficiency",
        "",
        "Failure load over the weight of the bridge, both as forces: a pure number.",
        "worker.strength",
        True,
    ),
    Measure(
        "midspan deflection",
        "mm",
        "How far the deck joint nearest midspan goes down at the target load.",
        "worker.statics",
        False,
        "length",
        sign="downward is positive",
    ),
    Measure(
        "joints", "", "Joints of one side truss.", "worker.truss", False, counted=True, phrase="the number of joints"
    ),
    Measure(
        "members",
        "",
        "Number of members of one side truss.",
        "worker.truss",
        False,
        counted=True,
        phrase="the number of members",
    ),
    Measure(
        "distinct lengths",
        "",
        "How many different lengths the members of one side truss have, each to the nearest mm.",
        "worker.truss",
        False,
        counted=True,
        phrase="the number of distinct lengths",
    ),
    Measure(
        "depth above deck",
        "mm",
        "Height of the highest joint above the deck line.",
        "worker.truss",
        False,
        "length",
    ),
    Measure(
        "depth below deck",
        "mm",
        "Depth of the lowest joint below the deck line.",
        "worker.truss",
        False,
        "length",
    ),
    Measure(
        "longest member",
        "mm",
        "Length of the longest member, joint to joint.",
        "worker.truss",
        False,
        "length",
        phrase="the length of the longest member",
    ),
    Measure(
        "shortest member",
        "mm",
        "Length of the shortest member, joint to joint.",
        "worker.truss",
        True,
        "length",
        phrase="the length of the shortest member",
    ),
    Measure(
        "kit used",
        "%",
        "Stick length that the whole bridge needs over the length in the kit, for the stick where it is highest.",
        "worker.truss",
        False,
        phrase="the part of the kit used",
    ),
    Measure(
        "limits broken",
        "",
        "Number of limits of the brief that the truss does not keep.",
        "worker.truss",
        False,
        counted=True,
        phrase="the number of limits broken",
    ),
)

CATALOGUE: dict[str, Measure] = {measure.name: measure for measure in _ALL}

COUNTED = tuple(measure.name for measure in _ALL if measure.counted)
"""What can be counted."""
