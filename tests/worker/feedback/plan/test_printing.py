"""The building plan as a PDF: what it says, and that it is true to size, read back from the pages."""

from __future__ import annotations

import base64
import math
import re
import subprocess
from functools import cache
from io import BytesIO

import pikepdf
import pytest

from rubric.brief import Glue, Stick
from rubric.messages.orders import PAPERS, PlanOrder
from rubric.messages.outcomes import Analysis
from tests.worker.feedback import samples
from tests.worker.feedback.plan import bridges
from tests.worker.feedback.plan.read_back import Line, Point, lines_mm, nearest_mm, sizes_mm
from worker.feedback.plan.outlines import clipped
from worker.feedback.plan.printing import NoPlan, building, plan_html, plan_pdf, print_plan
from worker.feedback.plan.tiles import MARGIN_MM, PAPERS_MM
from worker.truss.model import Truss

SHAPES = {"small": bridges.SMALL, "typical": bridges.TYPICAL, "flat": bridges.FLAT, "deep": bridges.DEEP}
ON_A4 = [(shape, "A4") for shape in SHAPES] + [("typical", "Letter"), ("typical", "A3")]
TOLD_MM, MEASURED_MM = 0.1, 0.002
"""What the plan promises over a page, and what it keeps."""

WIDTH_MM = 5.0
DOUBLED = ("b0-t0", "t1-t2")


@cache
def solved(shape: str) -> Analysis:
    return bridges.analysis_of(SHAPES[shape], DOUBLED)


@cache
def pdf_of(shape: str, paper: str = "A4") -> bytes:
    head = samples.HEAD.model_copy(update={"paper": paper})
    return plan_pdf(head, bridges.BRIEF, "Double-post girder", solved(shape))


def text_of(pdf: bytes) -> str:
    done = subprocess.run(["pdftotext", "-raw", "-", "-"], input=pdf, capture_output=True, check=True)
    return " ".join(done.stdout.decode().split())


def before(shape: str, paper: str) -> int:
    """How many pages come before the plan itself."""
    found = building(solved(shape), bridges.BRIEF, paper)
    return len(sizes_mm(pdf_of(shape, paper))) - len(found.pages)


def edges(a: Point, b: Point, width: float) -> list[Line]:
    """The two long edges of a stick whose middle runs from a to b."""
    length = math.dist(a, b)
    nx, ny = -(b[1] - a[1]) / length * width / 2, (b[0] - a[0]) / length * width / 2
    return [((a[0] + s * nx, a[1] + s * ny), (b[0] + s * nx, b[1] + s * ny)) for s in (1, -1)]


@pytest.mark.parametrize(("shape", "paper"), ON_A4)
def test_every_edge_and_middle_of_every_stick_is_true_on_every_page(shape: str, paper: str) -> None:
    found, truss = building(solved(shape), bridges.BRIEF, paper), SHAPES[shape]
    assert found.grid is not None
    seen, (wide, high) = 0, found.grid.window
    for number, tile in enumerate(found.grid.tiles, start=before(shape, paper)):
        drawn = lines_mm(pdf_of(shape, paper), number)
        window = (MARGIN_MM, MARGIN_MM), (MARGIN_MM + wide, MARGIN_MM + high)
        for member in truss.members:
            a, b = (
                (MARGIN_MM + x - tile.left, MARGIN_MM + tile.top - y)
                for x, y in (truss.joints[member.start], truss.joints[member.end])
            )
            for line in [*edges(a, b, WIDTH_MM), (a, b)]:
                kept = clipped(line, *window)  # type: ignore[arg-type]
                if kept and math.dist(*kept) > 0.1:
                    seen += 1
                    assert nearest_mm(kept, drawn) < MEASURED_MM < TOLD_MM
    assert seen >= 3 * len(truss.members)


def straight(pdf: bytes, page: int, y: float) -> list[Line]:
    return [line for line in lines_mm(pdf, page) if len(line) == 2 and abs(line[0][1] - y) + abs(line[1][1] - y) < 0.01]


