"""What a reading is asked about before it is kept: once, in words.  Pure."""

from __future__ import annotations

from rubric.contest.rig import Rig
from rubric.contest.rules import WeighIn
from rubric.language import _
from rubric.wording import amount, figure

SLIP_LOW, SLIP_HIGH = 0.2, 5.0
"""A mass this far from the prediction, as a factor, is more likely a slip of typing (common practice)."""


def mass_doubts(weigh_in: WeighIn, mass_g: float, predicted_g: float | None) -> tuple[str, ...]:
    """What to ask about a mass; nothing where it is as expected.

    Raises
    ------
    ValueError
        In words: no bridge has such a mass.
    """
    if not 0 < mass_g < 100_000:
        raise ValueError(_("{mass} g cannot be the mass of a bridge. Type it again, in grams.", mass=figure(mass_g)))
    said = []
    if predicted_g:
        off = mass_g / predicted_g - 1
        if abs(off) > weigh_in.differs:
            if off > 0:
                text = _("{mass} is {part} more than the {predicted} that was predicted.")
            else:
                text = _("{mass} is {part} less than the {predicted} that was predicted.")
            values = {"mass": amount(mass_g, "g"), "part": amount(abs(off), "%"), "predicted": amount(predicted_g, "g")}
            said.append(text.format(**values) + _slip(mass_g / predicted_g))
    if weigh_in.mass_g is not None and mass_g > weigh_in.mass_g:
        over = amount(round(mass_g - weigh_in.mass_g, 6), "g")
        text = _("{mass} is {over} over the {limit} that a bridge may have.")
        said.append(text.format(mass=amount(mass_g, "g"), over=over, limit=amount(weigh_in.mass_g, "g")))
    return tuple(said)


def load_doubts(rig: Rig, reading: float, unit: str, predicted_N: float | None) -> tuple[str, ...]:
    """What to ask about a peak reading; nothing where it is as expected.

    Raises
    ------
    ValueError
        In words: no test gives such a load.
    """
    load = rig.load_N(reading, unit)
    if not 0 < load < 1_000_000:
        raise ValueError(
            _(
                "A reading of {reading} means {load} on the bridge. "
                "The display shows {tare} with nothing on it. Type the peak reading again.",
                reading=f"{figure(reading)} {unit}",
                load=f"{figure(load)} N",
                tare=f"{figure(rig.tare)} {rig.unit}",
            )
        )
    said = []
    if load > rig.most_N * 1.05:
        said.append(
            _(
                "{load} is over the {limit} at which every test stops. Was it typed in the right unit?",
                load=amount(load, "N"),
                limit=amount(rig.most_N, "N"),
            )
        )
    if predicted_N and not SLIP_LOW <= load / predicted_N <= SLIP_HIGH / 2:
        text = _("{load} on the bridge, and {predicted} was predicted.")
        asked = text.format(load=amount(load, "N"), predicted=amount(predicted_N, "N"))
        said.append(asked + _slip(load / predicted_N))
    return tuple(said)


def _slip(factor: float) -> str:
    if SLIP_LOW <= factor <= SLIP_HIGH:
        return ""
    return " " + _("Is a digit or the decimal point out of place?")
