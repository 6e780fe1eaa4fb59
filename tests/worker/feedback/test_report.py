"""The class report as a PDF: tagged, whole for a full class with long and hostile names, and German throughout."""

from __future__ import annotations

import re
import subprocess
from functools import cache
from io import BytesIO
from itertools import pairwise

import pikepdf
import pytest

from rubric.language import Language, speaking
from rubric.messages.report import (
    CriterionLine,
    FailingLine,
    MistakeLine,
    PupilLine,
    ReportHead,
    ReportOrder,
    Stage,
)
from tests.worker.feedback.test_german import english, words
from worker.feedback.report import middle, report_html, report_pdf, share, tallies

LONG = "Wolfeschlegelsteinhausenbergerdorff-Montgomery Featherstonehaugh of the Upper Mill Stream"
HOSTILE = "<script>alert(1)</script> \u202eevil & \u0000co"
STAGES: tuple[Stage, ...] = ("not started", "waiting", "failed", "mistakes", "mechanism", "stands")

HEADS = {
    "en": ReportHead(
        school="Millbrook School",
        class_name="Otters",
        title="Footbridge",
        task="Span 600 mm, target load 200 N.",
        made="Saturday 28 November 2026, 21:57",
        made_for="Tess Birch",
    ),
    "de": ReportHead(
        school="Schule am Mühlbach",
        class_name="Otter",
        title="Steg",
        task="Spannweite 600 mm, Ziellast 200 N.",
        made="Samstag 28. November 2026, 21:57",
        made_for="Tess Birke",
    ),
}


def pupil(number: int, name: str = "Ada Fern") -> PupilLine:
    """One pupil of each kind in turn, the numbers all different."""
    stage = STAGES[number % len(STAGES)]
    if stage in ("not started", "waiting", "failed"):
        return PupilLine(name=f"{name} {number}", attempts=int(stage != "not started"), stage=stage)
    stands = stage == "stands"
    return PupilLine(
        name=f"{name} {number}",
        attempts=1 + number % 12,
        stage=stage,
        points=50.25 + number if stands else 10,
        out_of=100,
        held=number % 4 == 1,
        waiting=5 if number % 5 == 0 else 0,
        late=number % 7 == 0,
        efficiency=301.5 + number if stands else None,
        best_efficiency=401.5 + number if stands else None,
        load_N=150.0 + number if stands else None,
        mass_g=40.0 + number,
        first_member="a-p" if stands else "",
        first_mode="Knicken" if stands else "",
    )


def order(count: int = 30, name: str = "Ada Fern", language: Language = "en") -> ReportOrder:
    """A class of so many."""
    return ReportOrder(
        job=1,
        attempt="a",
        language=language,
        head=HEADS[language],
        out_of=100,
        bridges=True,
        pupils=tuple(pupil(number, name) for number in range(count)),
        criteria=(
            CriterionLine(name="Statik", out_of=20, mean=15, marked=10, waiting=0),
            CriterionLine(name="Skizze", out_of=10, mean=None, marked=0, waiting=10),
            CriterionLine(name="Abzug", out_of=0, mean=-1.5, marked=10, waiting=0),
        ),
        questions=(("3 Stege knicken.", "Warum?"),),
        failing=(FailingLine(part="Diagonalstab", mode="Knicken", bridges=5),),
        mistakes=(MistakeLine(expected="Kit", pupils=2),),
    )


@cache
def pdf_of(count: int = 30, name: str = "Ada Fern", language: Language = "en") -> bytes:
    with speaking(language):
        return report_pdf(order(count, name, language))


def text_of(pdf: bytes, *pages: str) -> str:
    read = subprocess.run(["pdftotext", "-layout", *pages, "-", "-"], input=pdf, capture_output=True, check=True)
    return read.stdout.decode()


def tags(pdf: bytes) -> list[tuple[str, pikepdf.Dictionary, str]]:
    """Kind and node of each structure element in reading order, and the kind of what holds it."""
    found: list[tuple[str, pikepdf.Dictionary, str]] = []

    def walk(node: pikepdf.Object, above: str) -> None:
        if isinstance(node, pikepdf.Array):
            for one in node:
                walk(one, above)
        elif isinstance(node, pikepdf.Dictionary) and "/S" in node:
            found.append((str(node.S), node, above))
            walk(node.get("/K", pikepdf.Array()), str(node.S))

    with pikepdf.open(BytesIO(pdf)) as opened:
        walk(opened.Root.StructTreeRoot.K, "")
        return [
            (kind, pikepdf.Dictionary({k: str(v) for k, v in node.items() if k == "/Alt"}), a)
            for kind, node, a in found
        ]


@pytest.mark.parametrize("language", ["en", "de"])
def test_it_has_a_language_a_title_and_claims_pdf_ua(language: Language) -> None:
    with pikepdf.open(BytesIO(pdf_of(30, "Ada Fern", language))) as pdf:
        assert pdf.Root.Lang == language
        assert bool(pdf.Root.MarkInfo.Marked)
        assert HEADS[language].title in str(pdf.docinfo.Title)
        assert pdf.open_metadata()["pdfuaid:part"] == "1"


