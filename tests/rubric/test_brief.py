"""Briefs: what a teacher writes, and what is said where it does not fit."""

from __future__ import annotations

import pytest

from rubric import library
from rubric.brief import TRAVELLING, Brief, read_brief
from rubric.problems import Refused

SMALL = """title: Small
span: 600 mm
load: {places: midspan, target: 200 N}
wood: {material: balsa}
stock: {square5: {section: 5 x 5 mm, length: 900 mm, count: 14}}
"""


def problems(text: str) -> list[str]:
    with pytest.raises(Refused) as refused:
        read_brief(text.encode())
    return [str(problem) for problem in refused.value.problems]


def changed(old: str, new: str) -> list[str]:
    assert old in SMALL
    return problems(SMALL.replace(old, new))


def test_a_small_brief_fills_in_the_rest() -> None:
    brief = read_brief(SMALL.encode())
    assert (brief.span_mm, brief.sides, brief.side_share, brief.supports.left) == (600, 2, 0.5, "pin")
    assert brief.limits.mass_g is None


@pytest.mark.parametrize("name", library.brief_names())
def test_a_ready_brief_survives_the_journey_as_json(name: str) -> None:
    brief = library.brief(name)
    assert Brief.model_validate_json(brief.model_dump_json()) == brief


def test_there_are_at_least_two_ready_briefs_and_rubrics() -> None:
    assert len(library.brief_names()) >= 2
    assert all(library.rubric(name).criteria for name in library.rubric_names())


def test_units_and_shares_are_read_as_they_are_written() -> None:
    text = SMALL.replace("600 mm", "0.6 m").replace("200 N", "0.2 kN") + "sides: 3\nshare: 40 %\n"
    brief = read_brief(text.encode())
    assert (brief.span_mm, brief.load.target_N, brief.side_share) == (600, 200, 0.4)


MISTAKES = [
    ("600 mm", "600 km", "line 2, column 7: found '600 km'; expected a length in mm, cm, m, in. "
     "To mend it: write a plain number and a unit, such as '12.5 mm'."),
    ("600 mm", "-3 mm", "line 2, column 7: found '-3 mm'; expected a length of 1e-06 or more. To mend it: write a larger number."),
    ("span", "spam", "line 1, column 1: found no 'span'; expected the distance between the supports. "
     "To mend it: add a line such as 'span: 600 mm'."),
    ("midspan", "middle", "line 3, column 16: found 'middle'; expected 'midspan', 'along the deck', 'each deck joint in turn' or a list of different "
     "places measured from the left support. To mend it: write for example 'places: [200 mm, 400 mm]'."),
    ("midspan", "[100 mm, 700 mm]", "line 1, column 1: found a load at 700 mm; expected places between 0 and the span of "
     "600 mm. To mend it: move it."),
    ("balsa", "blasa", "line 4, column 1: found the material 'blasa', whose values are not known; expected a wood of the table, "
     "or all of density, modulus, tension, compression and shear. To mend it: did you mean 'balsa'?"),
    ("5 x 5 mm", "5 mm", "line 5, column 28: found '5 mm'; expected width x thickness in mm, each 0.1 to 500. "
     "To mend it: write for example '5 x 5 mm'."),
    ("count: 14", "count: 1.5", "line 5, column 61: found '1.5'; expected a whole number from 1 to 10000. "
     "To mend it: write a whole number."),
    ("stock: {square5: {section: 5 x 5 mm, length: 900 mm, count: 14}}", "stock: {}",
     "line 5, column 1: found a block of keys; expected the sticks of one kit by name. To mend it: write it as "
     "'stock: {square5: {section: 5 x 5 mm, length: 900 mm, count: 12}}'."),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "said"), MISTAKES, ids=lambda value: value[:30])
def test_a_mistake_in_a_brief_is_told_in_these_words(old: str, new: str, said: str) -> None:
    assert said in changed(old, new)


MORE = [
    ("self weight: yes", "line 6, column 14: found 'yes'; expected one of 'left out' and 'counted'."),
    ("joints: glued", "line 6, column 9: found 'glued'; expected one of 'hinged' and 'rigid'."),
    (
        "own weight: counted",
        "line 6, column 13: found the unknown key 'own weight'; expected a key of this block. To mend it: did you mean 'self weight'?",
    ),
]


@pytest.mark.parametrize(("line", "said"), MORE, ids=lambda value: value[:30])
def test_how_a_truss_is_worked_out_is_one_of_two_words(line: str, said: str) -> None:
    with pytest.raises(Refused) as refused:
        read_brief((SMALL.rstrip() + f"\n{line}\n").encode())
    assert said in str(refused.value)


def test_a_brief_asks_for_self_weight_a_moving_load_and_rigid_joints_in_words() -> None:
    text = SMALL.replace("midspan", "each deck joint in turn").rstrip() + "\nself weight: counted\njoints: rigid\n"
    brief = read_brief(text.encode())
    assert (brief.load.places, brief.self_weight, brief.joints) == (TRAVELLING, "counted", "rigid")
    plain = read_brief(SMALL.encode())
    assert (plain.self_weight, plain.joints) == ("left out", "hinged")


