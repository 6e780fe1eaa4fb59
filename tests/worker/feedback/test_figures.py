"""Drawings: what is in them, and what they never hold."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rubric import library
from rubric.drawing import palette
from rubric.messages.outcomes import Analysis, Figure
from tests import trusses
from tests.worker.feedback import samples, seen
from worker.feedback.figures import envelope, forces, mechanism
from worker.feedback.text import clean

ELEMENTS = {"svg", "g", "path", "line", "polyline", "polygon", "rect", "circle", "ellipse", "text", "tspan"}
ELEMENTS |= {"title", "desc", "defs", "marker"}
ATTRIBUTES = {"viewBox", "width", "role", "x", "y", "x1", "y1", "x2", "y2", "cx", "cy", "r", "d", "points", "transform"}
ATTRIBUTES |= {"fill", "stroke", "stroke-width", "stroke-dasharray", "stroke-linecap"}
ATTRIBUTES |= {"font-family", "font-size", "font-weight", "text-anchor"}
HOSTILE = {"b0": "<img/src=x>", "b1": "\u202egnp.x" + "y" * 500, "t0": "'\"&", "t1": "مفصل", "b2": "支座"}


def figures() -> dict[str, Figure]:
    trial = trusses.warren(3, 200, 150, 33)
    return {
        "plain": forces(samples.analysis_of(trial), samples.BRIEF),
        "hostile": forces(samples.analysis_of(samples.renamed(trial, HOSTILE)), None),
        "large": forces(samples.analysis_of(trusses.warren(37, 20, 60, 3)), samples.BRIEF),
        "mechanism": mechanism(samples.analysis_of(samples.square()), samples.BRIEF),
        "footbridge": envelope(library.brief("footbridge")),
        "market": envelope(library.brief("market-bridge")),
    }


@pytest.mark.parametrize("name", figures())
def test_a_drawing_holds_only_plain_elements_and_presentation_attributes(name: str) -> None:
    figure = figures()[name]
    for element in seen.root(figure).iter():
        assert element.tag.removeprefix(seen.NAMESPACE) in ELEMENTS
        assert set(element.keys()) <= ATTRIBUTES
    assert "url(" not in figure.svg
    assert "href" not in figure.svg


@pytest.mark.parametrize("name", figures())
def test_a_drawing_has_a_name_a_description_and_scales_with_its_page(name: str) -> None:
    figure = figures()[name]
    svg = seen.root(figure)
    assert svg.get("role") == "img"
    assert svg.get("width") == "100%"
    assert svg.get("height") is None
    assert svg[0].tag == seen.NAMESPACE + "title"
    assert svg[0].text
    assert svg[1].text == figure.alternative


@pytest.mark.parametrize("name", figures())
def test_nothing_is_drawn_outside_the_page(name: str) -> None:
    assert list(seen.cut_off(figures()[name])) == []


def member_lines(figure: Figure, colour: str) -> list[float]:
    lines = [line for line in seen.all_of(figure, "line") if line.get("stroke") == colour]
    return [float(line.get("stroke-width", 0)) for line in lines]


def test_tension_is_drawn_thin_and_compression_thick() -> None:
    figure = figures()["plain"]
    assert max(member_lines(figure, palette.TENSION)) * 2 < min(member_lines(figure, palette.COMPRESSION))


def test_a_member_without_force_is_grey_and_dotted() -> None:
    dotted = [line for line in seen.all_of(figures()["plain"], "line") if line.get("stroke-dasharray") == palette.DOTS]
    assert len(dotted) == 2 + 1  # two members, and the sample under the drawing
    assert {line.get("stroke") for line in dotted} == {palette.NOTHING}


def heads(figure: Figure, colour: str) -> list[list[tuple[float, float]]]:
    shapes = [p for p in seen.within(seen.all_of(figure, "g")[0], "polygon") if p.get("fill") == colour]
    return [[(float(x), float(y)) for x, y in (c.split(",") for c in (p.get("points") or "").split())] for p in shapes]


@pytest.mark.parametrize(("colour", "enters"), [(palette.TENSION, False), (palette.COMPRESSION, True)])
def test_arrowheads_leave_joints_in_tension_and_enter_them_in_compression(colour: str, enters: bool) -> None:
    figure = figures()["plain"]
    joints = [(float(c.get("cx", 0)), float(c.get("cy", 0))) for c in seen.all_of(figure, "circle")]
    for tip, one, two in heads(figure, colour):
        back = ((one[0] + two[0]) / 2, (one[1] + two[1]) / 2)
        nearest = min(joints, key=lambda at: math.dist(at, tip))
        assert (math.dist(nearest, tip) < math.dist(nearest, back)) == enters


def test_every_member_is_labelled_with_its_force_and_t_or_c() -> None:
    analysis = samples.analysis_of(trusses.pratt(6, 100, 120, 33))
    words = seen.words_of(forces(analysis, samples.BRIEF))
    for row in analysis.members:
        said = f"{float(f'{abs(row.force_N):.3g}'):g}"
        assert ("0" if row.force_N == 0 else f"{said} {'T' if row.force_N > 0 else 'C'}") in words


def test_signs_and_units_are_said_under_the_forces() -> None:
    said = " ".join(seen.words_of(figures()["plain"]))
    assert "T, tension, +: pulled" in said
    assert "C, compression, −: pushed" in said
    assert "newtons (N)" in said


def test_the_member_that_breaks_first_has_an_outline_and_a_flag() -> None:
    figure = figures()["plain"]
    assert "breaks first" in seen.words_of(figure)
    outlines = member_lines(figure, palette.INK)
    assert any(width > 2 * palette.COMPRESSION_WIDTH for width in outlines)


def test_the_alternative_of_the_forces_tells_all_of_them() -> None:
    analysis = samples.analysis_of(trusses.warren(3, 200, 150, 33))
    said = forces(analysis, samples.BRIEF).alternative
    assert "b0-t0 39.7 C" in said
    assert "b0-b1 22 T" in said
    assert "33 N down at b1" in said
    assert "b0 (pin)" in said
    assert "breaks first" in said


def test_a_flat_truss_is_drawn_taller_and_says_so() -> None:
    words = " ".join(seen.words_of(forces(samples.analysis_of(trusses.warren(6, 100, 6, 1)), None)))
    assert "Heights are drawn 16 times too large" in words


def test_a_truss_of_common_depth_is_true_to_scale() -> None:
    words = " ".join(seen.words_of(forces(samples.analysis_of(trusses.warren(6, 100, 80, 1)), None)))
    assert "too large" not in words


def test_a_crowded_drawing_counts_the_numbers_it_leaves_out() -> None:
    words = seen.words_of(figures()["large"])
    shown = sum(word.endswith((" T", " C")) or word == "0" for word in words)
    assert f"{147 - shown} numbers had no room in this drawing." in words


def test_a_mechanism_shows_its_moved_shape_and_names_the_joints_that_move() -> None:
    analysis = samples.analysis_of(samples.square())
    figure = mechanism(analysis, samples.BRIEF)
    dashed = [line for line in seen.all_of(figure, "line") if line.get("stroke-dasharray") == palette.DASHES]
    assert len(dashed) >= len(analysis.members)
    assert all(f"{joint} " in figure.alternative for joint in analysis.moving)


def test_a_mechanism_moves_the_way_its_load_pushes() -> None:
    analysis = samples.analysis_of(samples.square())
    turned = tuple(j.model_copy(update={"motion": j.motion and (-j.motion[0], -j.motion[1])}) for j in analysis.joints)
    figure = mechanism(analysis, None)
    assert "b down" in figure.alternative
    assert mechanism(analysis.model_copy(update={"joints": turned}), None) == figure


def test_a_truss_without_joints_still_gives_a_drawing() -> None:
    nothing = samples.analysis_of(samples.square()).model_copy(update={"joints": (), "members": (), "moving": ()})
    assert seen.root(forces(nothing, None)).get("viewBox")
    assert seen.root(mechanism(nothing, None)).get("viewBox")


def test_an_envelope_gives_span_depth_and_load_with_units() -> None:
    assert {"span 600 mm", "300 mm", "180 mm", "200 N"} <= set(seen.words_of(figures()["footbridge"]))
    words = seen.words_of(figures()["market"])
    assert {"span 800 mm", "220 mm", "60 mm", "500 N along the deck"} <= set(words)


@pytest.mark.parametrize("said", ["roller", "roller y", "roller 30", "pin", "roller -45"])
def test_every_kind_of_support_can_be_drawn(said: str) -> None:
    analysis = samples.analysis_of(trusses.warren(3, 200, 150, 33))
    joints = tuple(j.model_copy(update={"support": said}) if j.support else j for j in analysis.joints)
    assert seen.root(forces(analysis.model_copy(update={"joints": joints}), None)) is not None


def test_a_name_of_five_hundred_letters_is_cut() -> None:
    assert max(len(word) for word in seen.words_of(figures()["hostile"]) if "yyy" in word) < 12


@given(st.text(max_size=60))
@settings(max_examples=60, deadline=None)
def test_any_name_leaves_the_drawing_well_formed(name: str) -> None:
    analysis = samples.analysis_of(samples.renamed(trusses.warren(2, 200, 150, 33), {"b1": name + "|"}))
    figure = forces(analysis, None)
    assert seen.root(figure).get("role") == "img"
    assert "\u202e" not in figure.svg


def test_directions_controls_and_piles_of_accents_are_cleaned_away() -> None:
    assert clean("a\u202eb\x00c\u2066d") == "abcd"
    assert clean("e" + "\u0301" * 30).count("\u0301") <= 2
    assert clean("می\u200cروم") == "می\u200cروم"


def test_the_same_truss_gives_the_same_drawing() -> None:
    assert figures()["plain"] == figures()["plain"]


def one_row(analysis: Analysis) -> Analysis:
    joints = tuple(j.model_copy(update={"y_mm": 0.0}) for j in analysis.joints)
    return analysis.model_copy(update={"joints": joints})


def test_joints_all_in_one_line_can_be_drawn() -> None:
    flat = one_row(samples.analysis_of(trusses.warren(3, 200, 150, 33)))
    assert seen.root(forces(flat, None)).get("viewBox")


def test_a_load_over_a_support_stands_beside_the_reaction_where_a_post_is_in_the_way() -> None:
    truss = trusses.pratt(4, 150, 120, 20)
    post = trusses.member("b0", "t0")
    posts = replace(truss, joints=dict(truss.joints) | {"t0": (0.0, 120.0)}, members=(*truss.members, post))
    held = replace(posts, members=(*posts.members, trusses.member("t0", "t1")), loads={"b0": (0, -17), "b2": (0, -20)})
    figure = forces(samples.analysis_of(held), None)
    assert {"17 N", "20 N", "27 N", "10 N"} <= set(seen.words_of(figure))
    assert list(seen.collisions(figure)) == []