def crosses(pdf: bytes, page: int) -> list[Point]:
    """Middles of the register marks, found by their two strokes of 8 mm alone."""
    strokes = [line for line in lines_mm(pdf, page) if len(line) == 2 and abs(math.dist(*line) - 8) < 1e-3]
    middles = [((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b in strokes]
    return [one for one, other in zip(middles[::2], middles[1::2], strict=True) if math.dist(one, other) < 0.01]


def test_sticks_keep_their_length_over_two_pages_when_the_crosses_meet() -> None:
    pdf, first = pdf_of("typical"), before("typical", "A4")
    here, there = crosses(pdf, first), crosses(pdf, first + 1)
    right = [at for at in here if at[0] > 148]
    left = [at for at in there if at[0] < 148]
    moves = [(a[0] - b[0], a[1] - b[1]) for a, b in zip(right, left, strict=True)]
    assert len(moves) == 2
    assert moves[0] == pytest.approx(moves[1], abs=MEASURED_MM)
    ends = [x for line in straight(pdf, first, right[0][1] - 9.6) for x, _ in line]
    ends += [x + moves[0][0] for line in straight(pdf, first + 1, left[0][1] - 9.6) for x, _ in line]
    assert any(abs(b - a - 150) < MEASURED_MM for a in ends for b in ends)
    assert any(abs(b - a - 300) < MEASURED_MM for a in ends for b in ends)


@pytest.mark.parametrize(("shape", "paper"), ON_A4)
def test_every_page_has_a_bar_of_100_mm_to_measure(shape: str, paper: str) -> None:
    pdf, first = pdf_of(shape, paper), before(shape, paper)
    for number in range(first, len(sizes_mm(pdf))):
        boxes = [line for line in lines_mm(pdf, number) if len(line) == 5 and abs(math.dist(*line[1:3]) - 2.5) < 0.01]
        bars = [box for box in boxes if abs(math.dist(box[0], box[1]) - 100) < MEASURED_MM]
        steps = [box for box in boxes if abs(math.dist(box[0], box[1]) - 10) < MEASURED_MM]
        assert len(bars) == 1
        assert len(steps) == 5
    assert text_of(pdf).count("Print at 100 %. If this bar is not 100 mm long, the plan is not true.") == (
        len(sizes_mm(pdf)) - first
    )


@pytest.mark.parametrize("paper", PAPERS)
def test_pages_have_the_size_of_the_paper(paper: str) -> None:
    sizes, first = sizes_mm(pdf_of("typical", paper)), before("typical", paper)
    upright = PAPERS_MM[paper]
    assert sizes[first:] == [pytest.approx(upright[::-1], abs=1e-3)] * (len(sizes) - first)
    sheet = PAPERS_MM["A4" if paper == "A3" else paper]
    assert sizes[:first] == [pytest.approx(sheet, abs=1e-3)] * first


@pytest.mark.parametrize(("shape", "paper"), ON_A4)
def test_nothing_stands_in_the_margins_that_printers_leave_out(shape: str, paper: str) -> None:
    pdf, first = pdf_of(shape, paper), before(shape, paper)
    sizes = sizes_mm(pdf)
    boxes = subprocess.run(["pdftotext", "-bbox", "-", "-"], input=pdf, capture_output=True, check=True).stdout.decode()
    for number, page in enumerate(boxes.split("<page ")[1:]):
        words = [tuple(map(float, box)) for box in re.findall(r'xMin="(.+)" yMin="(.+)" xMax="(.+)" yMax="(.+)"', page)]
        written = [(x * 25.4 / 72, y * 25.4 / 72) for a, b, c, d in words for x, y in ((a, b), (c, d))]
        drawn = [at for line in lines_mm(pdf, number) for at in line] if number >= first else []
        for spots, free in ((written, 9.0 if number >= first else 6.0), (drawn, MARGIN_MM - 1e-3)):
            assert all(free <= spot[i] <= sizes[number][i] - free for spot in spots for i in (0, 1))


def test_the_sheet_says_what_to_cut_and_how() -> None:
    text = text_of(pdf_of("typical"))
    assert "A square5 150 16 b0-b1, b1-b2, b2-b3, b3-b4, t0-t1, t1-t2 (2 pieces), t2-t3" in text
    assert "B square5 141.5 18 b0-t0 (2 pieces), t0-b1," in text
    assert "square5, 5 × 5 mm, 900 mm long: 6 sticks, and the kit holds 14" in text
    assert "B 141.5" in text
    assert "b1 150 0 b0-b1 and b1-b2 end to end; then b1-t1; then t0-b1" in text
    assert "Each joint is glued by lap, 12 mm long." in text


def test_the_sheet_warns_of_blades_and_glue_and_leaves_the_last_word_to_the_school() -> None:
    text = text_of(pdf_of("typical"))
    assert text.index("Ask an adult before you use a blade or a saw.") < text.index("What to cut")
    assert "Use glue where the air is fresh" in text
    assert "Follow the rules of your school: they come before this page." in text
    assert "an estimate for a model, never for a structure people use." in text


def test_every_page_of_the_plan_names_itself_its_joints_and_its_sticks() -> None:
    pdf = pdf_of("typical")
    text = text_of(pdf)
    for said in (
        "A1",
        "Full-size plan, page 3 of 3",
        "b0 (pin)",
        "b4 (roller)",
        "A: b0-b1, 150 mm",
        "t2",
        "A2 comes to",
    ):
        assert said in text
    assert "B ×2: b0-t0, 141.5 mm<" in plan_html(samples.HEAD, bridges.BRIEF, "", solved("typical"))
    assert "cut here, lay on A2" in text


def test_doubled_sticks_are_shaded() -> None:
    html = plan_html(samples.HEAD, bridges.BRIEF, "", bridges.analysis_of(bridges.TYPICAL, DOUBLED))
    plain = plan_html(samples.HEAD, bridges.BRIEF, "", bridges.analysis_of(bridges.TYPICAL))
    pages, plain_pages = (page.split('class="plan"', 1)[1] for page in (html, plain))
    assert pages.count('fill="#e2e5e9"') == 2
    assert plain_pages.count('fill="#e2e5e9"') == 0


def test_sticks_beyond_the_kit_are_told() -> None:
    few = Stick.model_validate({"section": "5 x 5 mm", "length": 900, "count": 2})
    html = plan_html(samples.HEAD, bridges.brief(600, stock={"square5": few}), "", solved("typical"))
    assert "The kit does not hold enough of these." in html
    assert "The kit does not hold enough" not in plan_html(samples.HEAD, bridges.BRIEF, "", solved("typical"))


def test_a_kerf_is_told_and_drawn() -> None:
    html = plan_html(samples.HEAD, bridges.brief(600, kerf_mm=2.5), "", solved("typical"))
    assert "Each cut takes 2.5\u00a0mm away, the black line." in html.replace("2.5 mm", "2.5\u00a0mm")
    assert "A black line is a cut." in plan_html(samples.HEAD, bridges.BRIEF, "", solved("typical"))


def test_gussets_are_told_where_the_brief_has_them() -> None:
    glue = Glue.model_validate({"strength": 5, "lap": 12, "gusset": {"thickness": 1, "strength": 20}})
    html = plan_html(samples.HEAD, bridges.brief(600, glue=glue), "", solved("typical"))
    assert "A gusset is glued over every joint on both faces, over 12 mm of each stick." in html
    assert "Glue a gusset over each joint, 1" in html
    assert "Layer 1" not in html
    assert "<bdi>b0-b1</bdi> and <bdi>b0-t0</bdi> edge to edge</td>" in html


def test_a_bridge_too_large_for_pages_is_built_from_the_list_of_joints() -> None:
    long = Truss({n: (40 * x, 40 * y) for n, (x, y) in bridges.FLAT.joints.items()}, bridges.FLAT.members,
                 bridges.FLAT.supports, bridges.FLAT.loads)  # fmt: skip
    stick = Stick.model_validate({"section": "5 x 5 mm", "length": 9000, "count": 2})
    html = plan_html(samples.HEAD, bridges.brief(67200, stock={"square5": stick}), "", bridges.analysis_of(long))
    assert "more than 60 pages of A4" in html
    assert 'class="plan"' not in html
    assert "Draw the joints at full size" in html


def test_a_mechanism_has_no_plan() -> None:
    with pytest.raises(NoPlan):
        plan_html(samples.HEAD, bridges.BRIEF, "", samples.analysis_of(samples.square()))


def test_a_plan_is_tagged_titled_and_every_drawing_says_what_it_shows() -> None:
    with pikepdf.open(BytesIO(pdf_of("typical"))) as pdf:
        assert pdf.Root.Lang == "en"
        assert str(pdf.docinfo.Title).startswith("Building plan for Ilka Tannhauser: Double-post girder")
        assert pdf.open_metadata()["pdfuaid:part"] == "1"
    html = plan_html(samples.HEAD, bridges.BRIEF, "Double-post girder", solved("typical"))
    titles = re.findall(r"<svg[^>]*><title>([^<]+)</title>", html)
    assert len(titles) == html.count("<svg") == 1 + 1 + 3
    assert titles[0] == "Map of the pages of the full-size plan, row by row: A1, A2, A3."
    assert titles[1].startswith("How to cut square5. ")
    assert titles[2].startswith("Page A1 of 3 pages of the full-size plan: the outlines of members b0-b1, ")


def test_names_from_a_file_are_text_and_nothing_else() -> None:
    odd = samples.renamed(bridges.TYPICAL, {"t0": "<b>&x", "t1": "جسر"})
    html = plan_html(samples.HEAD, bridges.BRIEF, "<script>", bridges.analysis_of(odd))
    assert "<b>&x" not in html
    assert "<script>" not in html
    assert "&lt;b&gt;&amp;x" in html
    assert ">\u2068جسر\u2069</b>" in html
    assert "B: \u2068&lt;b&gt;&amp;x" not in html


def test_the_same_order_gives_the_same_bytes() -> None:
    order = PlanOrder(
        job=4, attempt="t", head=samples.HEAD, brief=bridges.BRIEF, title="Girder", analysis=solved("small")
    )
    first, second = print_plan(order), print_plan(order)
    assert first == second
    assert (first.job, first.attempt) == (4, "t")
    assert base64.b64decode(first.pdf_base64).startswith(b"%PDF-")