def test_a_saw_cut_takes_nothing_away_unless_the_brief_says_so() -> None:
    assert read_brief(SMALL.encode()).kerf_mm == 0
    assert read_brief((SMALL.rstrip() + "\nkerf: 0.15 cm\n").encode()).kerf_mm == 1.5


EXTRA = [
    ("kerf: -1 mm", "line 6, column 7: found '-1 mm'; expected what one saw cut takes away, 0 to 20 mm. "
     "To mend it: write it as 'kerf: 1 mm'."),
    ("kerf: 3 cm", "line 6, column 7: found '3 cm'; expected what one saw cut takes away, 0 to 20 mm. "
     "To mend it: write it as 'kerf: 1 mm'."),
    ("dates: {due: 2027-13-01}", "line 6, column 14: found '2027-13-01'; expected a date and time. "
     "To mend it: write for example '2027-03-01 16:00'."),
    ("dates: {opens: 2027-03-02, due: 2027-03-01}", "line 6, column 1: found opening on 2027-03-02 00:00:00 and due on "
     "2027-03-01 00:00:00; expected opening before the due date. To mend it: swap the two."),
    ("dates: {due: 2027-03-01T10:00:00+02:00}", "line 6, column 14: found '2027-03-01T10:00:00+02:00'; expected a date "
     "between 2000 and 2200 in the school's own time. To mend it: leave the zone out."),
    ("limits: {depth abov: 3 mm}", "line 6, column 22: found the unknown key 'depth abov'; expected a key of this block. "
     "To mend it: did you mean 'depth above'?"),
    ("effective length: 9", "line 6, column 19: found '9'; expected effective length over joint distance, 0.5 to 2. "
     "To mend it: write it as 'effective length: 1'."),
    ("supports: {left: welded}", "line 6, column 18: found 'welded'; expected 'pin', 'roller', 'roller y' or 'roller 30'. "
     "To mend it: use one of 'pin', 'roller'."),
    ("share: 30 %", "line 1, column 1: found a share of 30% for the most loaded of 2 side trusses; expected at least 50%. "
     "To mend it: write 'share: equal' or a larger share."),
    ("column curve: NSD", "line 6, column 15: found 'NSD'; expected one of 'Euler and Johnson', 'EN 1995-1-1' and 'NDS'. "
     "To mend it: did you mean 'NDS'?"),
    ("glued: sideways", "line 6, column 8: found 'sideways'; expected one of 'along' and 'at the ends'. "
     "To mend it: use one of 'along', 'at the ends'."),
    ("bracing: 0 mm", "line 6, column 10: found '0 mm'; expected a length of 1e-06 or more. "
     "To mend it: write a larger number."),
    ("limits: {slenderness: 5}", "line 6, column 23: found '5'; expected slenderness of a strut, 10 to 1000. "
     "To mend it: write it as 'slenderness: 200'."),
    ("glue: {strength: 5 MPa, lap: 12 mm, gusset: {thickness: 1 mm}}", "line 6, column 45: found no 'strength'; expected "
     "tensile strength of the plate. To mend it: add a line such as 'strength: 20 MPa'."),
    ("advice: lots", "line 6, column 9: found 'lots'; expected one of 'none', 'where to look' and 'what to try'. "
     "To mend it: use one of 'none', 'where to look', 'what to try'."),
    ("title: Again", "line 6, column 1: found 'title' a second time; expected each name once (the first stands in line 1). "
     "To mend it: take one of the two out, or give it another name."),
]  # fmt: skip


@pytest.mark.parametrize(("line", "said"), EXTRA, ids=lambda value: value[:30])
def test_a_wrong_line_more_in_a_brief_is_told_in_these_words(line: str, said: str) -> None:
    assert problems(f"{SMALL}{line}\n") == [said]


SECTIONS = [
    ("round 0 mm", "a diameter in mm, 0.1 to 500. To mend it: write for example 'round 4 mm'."),
    ("L 10 x 10 mm", "leg x leg x thickness in mm, each 0.1 to 500, the thickness less than a leg. "
     "To mend it: write for example 'L 10 x 10 x 1.5 mm'."),
    ("L 10 x 4 x 4 mm", "leg x leg x thickness in mm, each 0.1 to 500, the thickness less than a leg. "
     "To mend it: write for example 'L 10 x 10 x 1.5 mm'."),
    ("T 4 x 10 x 5 mm", "width x depth x thickness in mm, each 0.1 to 500, the thickness less than both. "
     "To mend it: write for example 'T 12 x 10 x 1.5 mm'."),
    ("5 x 600 mm", "width x thickness in mm, each 0.1 to 500. To mend it: write for example '5 x 5 mm'."),
]  # fmt: skip


