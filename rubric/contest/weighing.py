"""What a reading is asked about before it is kept: once, in words.  Pure."""

from __future__ import annotations

from rubric.contest.rig import Rig
from rubric.contest.rules import WeighIn
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
        raise ValueError(f"{figure(mass_g)} g cannot be the mass of a bridge. Type it again, in grams.")
    said = []
    if predicted_g:
        off = mass_g / predicted_g - 1
        if abs(off) > weigh_in.differs:
            way = "more" if off > 0 else "less"
            said.append(
                f"{amount(mass_g, 'g')} is {figure(100 * abs(off))} % {way} than the {amount(predicted_g, 'g')} "
                f"that was predicted.{_slip(mass_g / predicted_g)}"
            )
    if weigh_in.mass_g is not None and mass_g > weigh_in.mass_g:
        over = amount(round(mass_g - weigh_in.mass_g, 6), "g")
        said.append(f"{amount(mass_g, 'g')} is {over} over the {amount(weigh_in.mass_g, 'g')} that a bridge may have.")
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
            f"A reading of {figure(reading)} {unit} means {figure(load)} N on the bridge. "
            f"The display shows {figure(rig.tare)} {rig.unit} with nothing on it. Type the peak reading again."
        )
    said = []
    if load > rig.most_N * 1.05:
        said.append(
            f"{figure(load)} N is over the {figure(rig.most_N)} N at which every test stops. "
            "Was it typed in the right unit?"
        )
    if predicted_N and not SLIP_LOW <= load / predicted_N <= SLIP_HIGH / 2:
        said.append(
            f"{figure(load)} N on the bridge, and {figure(predicted_N)} N was predicted.{_slip(load / predicted_N)}"
        )
    return tuple(said)


def _slip(factor: float) -> str:
    return " Is a digit or the decimal point out of place?" if not SLIP_LOW <= factor <= SLIP_HIGH else ""
