"""The schemas for editors, held against the readers: what a reader takes a schema takes, and what it refuses too.

A schema looks at each value alone.  What it therefore cannot say stands in ``BEYOND_A_SCHEMA`` with the
reason; a file that is on the list without need fails the test as well.
"""

from __future__ import annotations

import json
from typing import Any

import pytest
import yaml
from jsonschema import Draft202012Validator

from rubric import library
from rubric.located import decode, plain, read_yaml
from rubric.problems import Findings, Refused
from rubric.schemas import NAMES, schema
from rubric.schemas.command import command
from service.classes import examples
from service.demo.school import classes
from tests.corpus import mistaken_rubrics
from tests.corpus.mistaken import CASES
from tests.rubric import test_brief as briefs
from tests.rubric.contest import test_rules as contests
from tests.rubric.contest.made import RIG
from tests.rubric.schemas.corpus import as_editor
from tests.test_documents import blocks
from worker.truss.reader import read_truss
from worker.truss.table import separator

VALIDATORS = {name: Draft202012Validator(schema(name)) for name in NAMES}

BETWEEN = "one value against another"
SPELT = "how a value is spelt in the file; an editor hands over what it took it for"
GIVEN = "the brief is not part of the schema"
MEASURE = "which units a measure takes"
BOUND = "a bound of a number that was written as text"
COUNTED = "how many there may be"
SIZE = "a size within text, such as the number before its unit"

BEYOND_A_SCHEMA: dict[str, str] = {
    "64 KB and one byte more": "the size of the file",
    "a tag of a plain type": SPELT,
    "a key twice": SPELT,
    "a joint twice": SPELT,
    "a leading nought": SPELT,
    "supports in a class file": "whether a file is for a class: with supports it is taken to stand alone",
    "a joint beyond ten kilometres": "a number against the file's own unit",
    "two joints at one place": BETWEEN,
    "a name that turns the line round": "which letters are invisible",
    "a member to a joint that is not there": BETWEEN,
    "a joint misspelt in a member": BETWEEN,
    "a member from a joint to itself": BETWEEN,
    "a member the other way round": BETWEEN,
    "the same member again": SPELT,
    "a stick that is not in the kit": GIVEN,
    "no space before the count": GIVEN,
    "no joint under the load": GIVEN,
    "a support missed by a little": GIVEN,
    "centimetres meant but not said": GIVEN,
    "working for a member that is not there": BETWEEN,
    "working for a joint that is not there": BETWEEN,
    "working for a member twice": BETWEEN,
    "a zero member that is not there": BETWEEN,
    "a support at no joint": BETWEEN,
    "a load at no joint": BETWEEN,
    "a misfit of a member that is not there": BETWEEN,
    "the length of a member as its misfit": BETWEEN,
    "one joint of a space truss without its z": BETWEEN,
    "one joint of a plane truss with a z": BETWEEN,
    "a load in the plane on a space truss": BETWEEN,
    "a settlement in the plane of a space truss": BETWEEN,
    "a roller on a slope in space": BETWEEN,
    "a support of the plane that names its axes": BETWEEN,
    "[100 mm, 700 mm]": BETWEEN,
    "blasa": "which woods need no values of their own",
    "dates: {due: 2027-13-01}": "the calendar",
    "dates: {opens: 2027-03-02, due: 2027-03-01}": BETWEEN,
    "kerf: -1 mm": SIZE,
    "kerf: 3 cm": SIZE,
    "share: 30 %": BETWEEN,
    "title: Again": SPELT,
    "round 0 mm": SIZE,
    "5 x 600 mm": SIZE,
    "L 10 x 4 x 4 mm": BETWEEN,
    "T 4 x 10 x 5 mm": BETWEEN,
    "{material: balsa, strengths: by density, density: 500 kg/m3}": BETWEEN,
    "{material: paulownia, strengths: by density, density: 280 kg/m3}": "which woods need no values of their own",
    "{material: balsa, strength level: 60 % fractile}": SIZE,
    "{material: balsa, strength level: 5 % fractile, scatter: {shear: 70 %, distribution: normal}}": BETWEEN,
    "points that do not add up": BETWEEN,
    "two criteria of one name": BETWEEN,
    "nothing but a bonus": BETWEEN,
    "a weight without a sum to share": BETWEEN,
    "no points left for the weights": BETWEEN,
    "bonus and deduct": BETWEEN,
    "a unit of another thing": MEASURE,
    "a share without its sign": MEASURE,
    "a scale that runs backwards": BETWEEN,
    "a scale worth more than its points": BETWEEN,
    "bands with a gap at the foot": BETWEEN,
    "bands that overlap": BETWEEN,
    "bands worth less than the points": BETWEEN,
    "a share of par upside down": BETWEEN,
    "each one over takes more than all": BETWEEN,
    "a place with marks released at once": BETWEEN,
    "a place with marks released at once, outright": BETWEEN,
    "places that begin with the second": BETWEEN,
    "a later place that earns more": BETWEEN,
    "senses beside forces": BETWEEN,
    "the same asked twice": BETWEEN,
    "two levels of the same points": BETWEEN,
    "a judgement that deducts": BETWEEN,
    "lateness that never ends": BETWEEN,
    "lateness in parts with an end in points": BETWEEN,
    "lateness that ends before it begins": BETWEEN,
    "a least mark above all there is": BETWEEN,
    "a least mark below nought": BOUND,
    "a most that nobody can earn": BETWEEN,
    "found 0 divisions; expected 1 to 20. To mend it: add or take out divisions.": COUNTED,
    "found two divisions called 'a'; expected different names. To mend it: rename one of them.": BETWEEN,
    "found '13 to 11'; expected the first and the last age, from 5 to 25. To mend it: write for example '11 to 13'.": BETWEEN,
    "found both 'ages' and 'classes'; expected one of the two, or neither. To mend it: take one of them out.": BETWEEN,
    "found 'day' before 'freeze'; expected opens, freeze, day and publish in this order. To mend it: change one of the two.": BETWEEN,
    "found a tie-break that is what the list is ranked by, 'load'; expected something else. To mend it: take it out of 'ties'.": BETWEEN,
    "found 'over mass' without a mass; expected the mass of the weigh-in. To mend it: add for example 'weigh in: {mass: 60 g}'.": BETWEEN,
    "found 9 entries for each pupil; expected 1 to 5. To mend it: lower 'entries'.": COUNTED,
    "{most: 9 N, points: [[0, 0], [1, 1], [2, 2]]}": BETWEEN,
    "{most: 9 N, points: [[0, 2], [1, 1], [2, 0]], calibrated: 2027-01-01}": BETWEEN,
    "{most: 9 N, points: [[1, 2], [1, 1], [1, 0]], calibrated: 2027-01-01}": BETWEEN,
}