@pytest.mark.parametrize(("written", "expected"), SECTIONS, ids=lambda value: value[:20])
def test_a_wrong_section_is_told_how_its_kind_is_written(written: str, expected: str) -> None:
    assert changed("5 x 5 mm", written) == [f"line 5, column 28: found '{written}'; expected {expected}"]


WOODS_WRONG = [
    ("{material: balsa, strengths: by weight}", "line 4, column 36: found 'by weight'; expected one of 'table' and "
     "'by density'. To mend it: did you mean 'by density'?"),
    ("{material: balsa, strengths: by density, density: 500 kg/m3}", "line 4, column 1: found a density of 500 kg/m3 for "
     "strengths by density; expected 60 to 380 kg/m3, where the law for balsa holds. To mend it: mend the density, or give "
     "the strengths and leave 'strengths' out."),
    ("{material: paulownia, strengths: by density, density: 280 kg/m3}", "line 4, column 1: found the material 'paulownia', "
     "whose strengths follow its density; expected a wood of the table, or both density and shear. To mend it: "),
    ("{material: balsa, strength level: 5 %}", "line 4, column 41: found '5 %'; expected 'mean' or a fractile from 0.1 % to "
     "50 %. To mend it: write for example 'strength level: 5 % fractile'."),
    ("{material: balsa, strength level: 60 % fractile}", "line 4, column 41: found '60 % fractile'; expected 'mean' or a"),
    ("{material: balsa, strength level: 5 % fractile, scatter: {shear: 70 %, distribution: normal}}", "line 4, column 1: "
     "found a normal scatter of 70%, which leaves no strength at the 5 % fractile; expected a strength above nought. "
     "To mend it: write 'distribution: lognormal', or a smaller scatter."),
    ("{material: balsa, scatter: {tension: 25}}", "line 4, column 44: found '25'; expected a part from 0 % to 100 %. "
     "To mend it: write for example '25 %'."),
]  # fmt: skip


@pytest.mark.parametrize(("wood", "said"), WOODS_WRONG, ids=lambda value: value[:40])
def test_a_mistake_about_the_wood_is_told_in_these_words(wood: str, said: str) -> None:
    (found,) = changed("{material: balsa}", wood)
    assert found.startswith(said)


FULL = """
column curve:  en 1995-1-1
bracing: 15 cm
glued: At the ends
glue: {strength: 5 MPa, lap: 12 mm, gusset: {thickness: 1 mm, strength: 20 MPa}}
limits: {slenderness: 200}
"""


def full() -> Brief:
    wood = (
        "{material: balsa, density: 120 kg/m3, strengths: by density, strength level: 2.5% fractile, "
        "scatter: {tension: 30 %, glue: 0.2, distribution: normal}, column modulus: 1.2 GPa}"
    )
    sections = "{rod: {section: round 4 mm, length: 900 mm, count: 2}, ell: {section: L 10 x 8 x 1.5 mm, length: 900 mm, count: 2}}"
    head = SMALL.replace("{material: balsa}", wood).split("stock")[0]
    return read_brief(f"{head}stock: {sections}{FULL}".encode())


def test_all_that_a_brief_says_of_strength_is_read() -> None:
    brief = full()
    assert (brief.column_curve, brief.bracing_mm, brief.glued) == ("EN 1995-1-1", 150, "at the ends")
    assert brief.limits.slenderness == 200
    assert brief.glue is not None
    assert brief.glue.gusset is not None
    assert (brief.glue.gusset.thickness_mm, brief.glue.gusset.strength_MPa) == (1, 20)
    wood = brief.wood
    assert (wood.strengths, wood.strength_level, wood.fractile) == ("by density", "2.5 % fractile", 0.025)
    assert (wood.scatter.tension, wood.scatter.glue, wood.scatter.shear) == (0.3, 0.2, None)
    assert (wood.scatter.distribution, wood.column_modulus_MPa) == ("normal", 1200)
    assert [str(stick.section) for stick in brief.stock.values()] == ["round 4 mm", "L 10 x 8 x 1.5 mm"]


def test_all_that_a_brief_says_of_strength_survives_the_journey_as_json() -> None:
    assert Brief.model_validate_json(full().model_dump_json()) == full()


def test_a_brief_that_says_nothing_of_strength_keeps_to_means_and_euler() -> None:
    brief = read_brief(SMALL.encode())
    assert (brief.column_curve, brief.bracing_mm, brief.glued) == ("Euler and Johnson", None, "along")
    assert (brief.wood.strengths, brief.wood.strength_level, brief.wood.fractile) == ("table", "mean", None)
    assert brief.limits.slenderness is None


def test_all_mistakes_of_a_brief_are_told_at_once() -> None:
    text = SMALL.replace("600 mm", "long").replace("200 N", "heavy").replace("5 x 5 mm", "thin")
    assert [problem.split(":")[0] for problem in problems(text)] == [
        "line 2, column 7",
        "line 3, column 33",
        "line 5, column 28",
    ]
