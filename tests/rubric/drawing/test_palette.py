"""Colours: seen on white, told apart by colour-blind eyes, and not needed at all in grey."""

from __future__ import annotations

import pytest

from rubric.drawing import palette

Colour = tuple[float, float, float]

# Simulation of missing cones, severity 1, in linear light: Machado, Oliveira and Fernandes, "A
# physiologically-based model for simulation of color vision deficiency" (2009).  From memory.
EYES = {
    "usual": ((1, 0, 0), (0, 1, 0), (0, 0, 1)),
    "protanopia": (
        (0.152286, 1.052583, -0.204868),
        (0.114503, 0.786281, 0.099216),
        (-0.003882, -0.048116, 1.051998),
    ),
    "deuteranopia": (
        (0.367322, 0.860646, -0.227968),
        (0.280085, 0.672501, 0.047413),
        (-0.011820, 0.042940, 0.968881),
    ),
    "tritanopia": (
        (1.255528, -0.076749, -0.178779),
        (-0.078411, 0.930809, 0.147602),
        (0.004733, 0.691367, 0.303900),
    ),
}
LINES = {"tension": palette.TENSION, "compression": palette.COMPRESSION, "movement": palette.MOVEMENT}


def linear(colour: str) -> Colour:
    """Linear light of an sRGB colour (IEC 61966-2-1)."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    r, g, b = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return r, g, b


def luminance(light: Colour) -> float:
    """Relative luminance, WCAG 2.2."""
    return 0.2126 * light[0] + 0.7152 * light[1] + 0.0722 * light[2]


def contrast(one: Colour, two: Colour) -> float:
    """Contrast ratio, WCAG 2.2."""
    dark, bright = sorted((luminance(one), luminance(two)))
    return (bright + 0.05) / (dark + 0.05)


def through(eye: str, light: Colour) -> Colour:
    r, g, b = (min(1.0, max(0.0, sum(m * c for m, c in zip(row, light, strict=True)))) for row in EYES[eye])
    return r, g, b


def lab(light: Colour) -> Colour:
    """CIE 1976 L*a*b* for D65."""
    rows = ((0.4124, 0.3576, 0.1805), (0.2126, 0.7152, 0.0722), (0.0193, 0.1192, 0.9505))
    white = (0.9505, 1.0, 1.089)
    xyz = [sum(m * c for m, c in zip(row, light, strict=True)) / w for row, w in zip(rows, white, strict=True)]
    fx, fy, fz = (v ** (1 / 3) if v > 0.008856 else 7.787 * v + 16 / 116 for v in xyz)
    return 116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz)


@pytest.mark.parametrize("eye", EYES)
@pytest.mark.parametrize("name", LINES)
def test_lines_and_their_numbers_stand_out_from_white_for_every_eye(name: str, eye: str) -> None:
    assert contrast(through(eye, linear(LINES[name])), (1, 1, 1)) >= 4.5


@pytest.mark.parametrize("colour", [palette.NOTHING, palette.INK])
def test_grey_and_ink_stand_out_from_white(colour: str) -> None:
    assert contrast(linear(colour), (1, 1, 1)) >= 4.5


def test_dashes_stand_out_from_white_as_a_line_must() -> None:
    assert contrast(linear(palette.FAINT), (1, 1, 1)) >= 3


@pytest.mark.parametrize("eye", EYES)
def test_tension_and_compression_look_different_to_every_eye(eye: str) -> None:
    one, two = (lab(through(eye, linear(LINES[name]))) for name in ("tension", "compression"))
    assert sum((a - b) ** 2 for a, b in zip(one, two, strict=True)) ** 0.5 > 20


def test_compression_prints_darker_than_tension_in_grey() -> None:
    light = [lab((luminance(linear(c)),) * 3)[0] for c in (palette.TENSION, palette.COMPRESSION)]
    assert light[0] - light[1] > 10


@pytest.mark.parametrize("eye", EYES)
def test_a_simulated_eye_still_sees_white_as_white(eye: str) -> None:
    assert through(eye, (1, 1, 1)) == pytest.approx((1, 1, 1), abs=1e-5)
