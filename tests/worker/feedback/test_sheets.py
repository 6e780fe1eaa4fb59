"""Sheets: read back as PDF, they say what the outcome says, to eyes and to screen readers."""

from __future__ import annotations

import base64
import re
import subprocess
from io import BytesIO
from itertools import pairwise
from typing import Any

import pikepdf
import pytest

from rubric.evidence import Answer
from rubric.language import Language, speaking
from rubric.messages.orders import PrintOrder, SheetHead
from rubric.messages.outcomes import Marked
from rubric.wording import figure
from tests import trusses
from tests.worker.feedback import samples
from worker.feedback import typesetter, view
from worker.feedback.sheets import print_sheet, sheet_html, sheet_pdf
from worker.feedback.worked.equilibrium import balances
from worker.feedback.worked.failure import failure
from worker.feedback.worked.reactions import reactions

GOOD = samples.marked(trusses.warren(4, 150, 120, 50))
MECHANISM = samples.marked(samples.square())
OUTCOMES = {"stable": GOOD, "mechanism": MECHANISM, "mistakes": samples.mistaken()}
_TOLD = ("/S", "/Alt", "/A")
ESCAPED = '<img src="http://example.invalid/x.png"><link rel=stylesheet href="file:///etc/passwd">'


def set_sheet(outcome: Marked, **head: object) -> bytes:
    return sheet_pdf(samples.HEAD.model_copy(update=head), samples.BRIEF, outcome)


def opened(pdf: bytes) -> Any:
    return pikepdf.open(BytesIO(pdf))


def read(pdf: bytes) -> str:
    """The text of a PDF in reading order, on one line."""
    done = subprocess.run(["pdftotext", "-raw", "-", "-"], input=pdf, capture_output=True, check=True)
    return " ".join(done.stdout.decode().split())


def tagged(data: bytes) -> list[dict[str, str]]:
    """All structure elements: kind, alternative text and attributes."""
    with opened(data) as pdf:
        found, waiting = [], [pdf.Root.StructTreeRoot.K]
        while waiting:
            node = waiting.pop()
            if isinstance(node, pikepdf.Array):
                waiting.extend(node)
            elif isinstance(node, pikepdf.Dictionary) and "/S" in node:
                found.append({key: repr(node[key]) if key == "/A" else str(node[key]) for key in node if key in _TOLD})
                waiting.append(node.get("/K", pikepdf.Array()))
        return found


@pytest.mark.parametrize("kind", OUTCOMES)
def test_a_sheet_is_tagged_in_english_titled_and_claims_pdf_ua(kind: str) -> None:
    pdf = opened(set_sheet(OUTCOMES[kind]))
    assert pdf.Root.Lang == "en"
    assert bool(pdf.Root.MarkInfo.Marked)
    assert bool(pdf.Root.ViewerPreferences.DisplayDocTitle)
    assert samples.HEAD.student in str(pdf.docinfo.Title)
    assert pdf.open_metadata()["pdfuaid:part"] == "1"


@pytest.mark.parametrize("kind", ["stable", "mechanism"])
def test_the_figure_carries_all_it_says_as_alternative_text(kind: str) -> None:
    figures = [node for node in tagged(set_sheet(OUTCOMES[kind])) if node.get("/S") == "/Figure"]
    assert len(figures) == sheet_html(samples.HEAD, samples.BRIEF, OUTCOMES[kind]).count("<svg")
    assert all(len(one["/Alt"]) > 20 for one in figures)
    told = [one["/Alt"] for one in figures if one["/Alt"].startswith("A truss of ")]
    figures = [one for one in figures if one["/Alt"] in told]
    assert ("breaks first" if kind == "stable" else "These joints move") in figures[0]["/Alt"]


def test_every_cell_of_a_table_points_to_its_headings() -> None:
    nodes = tagged(set_sheet(GOOD))
    cells = [node for node in nodes if node.get("/S") == "/TD"]
    assert len(cells) > 50
    assert all("/Headers" in cell["/A"] for cell in cells)
    headings = sheet_html(samples.HEAD, samples.BRIEF, GOOD).count("<th ")
    assert sum(node.get("/S") == "/TH" for node in nodes) == headings