def test_headings_go_down_by_one_and_figures_say_what_they_show() -> None:
    found = tags(pdf_of())
    heads = [int(kind[2:]) for kind, *_ in found if re.fullmatch(r"/H\d", kind)]
    assert heads[0] == 1
    assert heads.count(1) == 1
    assert all(below <= above + 1 for above, below in pairwise(heads))
    figures = [str(node["/Alt"]) for kind, node, _ in found if kind == "/Figure"]
    assert len(figures) == 2
    assert "points, a bar for each step that somebody is in: 10 from 10 to 20" in figures[0]
    assert "best efficiency, 5 dots: from 406 to 430" in figures[1]


def test_each_student_is_one_row_with_a_header_of_its_own() -> None:
    found = tags(pdf_of())
    kinds = [kind for kind, *_ in found]
    assert kinds.count("/Table") == 6
    tables = " ".join(kinds).split("/Table")[1:]
    of_pupils = next(one.split() for one in tables if one.count("/TR") > 20)
    assert of_pupils.count("/TR") == 31
    assert of_pupils.count("/TH") == 9 + 30
    assert of_pupils.count("/TD") == 8 * 30


def test_a_full_class_takes_three_pages_and_with_long_names_at_most_six() -> None:
    for name, most in (("Ada Fern", 3), (LONG, 6)):
        with pikepdf.open(BytesIO(pdf_of(30, name))) as pdf:
            assert 2 <= len(pdf.pages) <= most


def test_the_header_repeats_and_no_row_breaks_over_two_pages() -> None:
    pdf = pdf_of(30, LONG)
    with pikepdf.open(BytesIO(pdf)) as opened:
        count = len(opened.pages)
    texts = [text_of(pdf, "-f", str(n), "-l", str(n)) for n in range(1, count + 1)]
    rows = [re.findall(r"Wolfeschlegel", text) for text in texts]
    assert sum(map(len, rows)) == 30
    for text, here in zip(texts, rows, strict=True):
        assert not here or "Fails first" in text
        assert text.count("Stream") == len(here)  # the last word of a name stands on the page of its first


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_it_is_set_on_the_paper_that_was_asked_for(paper: str) -> None:
    made = order()
    head = made.head.model_copy(update={"paper": paper})
    with pikepdf.open(BytesIO(report_pdf(made.model_copy(update={"head": head})))) as pdf:
        width = float(pdf.pages[0].mediabox[2])
    assert width == pytest.approx({"A4": 595.3, "Letter": 612}[paper], abs=0.5)


def test_names_are_text_and_nothing_else() -> None:
    page = report_html(order(6, HOSTILE))
    assert "<script" not in page
    assert "&lt;script&gt;alert(1)&lt;/script&gt; evil &amp; co 5" in page


def test_signs_are_told_only_where_somebody_has_them() -> None:
    quiet = [line.model_copy(update={"held": False, "waiting": 0}) for line in order().pupils]
    page = report_html(order().model_copy(update={"pupils": tuple(quiet)}))
    assert "†" not in page
    assert "*:" not in page
    loud = report_html(order())
    assert loud.count("†") == 1 + sum(line.held for line in order().pupils)


def test_every_pupil_is_counted_once() -> None:
    made = order(31)
    told = dict(tallies(made))
    whole, handed_in, not_started = told.pop("in the class"), told.pop("handed in"), told.pop("not started")
    assert (whole, handed_in + not_started) == (31, 31)
    assert sum(told.values()) == handed_in


def test_the_middle_of_the_marks_is_told_and_a_criterion_without_points_has_no_share() -> None:
    marks = [line.points for line in order().pupils if line.points is not None]
    found = middle(order().pupils)
    assert found is not None
    assert (found.count, found.least, found.most) == (len(marks), 10, 79.25)
    assert middle(order(3).pupils) is None
    assert [share(line) for line in order().criteria] == [0.75, None, None]


def test_an_empty_class_has_a_report_of_one_page() -> None:
    empty = order(0).model_copy(update={"criteria": (), "questions": (), "failing": (), "mistakes": ()})
    pdf = report_pdf(empty)
    assert "No work is marked yet." in text_of(pdf)
    with pikepdf.open(BytesIO(pdf)) as opened:
        assert len(opened.pages) == 1


def test_no_english_is_left_in_a_german_report() -> None:
    assert len(english(words(report_html(order())))) > 20
    with speaking("de"):
        page = report_html(order(30, "Ada Farn", "de"))
    assert '<html lang="de">' in page
    assert english(words(page)) == []
    assert "351,5" not in text_of(pdf_of())
    assert re.search(r"306,5\s+406,5", text_of(pdf_of(30, "Ada Farn", "de")))


def test_the_same_order_gives_the_same_bytes() -> None:
    assert report_pdf(order()) == report_pdf(order())
