"""Colours: seen on white, told apart by colour-blind eyes, and not needed at all in grey."""

from __future__ import annotations

import pytest

from rubric.drawing import palette
from rubric.messages.outcomes import Figure
from tests.worker.feedback import gallery, seen
from worker.feedback.figures.utilisation import STEPS

Colour = tuple[float, float, float]

# Simulation of missing cones, severity 1, in linear light: G. M. Machado, M. M. Oliveira and L. A. F. Fernandes, "A
# physiologically-based model for simulation of color vision deficiency", IEEE Transactions on Visualization and
# Computer Graphics 15 (2009), the table of matrices that goes with it; compared with three programs that use it.
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
LINES = {
    "tension": palette.TENSION,
    "compression": palette.COMPRESSION,
    "movement": palette.MOVEMENT,
    "over": palette.OVER,
}


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


SHADES = {palette.PAPER, palette.SHADE}
"""What lies under lines and carries no meaning of its own."""


def strokes(figure: Figure) -> set[str]:
    """Every colour that a line, a filled shape or a word of a figure has."""
    found = {element.get(key) for element in seen.root(figure).iter() for key in ("stroke", "fill")}
    return {colour for colour in found if colour and colour.startswith("#")}


@pytest.mark.parametrize("eye", EYES)
@pytest.mark.parametrize("name", [*gallery.TYPICAL, *gallery.EXTREME])
def test_every_stroke_of_every_figure_stands_out_from_white_for_every_eye_and_in_grey(name: str, eye: str) -> None:
    for what, figure in gallery.all_figures(name):
        for colour in strokes(figure) - SHADES:
            light = through(eye, linear(colour))
            assert contrast(light, (1, 1, 1)) >= 3, (what, colour)
            assert contrast((luminance(light),) * 3, (1, 1, 1)) >= 3, (what, colour)


def test_words_stand_out_from_white_more_than_lines_must() -> None:
    for name in (*gallery.TYPICAL, *gallery.EXTREME):
        for what, figure in gallery.all_figures(name):
            colours = {text.get("fill") or palette.INK for text in seen.all_of(figure, "text")}
            assert min(contrast(linear(colour), (1, 1, 1)) for colour in colours) >= 4.5, what


def test_a_full_member_differs_from_the_next_step_in_width_or_pattern_and_not_in_colour_alone() -> None:
    looks = [(step.wide, step.dashes, step.core) for step in STEPS]
    assert len(set(looks)) == len(STEPS)
    assert [step.wide for step in STEPS] == sorted(step.wide for step in STEPS)


@pytest.mark.parametrize("eye", EYES)
def test_a_white_core_stands_out_from_its_member_for_every_eye(eye: str) -> None:
    for step in STEPS:
        if step.core is not None:
            assert contrast(through(eye, linear(step.colour)), through(eye, linear(palette.PAPER))) >= 3


@pytest.mark.parametrize("eye", EYES)
def test_what_moved_stands_out_from_the_dashes_of_what_was_for_every_eye(eye: str) -> None:
    light = [lab(through(eye, linear(colour)))[0] for colour in (palette.MOVEMENT, palette.FAINT)]
    assert light[1] - light[0] > 15


@pytest.mark.parametrize("eye", EYES)
def test_a_simulated_eye_still_sees_white_as_white(eye: str) -> None:
    assert through(eye, (1, 1, 1)) == pytest.approx((1, 1, 1), abs=1e-5)