def test_headings_come_in_order_and_the_bridge_is_the_first() -> None:
    tags = re.findall(r"<(h\d)", sheet_html(samples.HEAD, samples.BRIEF, samples.mistaken()))
    assert tags[0] == "h1"
    assert tags.count("h1") == 1
    assert all(int(b[1]) - int(a[1]) <= 1 for a, b in pairwise(tags))


def test_a_sheet_says_who_it_is_for_what_was_handed_in_and_when() -> None:
    text = read(set_sheet(GOOD))
    head = samples.HEAD
    for said in (head.student, head.class_name, head.school, head.teacher, head.handed_in, head.file_name):
        assert said in text
    assert GOOD.title in text
    assert f"Attempt {head.attempt_number}" in text
    assert head.comment in text
    assert head.place in text


def test_a_sheet_prints_the_marks_of_the_outcome() -> None:
    text = read(set_sheet(GOOD))
    assert text.count("42.5 of 60 points so far; 10 points wait for your teacher") == 2
    for row in GOOD.marks.criteria:
        assert row.name in text
        assert row.why in text
        assert row.earn_more in text


def corrected(why: str = "The gusset at b was measured and holds.") -> Marked:
    """The good bridge, whose second criterion a teacher gave other points."""
    first, second, third = GOOD.marks.criteria
    changed = second.model_copy(update={"points": 26, "why": why, "corrected": True, "earn_more": ""})
    marks = GOOD.marks.model_copy(update={"criteria": (first, changed, third), "total": 46})
    return GOOD.model_copy(update={"marks": marks})


@pytest.mark.parametrize(
    ("language", "day", "said"),
    [
        ("en", "1 July 2027", "Changed by your teacher on 1 July 2027: The gusset at b was measured and holds."),
        (
            "de",
            "1. Juli 2027",
            "Von deiner Lehrkraft geändert am 1. Juli 2027: The gusset at b was measured and holds.",
        ),
        ("en", "", "Changed by your teacher: The gusset at b was measured and holds."),
    ],
)
def test_points_that_a_teacher_changed_are_marked_as_such_with_reason_and_day(
    language: Language, day: str, said: str
) -> None:
    name = GOOD.marks.criteria[1].name
    with speaking(language):
        text = read(set_sheet(corrected(), corrected={name: day} if day else {}))
    assert text.count(said) == 1
    assert text.index(name) < text.index(said) < text.index(GOOD.marks.criteria[2].name)


def test_points_that_nobody_changed_are_not_called_changed() -> None:
    assert "Changed by" not in read(set_sheet(GOOD, corrected={row.name: "1 July 2027" for row in GOOD.marks.criteria}))


def test_a_long_reason_leaves_the_sheet_at_four_pages() -> None:
    why = "I measured the gusset at b again and looked at your sketch once more. " * 8
    name = GOOD.marks.criteria[1].name
    pdf = set_sheet(corrected(why[:600]), corrected={name: "1 July 2027"})
    assert len(opened(pdf).pages) == 4


def test_a_sheet_prints_what_the_rules_did_and_names_bonus_and_deduction() -> None:
    rows = GOOD.marks.criteria
    changed = (
        rows[0].model_copy(update={"counts_as": "bonus", "points": 3, "out_of": 5}),
        rows[1].model_copy(update={"counts_as": "deduction", "points": -2, "out_of": 0}),
    )
    said = "Minus 4 points: handed in 2 hours late."
    outcome = GOOD.model_copy(update={"marks": GOOD.marks.model_copy(update={"criteria": changed, "rules": (said,)})})
    text = " ".join(read(set_sheet(outcome)).split())
    assert said in text
    assert "3 of 5 (bonus)" in text
    assert "-2 (deduction)" in text


def test_points_print_as_they_add_up() -> None:
    marks = GOOD.marks.model_copy(update={"total": 126.78, "out_of": 150.0, "waiting": 0.0})
    assert "126.78 of 150 points" in read(set_sheet(GOOD.model_copy(update={"marks": marks})))


