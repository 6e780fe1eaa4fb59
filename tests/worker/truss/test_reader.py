"""Truss files as they should be, in every way that a pupil may write them."""

from __future__ import annotations

import pytest

from rubric import library
from rubric.problems import Refused
from tests.corpus.mistaken import G as GOOD
from worker.truss.reader import read_truss

BRIEF = library.brief("footbridge")

TABLE = """title,My bridge
units,mm
joint,a,0,0
joint,b,300,0
joint,c,600,0
joint,d,300,150
member,a-b,square5
member,b-c,square5
member,a-d,square5
member,d-c,square5
member,b-d,square3
"""


def test_a_class_file_carries_the_supports_of_the_brief_and_one_sides_share_of_its_load() -> None:
    truss = read_truss(GOOD.encode(), BRIEF)
    assert {name: support.said for name, support in truss.supports.items()} == {"a": "pin", "c": "roller"}
    assert truss.loads == {"b": (0.0, -100.0)}


def test_a_table_gives_the_same_truss_as_yaml() -> None:
    table = read_truss(TABLE.encode(), BRIEF)
    assert table == read_truss(f"title: My bridge\n{GOOD}".encode(), BRIEF)


@pytest.mark.parametrize("between", [",", ";", "\t"])
def test_a_table_may_be_separated_by_commas_semicolons_or_tabs(between: str) -> None:
    assert read_truss(TABLE.replace(",", between).encode(), BRIEF).title == "My bridge"


@pytest.mark.parametrize("text", [GOOD, TABLE])
def test_a_byte_order_mark_and_windows_line_ends_change_nothing(text: str) -> None:
    windows = b"\xef\xbb\xbf" + text.replace("\n", "\r\n").encode()
    assert read_truss(windows, BRIEF) == read_truss(text.encode(), BRIEF)


def test_comments_and_empty_lines_in_a_table_are_passed_over() -> None:
    assert read_truss(f"# my table\n\n{TABLE},,,\n".encode(), BRIEF) == read_truss(TABLE.encode(), BRIEF)


@pytest.mark.parametrize(
    "name", ["no", "1", "1e3", "on", "~", "null", "0x1F", "12:30", "2027.01", "ü", "节点", "مفصل", "क्ष"]
)
def test_a_joint_may_have_any_name_whatever_yaml_would_make_of_it(name: str) -> None:
    truss = read_truss(
        GOOD.replace("  d:", f"  {name}:").replace("-d", f"-{name}").replace("d-", f"{name}-").encode(), BRIEF
    )
    assert name in truss.joints
    assert [member.name for member in truss.members][2] == f"a-{name}"


def test_names_spelt_with_combining_and_with_single_characters_are_the_same_joint() -> None:
    text = GOOD.replace("  d:", "  e\u0301:").replace("-d", "-\u00e9").replace("d-", "\u00e9-")
    assert "\u00e9" in read_truss(text.encode(), BRIEF).joints


def test_member_ends_may_come_in_either_order_and_keep_their_spelling() -> None:
    truss = read_truss(GOOD.replace("a-b", "b-a").encode(), BRIEF)
    assert truss.members[0].name == "b-a"


def test_units_of_the_file_are_turned_into_millimetres_and_newtons() -> None:
    text = "units: m\nforce: kN\njoints: {A: [0, 0], B: [400 cm, 0]}\nmembers:\n  A-B:\n"
    truss = read_truss(f"{text}supports: {{A: pin, B: roller 30}}\nloads: {{B: [1.5, -2000 N]}}\n".encode())
    assert truss.joints["B"] == (4000.0, 0.0)
    assert truss.loads["B"] == (1500.0, -2000.0)
    assert truss.supports["B"].held[0] == pytest.approx((-0.5, 0.8660254037844387))


def test_a_doubled_stick_is_two_of_them() -> None:
    truss = read_truss(GOOD.replace("a-d: square5", "a-d: square5 x2").encode(), BRIEF)
    assert [(m.stick, m.count) for m in truss.members if m.name == "a-d"] == [("square5", 2)]


def test_working_by_hand_is_read_with_its_signs() -> None:
    text = (
        f"{GOOD}working:\n  reactions: {{a: 50 up, c: 50 up 2 left}}\n  forces: {{a-d: 80.0 C, b-a: 62.5 T, b-d: 0}}\n"
    )
    working = read_truss(text.encode(), BRIEF).working
    assert working is not None
    assert {name: written.force_N for name, written in working.reactions.items()} == {"a y": 50, "c y": 50, "c x": -2}
    assert {name: written.force_N for name, written in working.forces.items()} == {"a-d": -80, "a-b": 62.5, "b-d": 0}


