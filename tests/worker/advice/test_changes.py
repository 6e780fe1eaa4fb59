"""Small changes of a truss: what may move, and how far advice goes for large ones."""

from __future__ import annotations

import time

from rubric import library
from tests.corpus.mistaken import G as GOOD
from tests.worker.advice.test_steps import BRIEF, GIRDER, solved
from worker.advice.bracing import brace
from worker.advice.changes import moved
from worker.advice.steps import steps
from worker.marker import mark_file
from worker.truss.cautions import crossings
from worker.truss.reader import read_truss


def test_joints_on_the_deck_stay_and_a_mirrored_joint_moves_along() -> None:
    before = solved().truss.joints
    for change in moved(solved()):
        after = change.truss.joints
        assert all(after[name] == before[name] for name in ("a", "b", "c", "g", "h"))
        assert after["d"][1] == after["f"][1]
        assert after["d"][0] + after["f"][0] == 600


def test_a_bar_advised_runs_through_no_joint() -> None:
    moving = read_truss(GIRDER.replace("  d-c: square5\n", "").replace("  b-d: square3\n", "").encode(), BRIEF)
    bar = brace(moving, BRIEF)
    assert bar is not None
    assert crossings(moving) == ()
    assert bar.name not in {"a-c", "b-g", "d-f"}


def test_a_truss_of_the_largest_size_is_marked_and_advised_within_seconds() -> None:
    columns, rows = 33, 6
    at = {f"j{i}n{k}": (600 * i / 32, 36 * k) for i in range(columns) for k in range(rows)}
    near = [
        (f"j{i}n{k}", f"j{i + x}n{k + y}")
        for i in range(columns)
        for k in range(rows)
        for x, y in ((1, 0), (0, 1), (1, 1), (1, -1))
    ]
    bars = [pair for pair in near if pair[1] in at][:600]
    text = "joints:\n" + "".join(f"  {name}: [{x}, {y}]\n" for name, (x, y) in at.items())
    text += "members:\n" + "".join(f"  {a}-{b}: square5\n" for a, b in bars)
    began = time.perf_counter()
    outcome = mark_file(text.encode(), BRIEF, library.rubric("footbridge"))
    assert outcome.analysis is not None
    assert time.perf_counter() - began < 15


def test_a_bar_that_leaves_the_truss_redundant_elsewhere_is_still_found() -> None:
    """The strut a-c beside a-b-c: a state of self-stress and a mechanism at once."""
    text = "joints: {a: [0, 0], b: [300, 0], c: [600, 0], p: [51, 20]}\nmembers: {a-b: square5, a-c: square5, a-p: square5, b-c: square5, c-p: square5}\n"
    far = BRIEF.model_copy(update={"limits": type(BRIEF.limits)()})
    bar = brace(read_truss(text.encode(), far), far)
    assert bar is not None
    assert {bar.start, bar.end} == {"b", "p"}


def test_a_joint_that_lies_on_a_member_is_advised_to_be_joined_and_not_bridged() -> None:
    text = (
        GIRDER.replace("  b-c: square5\n", "").replace("a-b: square5", "a-c: square5").replace("  b-d: square3\n", "")
    )
    (first, *_) = steps(solved(text))
    assert first.title == "Join member a-c to joint b"
    assert "a-b and b-c" in first.text


def test_no_change_makes_a_broken_limit_worse() -> None:
    """Rafters of 335 mm where 250 mm are allowed: a deeper truss would make them longer still."""
    titles = [step.title for step in steps(solved(GOOD))]
    assert titles[0] == "Keep the limits of the brief"
    assert not any("deeper" in title for title in titles)