def test_the_load_the_member_that_breaks_and_the_mass_to_hang_are_told_on_the_first_page() -> None:
    assert GOOD.analysis is not None
    load = GOOD.analysis.failure_load_N or 0.0
    first = read(set_sheet(GOOD)).split("How the points were earned")[0]
    assert f"about {figure(load)} N, like {figure(load / 9.80665)} kg hung on it" in first
    assert f"Member {GOOD.analysis.first_failure and GOOD.analysis.first_failure.member} breaks first" in first


def test_the_table_prints_the_numbers_of_the_hardest_worked_members() -> None:
    assert GOOD.analysis is not None
    text = read(set_sheet(GOOD))
    worked = sorted(GOOD.analysis.members, key=lambda row: -row.utilisation)
    for row in worked:
        side = "T" if row.force_N > 0 else "C"
        cells = [figure(row.length_mm), f"{figure(abs(row.force_N))} {side}", figure(100 * row.utilisation)]
        assert all(cell in text for cell in (row.name, *cells))
    assert view.hardest_worked(GOOD.analysis)[0].name == worked[0].name


def test_stress_carries_a_sign_and_tension_is_said_to_be_positive() -> None:
    assert GOOD.analysis is not None
    for line in view.hardest_worked(GOOD.analysis):
        assert line.stress_MPa.startswith("+" if line.force_N.endswith("T") else "−")
    assert "T: tension, counted +. C: compression, counted −." in read(set_sheet(GOOD))


def test_cautions_stand_on_every_sheet_that_leads_to_a_saw() -> None:
    for outcome in (GOOD, MECHANISM):
        text = read(set_sheet(outcome))
        for said in ("eye protection", "stand back", "Cut away from yourself", "adult present", "rules of your school"):
            assert said in text
        assert "Never use it for a structure that people use" in text


@pytest.mark.parametrize(("case", "pages"), [("stable", 4), ("mechanism", 2), ("mistakes", 1)])
def test_a_sheet_keeps_to_its_pages_on_both_papers(case: str, pages: int) -> None:
    for paper, wide in (("A4", 595), ("Letter", 612), ("no such paper", 595)):
        pdf = opened(set_sheet(OUTCOMES[case], paper=paper))
        assert len(pdf.pages) == pages
        assert round(float(pdf.pages[0].MediaBox[2])) == wide