def test_a_load_along_the_deck_goes_to_its_joints_by_tributary_length() -> None:
    brief = library.brief("market-bridge")
    text = (
        "joints: {a: [0, 0], b: [200, 0], c: [800, 0], d: [400, 200]}\nmembers: {a-b: flat6, b-c: flat6, a-d: flat6}\n"
    )
    loads = read_truss(text.encode(), brief).loads
    assert {name: force[1] for name, force in loads.items()} == pytest.approx(
        {"a": -275 * 100 / 800, "b": -275 * 400 / 800, "c": -275 * 300 / 800}
    )


@pytest.mark.parametrize("joints", ["{a: [0, 50], b: [800, 50]}", "{a: top, b: top}", "{}"])
def test_a_file_without_a_joint_on_a_deck_that_is_loaded_along_it_is_told_its_mistakes(joints: str) -> None:
    text = f"joints: {joints}\nmembers: {{a-b: flat6}}\n"
    with pytest.raises(Refused) as refused:
        read_truss(text.encode(), library.brief("market-bridge"))
    assert refused.value.problems[0].found in ("no joint for the left support", "'top'", "no joints")


def test_two_hundred_joints_and_six_hundred_members_are_still_read() -> None:
    joints = "".join(f"  j{i}: [{i * 3}, {1 + i * i % 199}]\n" for i in range(197))
    ends = "  left: [0, 0]\n  mid: [300, 0]\n  right: [600, 0]\n"
    pairs = [(i, k) for i in range(197) for k in range(i)][:600]
    text = f"joints:\n{joints}{ends}members:\n" + "".join(f"  j{i}-j{k}: square5\n" for i, k in pairs)
    truss = read_truss(text.encode(), BRIEF)
    assert (len(truss.joints), len(truss.members)) == (200, 600)


TRIPOD = """joints: {A: [3, 0, 0], B: [0, 3, 0], C: [-3, -3, 0], D: [0, 0, 4]}
members: {A-D: , B-D: , C-D: , A-B: }
supports: {A: pin, B: holds x z, C: roller}
settlements: {A: [0, 0, -0.1]}
loads: {D: [1, 2 kN, -30]}
"""


def test_joints_with_three_coordinates_make_a_space_truss() -> None:
    truss = read_truss(TRIPOD.encode())
    assert truss.joints["D"] == (0.0, 0.0, 4.0)
    assert truss.loads["D"] == (1.0, 2000.0, -30.0)
    assert truss.settlements["A"] == (0.0, 0.0, -0.1)


def test_in_space_a_pin_holds_all_three_axes_a_roller_z_and_others_name_theirs() -> None:
    held = {name: support.held for name, support in read_truss(TRIPOD.encode()).supports.items()}
    x, y, z = (1, 0, 0), (0, 1, 0), (0, 0, 1)
    assert held == {"A": (x, y, z), "B": (x, z), "C": (z,)}


def test_a_table_gives_the_same_space_truss_as_yaml() -> None:
    table = (
        "joint,A,3,0,0\njoint,B,0,3,0\njoint,C,-3,-3,0\njoint,D,0,0,4\nmember,A-D\nmember,B-D\nmember,C-D\nmember,A-B\n"
        "support,A,pin\nsupport,B,holds x z\nsupport,C,roller\nsettlement,A,0,0,-0.1\nload,D,1,2 kN,-30\n"
    )
    assert read_truss(table.encode()) == read_truss(TRIPOD.encode())


def test_misfits_name_members_in_either_order_and_take_the_units_of_the_file() -> None:
    plane = "units: m\njoints: {A: [0, 0], B: [4, 0], C: [2, 3]}\nmembers: {A-B: , A-C: , B-C: }\nsupports: {A: pin, B: roller}\n"
    truss = read_truss(f"{plane}misfits: {{B-A: 2 mm, B-C: -0.001}}\n".encode())
    assert truss.misfits == {"A-B": 2.0, "B-C": -1.0}
    table = (
        "units,m\njoint,A,0,0\njoint,B,4,0\njoint,C,2,3\nmember,A-B\nmember,A-C\nmember,B-C\n"
        "support,A,pin\nsupport,B,roller\nmisfit,B-A,2 mm\nmisfit,B-C,-0.001\n"
    )
    assert read_truss(table.encode()) == truss
