"""Sheets, drawings, plans and certificates in German: no English sentence is left, and none comes back by a cache."""

from __future__ import annotations

import re
import subprocess
from collections.abc import Iterator
from io import BytesIO

import pikepdf
import pytest

from rubric import library
from rubric.brief import Brief
from rubric.language import Language, speaking
from rubric.messages.outcomes import Marked
from rubric.rubrics import Rubric, read_rubric
from tests import trusses
from tests.worker.feedback import gallery, generated, samples
from tests.worker.feedback.kinds import kinds
from tests.worker.feedback.plan import bridges
from tests.worker.season.test_printing import order
from worker.feedback.figures import envelope, sketched
from worker.feedback.plan.printing import plan_html
from worker.feedback.sheets import sheet_html, sheet_pdf
from worker.marker import mark_file
from worker.season.printing import award_html, ordinal

ENGLISH = re.compile(
    r"\b(the|and|of|is|are|it|its|your|you|that|this|with|from|not|to|up|down|no|"
    r"joints?|members?|breaks?|loads?|forces?|page|attempt|points?)\b",
    re.IGNORECASE,
)
HEAD = samples.HEAD.model_copy(
    update={"handed_in": "Dienstag, 2. März 2027", "file_name": "reiher.yaml", "place": "Du bist 4. von 27.",
            "comment": "Eine saubere Zeichnung.", "school": "Schule am Mühlbach"}
)  # fmt: skip
RUBRIC: Rubric = read_rubric(
    b"title: Steg\ncriteria:\n  - {name: Last, kind: threshold, measure: reserve factor, at least: 1, points: 10}\n"
    b"  - {name: Skizze, kind: judgement, look for: eine Skizze, points: 5}\n"
)
FOOTBRIDGE = library.brief("footbridge").model_copy(update={"title": "Steg"})
PROBLEM = library.brief("forces-by-hand").model_copy(update={"title": "Aufgabe"})
JOINTS = b"title: Reiher\njoints: {a: [0, 0], b: [150, 0], c: [300, 0], d: [450, 0], e: [600, 0], p: [150, 120], "
JOINTS += b"q: [300, 120], r: [450, 120]}\nmembers:\n"
SQUARES = JOINTS + b"".join(
    b"  %s: square5\n" % name for name in b"a-b b-c c-d d-e a-p p-q q-r r-e b-p c-q d-r p-c".split()
)
FILES: dict[str, tuple[bytes, Brief]] = {
    "typical": (SQUARES + b"  c-r: square5\n", FOOTBRIDGE),
    "redundant": (SQUARES + b"  c-r: square5\n  b-q: square3\n", FOOTBRIDGE),
    "mechanism": (SQUARES, FOOTBRIDGE),
    "mistakes": (b"title: Reiher\njoints: {a: [0, 0], b: [1O0, 0]}\nmembers: {a-b: square7, a-z: square5}\n", FOOTBRIDGE),
    "problem": (b"working:\n  reactions: {a: 45 up, d: 50 up}\n  forces: {a-b: 60 T, b-c: 50 C, f-d: 7.5 C}\n", PROBLEM),
}  # fmt: skip


def outcome(name: str, language: Language) -> Marked:
    """Marked in a language."""
    data, brief = FILES[name]
    with speaking(language):
        return mark_file(data, brief, RUBRIC)


def sheet(name: str, language: Language) -> str:
    """What a reader is told, with the titles of drawings and without style and tags."""
    with speaking(language):
        return words(sheet_html(HEAD, FILES[name][1], outcome(name, language)))


def words(html: str) -> str:
    """The text, and that of attributes which are read out; what the pupil quoted or named stands apart."""
    html = re.sub(r"(\d\sN) up", r"\1", html.replace("&#39;", "'"))  # the pupil's own answer
    plain = re.sub(r"<style>.*?</style>|<code>.*?</code>|'[^'<>]*'", " ", html, flags=re.DOTALL)
    read_out = re.findall(r'(?:content|data-foot|alt)="([^"]*)"', plain)
    return " ".join([*read_out, re.sub(r"<[^>]*>", " ", plain)])


def english(text: str) -> list[str]:
    """Each English word with what stands around it."""
    return [text[max(0, found.start() - 40) : found.end() + 40] for found in ENGLISH.finditer(text)]


@pytest.mark.parametrize("name", FILES)
def test_no_english_is_left_on_a_german_sheet(name: str) -> None:
    assert len(english(sheet(name, "en"))) > 20
    assert english(sheet(name, "de")) == []


def test_a_german_sheet_says_so_to_screen_readers_and_numbers_its_pages_in_german() -> None:
    found = outcome("typical", "de")
    with speaking("de"):
        pdf = sheet_pdf(HEAD, FOOTBRIDGE, found)
    with pikepdf.open(BytesIO(pdf)) as opened:
        assert opened.Root.Lang == "de"
    read = subprocess.run(["pdftotext", "-raw", "-", "-"], input=pdf, capture_output=True, check=True).stdout.decode()
    assert "Seite 1 von" in read
    assert english(" ".join(read.split())) == []


def test_a_sheet_after_one_in_another_language_is_as_before() -> None:
    found = {language: outcome("typical", language) for language in ("en", "de")}

    def set_in(language: Language) -> bytes:
        with speaking(language):
            return sheet_pdf(HEAD, FOOTBRIDGE, found[language])

    first, other, again = set_in("en"), set_in("de"), set_in("en")
    assert first == again != other


def drawings() -> Iterator[str]:
    """Everything that is drawn of many trusses, as its markup and its words."""
    for seed in range(40):
        found = generated.analysed(seed)
        for draw in kinds(found, gallery.brief()).values():
            figure = draw()
            yield f"{figure.svg} {figure.alternative}" if figure else ""
        yield sketched(found, gallery.brief()).alternative
    for name in ("a load that travels", "a square that leans", "flat", "many squares"):
        case = gallery.case(name)
        for draw in kinds(case.analysis, case.brief, case.steps).values():
            figure = draw()
            yield f"{figure.svg} {figure.alternative}" if figure else ""
    yield from (envelope(library.brief(name)).alternative for name in ("footbridge", "forces-by-hand", "market-bridge"))


def test_no_english_is_left_in_a_german_drawing() -> None:
    with speaking("de"):
        found = [english(words(one)) for one in drawings()]
    assert len(found) > 200
    assert [each for each in found if each] == []


@pytest.mark.parametrize("truss", [bridges.SMALL, bridges.TYPICAL, bridges.FLAT, bridges.DEEP])
@pytest.mark.parametrize("paper", ["A4", "Letter", "A3"])
def test_no_english_is_left_on_a_german_plan(truss: trusses.Truss, paper: str) -> None:
    brief = bridges.BRIEF.model_copy(update={"title": "Steg"})
    with speaking("de"):
        html = plan_html(HEAD.model_copy(update={"paper": paper}), brief, "Reiher", bridges.analysis_of(truss))
    assert '<html lang="de">' in html
    assert english(words(html)) == []


@pytest.mark.parametrize("what", ["certificates", "booklet"])
def test_a_certificate_and_a_booklet_are_said_in_german(what: str) -> None:
    with speaking("de"):
        html = award_html(order(what))
        places = [ordinal(place) for place in (1, 2, 3, 11)]
    assert '<html lang="de">' in html
    assert places == ["1.", "2.", "3.", "11."]
    assert ("Platz, Lower" if what == "certificates" else "Die Regeln") in html