WORKING = [
    "working: {reactions: {a: 50 up, c: 50 N up 20 left}}\n",
    "working: {reactions: {a: 0, c: 5.1 kg up}, forces: {a-b: T, d-a: 80.0 C, b-d: 0, d-c: 1.2e1 kN C}}\n",
    "working: {zero members: [b-d, a-b]}\n",
    "working: {zero members: none}\n",
    "working:\n  zero members: b-d, b-c\n",
]
"""Ways of writing what was worked out by hand, after the example of the help page."""


def is_table(data: bytes) -> bool:
    try:
        return separator(decode(data)) is not None
    except Refused:
        return False


def told(kind: str, data: bytes) -> bool:
    """Whether an editor with the schema says that something is wrong."""
    try:
        return not VALIDATORS[kind].is_valid(as_editor(data))
    except (yaml.YAMLError, UnicodeDecodeError, RecursionError):
        return True


def bad() -> list[tuple[str, str, bytes]]:
    """Kind, name and bytes of each file that a reader refuses."""
    small = briefs.SMALL
    texts = [("brief", new, small.replace(old, new)) for old, new, _ in briefs.MISTAKES]
    texts += [("brief", line, f"{small}{line}\n") for line, _ in [*briefs.MORE, *briefs.EXTRA]]
    texts += [("brief", written, small.replace("5 x 5 mm", written)) for written, _ in briefs.SECTIONS]
    texts += [("brief", wood, small.replace("{material: balsa}", wood)) for wood, _ in briefs.WOODS_WRONG]
    texts += [("contest", said, f"title: T\n{RIG}{lines}") for lines, said in contests.MISTAKEN]
    texts += [("contest", rig, f"title: T\nrig: {rig}\n") for rig, _ in contests.RIGS]
    trusses = [("truss", case.name, case.data) for case in CASES if not is_table(case.data)]
    wrong = [("rubric", name, data) for name, data in mistaken_rubrics.CASES.items()]
    return trusses + wrong + [(kind, name, text.encode()) for kind, name, text in texts]


