"""The catalogue of measures: everything a rubric may name, in the trade's words.

The worker computes every one of them (``worker.measures``); a measure that a truss cannot
have, such as the failure load of a mechanism, is None.
"""

from __future__ import annotations

from dataclasses import dataclass

from rubric.language import _, later

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
    sign: str = later("never negative")
    """What its sign says."""
    counted: bool = False
    """Whether it is a number of things, so that a rubric may ask for at most so many."""
    phrase: str = ""
    """How a sentence names it."""

    @property
    def said(self) -> str:
        """Its name for people; ``name`` is the one that files and programs use."""
        return _(self.name)

    @property
    def in_a_sentence(self) -> str:
        """``the mass``, ``the number of joints``."""
        return _(self.phrase)


_ALL = (
    Measure(
        later("mechanisms"),
        "",
        later(
            "Number of independent ways in which the truss can move without any member changing length. "
            "A stable truss has 0."
        ),
        "worker.statics",
        False,
        counted=True,
        phrase=later("the number of mechanisms"),
    ),
    Measure(
        later("degree of redundancy"),
        "",
        later(
            "How many members, or held directions, it has beyond what it needs to stand. "
            "With 0 it is statically determinate."
        ),
        "worker.statics",
        False,
        phrase=later("the degree of redundancy"),
    ),
    Measure(
        later("failure load"),
        "N",
        later("Load on the whole bridge at which its first member or joint fails."),
        "worker.strength",
        True,
        "force",
        phrase=later("the failure load"),
    ),
    Measure(
        later("reserve factor"),
        "",
        later("Failure load over the brief's target load: 1 just carries the target, 2 carries it twice."),
        "worker.strength",
        True,
        phrase=later("the reserve factor"),
    ),
    Measure(
        later("largest utilisation"),
        "%",
        later("Demand over capacity of the member that works hardest, at the target load. At 100 % it fails."),
        "worker.strength",
        False,
        phrase=later("the largest utilisation"),
    ),
    Measure(
        later("stability factor"),
        "",
        later("Load at which the truss gives way as a whole over the target load; 10 where it is 10 or more."),
        "worker.stability",
        True,
        phrase=later("the stability factor"),
    ),
    Measure(
        later("peak load"),
        "N",
        later("Most that the whole bridge carries when its members break in turn."),
        "worker.collapse",
        True,
        "force",
        phrase=later("the peak load"),
    ),
    Measure(
        later("kept after first failure"),
        "%",
        later(
            "Load that the bridge still takes after its first failure, over the load of that failure; "
            "0 % where it falls at once."
        ),
        "worker.collapse",
        True,
        phrase=later("the load kept after the first failure"),
    ),
    Measure(
        later("chance of carrying the target"),
        "%",
        later("How many of 100 bridges built like this carry the target load. No two sticks are alike."),
        "worker.chance",
        True,
        phrase=later("the chance of carrying the target"),
    ),
    Measure(
        later("bending share"),
        "%",
        later("Largest stress from bending over the largest from pull or push, with stiff joints in place of hinges."),
        "worker.frame",
        False,
        phrase=later("the bending share"),
    ),
    Measure(
        later("sticks"),
        "",
        later("Whole sticks that the whole bridge is cut from."),
        "worker.advice",
        False,
        counted=True,
        phrase=later("the number of sticks"),
    ),
    Measure(
        later("sticks over the kit"),
        "",
        later("Sticks that the whole bridge needs beyond those in the kit; 0 where it can be cut from one kit."),
        "worker.advice",
        False,
        counted=True,
        phrase=later("the number of sticks over the kit"),
    ),
    Measure(
        later("share of par"),
        "%",
        later("Efficiency over that of the lightest bridge there could be for the same load; always below 100 %."),
        "worker.advice",
        True,
        phrase=later("the share of par"),
    ),
    Measure(
        later("mass"),
        "g",
        later("Mass of the whole bridge: all side trusses and the cross-member allowance."),
        "worker.strength",
        False,
        "mass",
        phrase=later("the mass"),
    ),
    Measure(
        later("efficiency"),
        "",
        later("Failure load over the weight of the bridge, both as forces: a pure number."),
        "worker.strength",
        True,
        phrase=later("the efficiency"),
    ),
    Measure(
        later("midspan deflection"),
        "mm",
        later("How far the deck joint nearest midspan goes down at the target load."),
        "worker.statics",
        False,
        "length",
        sign=later("downward is positive"),
        phrase=later("the midspan deflection"),
    ),
    Measure(
        later("joints"),
        "",
        later("Joints of one side truss."),
        "worker.truss",
        False,
        counted=True,
        phrase=later("the number of joints"),
    ),
    Measure(
        later("members"),
        "",
        later("Number of members of one side truss."),
        "worker.truss",
        False,
        counted=True,
        phrase=later("the number of members"),
    ),
    Measure(
        later("distinct lengths"),
        "",
        later("How many different lengths the members of one side truss have, each to the nearest mm."),
        "worker.truss",
        False,
        counted=True,
        phrase=later("the number of distinct lengths"),
    ),
    Measure(
        later("depth above deck"),
        "mm",
        later("Height of the highest joint above the deck line."),
        "worker.truss",
        False,
        "length",
        phrase=later("the depth above deck"),
    ),
    Measure(
        later("depth below deck"),
        "mm",
        later("Depth of the lowest joint below the deck line."),
        "worker.truss",
        False,
        "length",
        phrase=later("the depth below deck"),
    ),
    Measure(
        later("longest member"),
        "mm",
        later("Length of the longest member, joint to joint."),
        "worker.truss",
        False,
        "length",
        phrase=later("the length of the longest member"),
    ),
    Measure(
        later("shortest member"),
        "mm",
        later("Length of the shortest member, joint to joint."),
        "worker.truss",
        True,
        "length",
        phrase=later("the length of the shortest member"),
    ),
    Measure(
        later("kit used"),
        "%",
        later(
            "Stick length that the whole bridge needs over the length in the kit, for the stick where it is highest."
        ),
        "worker.truss",
        False,
        phrase=later("the part of the kit used"),
    ),
    Measure(
        later("limits broken"),
        "",
        later("Number of limits of the brief that the truss does not keep."),
        "worker.truss",
        False,
        counted=True,
        phrase=later("the number of limits broken"),
    ),
)

CATALOGUE: dict[str, Measure] = {measure.name: measure for measure in _ALL}

COUNTED = tuple(measure.name for measure in _ALL if measure.counted)
"""What can be counted."""