@pytest.mark.parametrize(("criteria", "comment"), [(8, 200), (10, 400), (6, 800)])
def test_more_criteria_and_longer_comments_leave_the_sheet_at_four_pages(criteria: int, comment: int) -> None:
    row = GOOD.marks.criteria[1]
    rows = tuple(row.model_copy(update={"name": f"{row.name} {i}"}) for i in range(criteria))
    outcome = GOOD.model_copy(update={"marks": GOOD.marks.model_copy(update={"criteria": rows})})
    assert len(opened(set_sheet(outcome, comment="A word or so. " * (comment // 14))).pages) == 4


def test_the_foot_of_each_page_names_bridge_attempt_and_page() -> None:
    text = read(set_sheet(GOOD))
    assert text.count(f"{GOOD.title}, attempt 2") == 4
    assert all(f"page {number} of 4" in text for number in (1, 2, 3, 4))


def test_a_mechanism_tells_which_joints_move_why_and_why_counting_is_not_enough() -> None:
    text = read(set_sheet(MECHANISM))
    assert "Joints b, d, e and f move." in text
    assert "A triangle keeps its shape" in text
    assert "6 joints, 12 directions. You have 8 members and 3 directions held by supports: 11 in all." in text
    assert "So 1 member is missing." in text


def test_a_mechanism_with_enough_members_is_told_that_counting_is_not_enough() -> None:
    assert MECHANISM.analysis is not None
    members = (*MECHANISM.analysis.members, MECHANISM.analysis.members[0])
    said = view.counting(MECHANISM.analysis.model_copy(update={"degree": 1, "members": members}))
    assert "9 members and 3 directions held by supports: 12 in all. So the count alone looks fine." in said
    assert "counting is not enough" in said


def test_a_critical_form_is_told_that_no_member_is_missing_and_each_way_names_its_joints() -> None:
    assert MECHANISM.analysis is not None
    changed = {"form": "critical form", "critical": 2, "mechanisms": 2, "degree": 2, "ways": (("b", "d"), ("e", "f"))}
    sheet = set_sheet(MECHANISM.model_copy(update={"analysis": MECHANISM.analysis.model_copy(update=changed)}))
    assert len(opened(sheet).pages) == 2
    text = read(sheet)
    assert "No member is missing: it moves because of its shape." in text
    assert "Think of three joints in one line" in text
    assert "Somewhere in your truss there is a shape with four or more sides" not in text
    assert "In the first, joints b and d move. In the second, joints e and f move." in text


def test_each_mistake_is_quoted_with_its_line_a_mark_and_how_to_mend_it() -> None:
    outcome = samples.mistaken()
    page = sheet_html(samples.HEAD, samples.BRIEF, outcome)
    text = read(set_sheet(outcome))
    for mistake, word in zip(outcome.mistakes, ("1O0", "a-e", "sqare3"), strict=True):
        assert f"<mark>{word}</mark>" in page
        for said in (f"Line {mistake.line}", mistake.found, mistake.expected, mistake.mend):
            assert said in text
    assert "hand it in again" in text


@pytest.mark.parametrize(
    ("column", "quote", "there"),
    [
        (1, "a: [1, 2]", "a"),
        (5, "a: [1x, 2]", "1x"),
        (30, "a: 1", "\u2423"),
        (1, "", "\u2423"),
        (3, "  \u202eab", "\ufffd"),
    ],
)
def test_the_mark_lies_under_the_column(column: int, quote: str, there: str) -> None:
    mistake = samples.mistaken().mistakes[0].model_copy(update={"column": column, "quote": quote})
    assert view.quoted_at(mistake).there.startswith(there)


def test_nothing_is_ever_fetched(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[str] = []
    monkeypatch.setattr(typesetter.NothingFetched, "fetch", lambda self, url, headers=None: asked.append(url))
    names = {"b0": "<img/src=http://example.invalid/y>", "t0": "url(file:///etc/passwd)"}
    hostile = samples.marked(samples.renamed(trusses.warren(3, 200, 150, 33), names), title=ESCAPED)
    text = read(set_sheet(hostile, student=ESCAPED, comment=ESCAPED, place=ESCAPED, file_name=ESCAPED))
    assert asked == []
    assert ESCAPED.replace(" ", "") in text.replace(" ", "")


def test_the_fetcher_refuses_files_data_and_the_network() -> None:
    for url in ("file:///etc/hostname", "http://example.invalid/", "data:,x"):
        with pytest.raises(ValueError, match="fetches nothing"):
            typesetter.NothingFetched().fetch(url)


def test_names_in_other_scripts_are_printed_and_can_be_read_back() -> None:
    names = {"student": "李桥", "class_name": "Мост", "school": "Γέφυρα", "teacher": "ليلى"}
    outcome = samples.marked(samples.renamed(trusses.warren(3, 200, 150, 33), {"t0": "قوس", "t1": "梁"}))
    text = read(set_sheet(outcome, **names))
    for name in ("李桥", "Мост", "Γέφυρα", "ليلى", "قوس", "梁"):
        assert name in text or name[::-1] in text  # readers differ in the direction they give


def test_the_same_order_gives_the_same_bytes() -> None:
    order = PrintOrder(job=7, attempt="t", head=samples.HEAD, brief=samples.BRIEF, outcome=GOOD)
    one, two = print_sheet(order), print_sheet(order)
    assert one == two
    assert one.job == 7
    assert base64.b64decode(one.pdf_base64).startswith(b"%PDF-")


def test_a_sheet_of_the_largest_of_everything_is_set_without_complaint() -> None:
    big = samples.marked(trusses.warren(37, 20, 60, 3), title="W" * 5000)
    mistake = samples.mistaken().mistakes[0].model_copy(update={"quote": "[" * 160, "found": "x" * 5000})
    many = samples.mistaken().model_copy(update={"mistakes": (mistake,) * 40})
    head = dict.fromkeys(("student", "school", "class_name", "teacher", "comment", "place"), "M" * 3000)
    assert len(opened(set_sheet(big, **head)).pages) <= 8
    assert len(opened(set_sheet(many, **head)).pages) <= 12


@pytest.mark.parametrize("kind", OUTCOMES)
def test_setting_a_sheet_raises_no_complaint_of_the_layout_engine(kind: str, caplog: pytest.LogCaptureFixture) -> None:
    caplog.set_level("WARNING", "weasyprint")
    typesetter.css.cache_clear()
    set_sheet(OUTCOMES[kind])
    assert caplog.messages == []


def test_a_truss_without_a_failure_load_is_told_so() -> None:
    assert GOOD.analysis is not None
    found = GOOD.analysis.model_copy(update={"failure_load_N": None, "first_failure": None, "efficiency": None})
    assert "there is no failure load to tell" in read(set_sheet(GOOD.model_copy(update={"analysis": found})))


def test_a_head_without_comment_or_place_leaves_no_empty_headings() -> None:
    text = read(set_sheet(GOOD, comment="", place=""))
    assert "Your teacher says" not in text
    assert "Where you stand" not in text


def test_every_way_to_fail_has_its_words() -> None:
    assert GOOD.analysis is not None
    row = GOOD.analysis.members[0]
    for mode in ("tension", "crushing", "buckling", "joint", "none"):
        found = GOOD.analysis.model_copy(update={"members": (row.model_copy(update={"mode": mode}),)})
        assert view.hardest_worked(found, 1)[0].mode


def test_head_and_order_hold_everything_the_sheet_needs() -> None:
    bare = SheetHead(student="", school="", class_name="", teacher="", attempt_number=1, handed_in="", file_name="")
    assert sheet_pdf(bare, samples.BRIEF, GOOD.model_copy(update={"title": ""})).startswith(b"%PDF-")


def test_the_sums_of_the_check_page_are_those_of_the_outcome_and_balance() -> None:
    """Read back from the PDF: every joint's rows, and sums of nothing."""
    assert GOOD.analysis is not None
    text = read(set_sheet(GOOD))
    found = balances(GOOD.analysis)
    assert len(found) >= 3
    for one in found:
        for pull in one.pulls:
            assert " ".join(filter(None, (pull.name, pull.force, pull.angle, pull.across, pull.up))) in text
        assert f"Sum {one.across} {one.up}" in text
        assert one.exact
    for said in (*reactions(GOOD.analysis), *failure(GOOD.analysis, samples.BRIEF)):
        assert " ".join(said.split()) in text


def test_every_member_and_how_the_truss_bends_stand_on_the_last_page() -> None:
    assert GOOD.analysis is not None
    last = read(set_sheet(GOOD)).split("All members, the hardest worked first")[1]
    assert all(row.name in last for row in GOOD.analysis.members)
    assert "How it bends" in last
    assert "times too large, so that they can be seen" in last


def slip(index: int, **more: Any) -> Answer:
    usual = {"about": "force", "name": f"b{index}-b{index + 1}", "given": "9 N C", "given_N": -9.0, "true_N": 5.0,
             "verdict": "wrong", "said": f"You wrote 9 N C. Look at joint b{index} again."}  # fmt: skip
    return Answer.model_validate(usual | more)


def test_working_by_hand_shows_the_first_slips_and_what_was_left_out() -> None:
    left_out = slip(9, given="", given_N=None, verdict="left out")
    answers = (slip(0, verdict="right"), *(slip(index) for index in range(1, 7)), left_out)
    said = read(set_sheet(GOOD.model_copy(update={"working": {"Forces by hand": answers}})))
    assert "Your working by hand Forces by hand. Left out: b9-b10." in said
    assert "The first 4 of 6 to look at. T: tension, pulled. C: compression, pushed." in said
    assert "b1-b2 ● 9 N C 5 N T You wrote 9 N C. Look at joint b1 again." in said
    assert "joint b5" not in said


def test_working_that_earns_nothing_says_so_and_right_working_is_praised() -> None:
    right = (slip(0, verdict="right"),)
    asked, unasked = (read(set_sheet(GOOD.model_copy(update={"working": {name: right}}))) for name in ("By hand", ""))
    assert "By hand. All your answers are right." in asked
    assert "1 of 1 right. This brief gives no points for it." in unasked
    assert "Your working by hand" not in read(set_sheet(GOOD))