def good() -> list[tuple[str, str, bytes]]:
    """Kind, name and bytes of each file that a reader takes."""
    found = [("brief", name, library.brief_text(name)) for name in library.brief_names()]
    found += [("rubric", name, library.rubric_text(name)) for name in library.rubric_names()]
    found += [("contest", name, library.contest_text(name)) for name in library.contest_names()]
    found += [("contest", "of its page", contests.example())]
    found += [("brief", "of the README", text.encode()) for text in blocks("brief")]
    found += [("rubric", "of the README", text.encode()) for text in blocks("rubric")]
    found += [
        ("truss", "of the README", text.encode()) for text in blocks("truss: alone") + blocks("truss: footbridge")
    ]
    found += [("truss", "of the help page", f"{examples.YAML}{examples.WORKING}".encode())]
    found += [("truss", f"working {n}", f"{examples.YAML}{text}".encode()) for n, text in enumerate(WORKING)]
    for school_class in classes():
        brief = library.brief(school_class.ready)
        for hand_in in school_class.hand_ins:
            try:
                read_truss(hand_in.text.encode(), brief)
            except Refused:
                continue
            found.append(("truss", f"{hand_in.student}, {hand_in.file_name}", hand_in.text.encode()))
    return [one for one in found if not is_table(one[2])]


@pytest.mark.parametrize("name", NAMES)
def test_a_schema_is_one_of_draft_2020_12(name: str) -> None:
    Draft202012Validator.check_schema(schema(name))
    assert schema(name)["$schema"].endswith("2020-12/schema")


@pytest.mark.parametrize(("kind", "name", "data"), good(), ids=lambda value: str(value)[:40])
def test_what_a_reader_takes_a_schema_takes(kind: str, name: str, data: bytes) -> None:
    as_text = plain(read_yaml(decode(data), Findings()))
    for seen in (as_editor(data), as_text):
        assert [f"{error.json_path}: {error.message}" for error in VALIDATORS[kind].iter_errors(seen)] == []


@pytest.mark.parametrize(("kind", "name", "data"), bad(), ids=lambda value: str(value)[:40])
def test_what_a_reader_refuses_a_schema_refuses_or_cannot_say(kind: str, name: str, data: bytes) -> None:
    assert told(kind, data) == (name not in BEYOND_A_SCHEMA), BEYOND_A_SCHEMA.get(name, "the schema takes it")


def test_every_entry_of_the_list_is_a_file_of_the_corpus() -> None:
    assert set(BEYOND_A_SCHEMA) <= {name for _, name, _ in bad()}


def test_a_schema_names_every_measure_and_every_kind() -> None:
    from rubric.criteria import KINDS
    from rubric.measures import CATALOGUE

    text = json.dumps(schema("rubric"))
    assert all(f'"{name}"' in text for name in CATALOGUE)
    assert {kind.__name__ for kind in KINDS} <= set(schema("rubric")["$defs"])


VALUES: list[tuple[str, str, Any, bool]] = [
    ("span", "600 mm", 600, True),
    ("span", "0.6 m", 0.6, True),
    ("span", "0 mm", 0, False),
    ("span", "600 km", -1, False),
    ("sides", "2", 2, True),
    ("sides", "2.5", 2.5, False),
    ("effective length", "1", 1, True),
    ("share", "60 %", 0.6, True),
    ("share", "160 %", 1.6, False),
    ("advice", "Where to  look", "none", True),
]


@pytest.mark.parametrize(("key", "text", "number", "taken"), VALUES)
def test_a_value_may_be_text_with_its_unit_or_a_number(key: str, text: str, number: Any, taken: bool) -> None:
    brief = as_editor(library.brief_text("footbridge"))
    for value in (text, number):
        assert VALIDATORS["brief"].is_valid(brief | {key: value}) is taken, value


def test_the_command_prints_a_schema(capsys: pytest.CaptureFixture[str]) -> None:
    assert command(["truss"]) == 0
    assert json.loads(capsys.readouterr().out) == schema("truss")
