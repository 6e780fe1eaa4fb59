"""Certificates and booklet: a page each, every line there, names on certificates alone."""

from __future__ import annotations

import base64
import re
import subprocess
from io import BytesIO

import pikepdf
import pytest

from rubric.contest.factor import class_factor
from rubric.drawing.agreement import Dot, agreement
from rubric.language import speaking
from rubric.messages.orders import AwardLine, AwardOrder
from worker.season.printing import award_html, ordinal, print_award

LONG = "Wolfeschlegelsteinhausenbergerdorff-Montgomery Featherstonehaugh"


def lines(count: int, named: bool) -> list[AwardLine]:
    return [
        AwardLine(name=LONG if named else "", alias=f"Calm Heron {n}", division="Lower" if n % 2 else "Upper", place=n, mass_g=50.0 + n,
                  load_N=200.0, efficiency=300.0, predicted_N=220.0, remark="parted by less mass" if n == 2 else "")
        for n in range(1, count + 1)
    ]  # fmt: skip


def order(what: str, count: int = 5) -> AwardOrder:
    dots = [Dot(n, 100.0 + 10 * n, 90.0 + 9 * n) for n in range(1, 9)]
    drawing = agreement(dots, class_factor([(dot.predicted_N, dot.measured_N) for dot in dots]))
    booklet = {
        "drawing": drawing,
        "rules": ("Every test stops at 400 N.",),
        "notices": ("Number 3 had nails.",),
        "records": ("412.5: Old Owl, 2019",),
    }
    more = booklet if what == "booklet" else {}
    given = {
        "job": 1,
        "attempt": "a",
        "what": what,
        "contest": "Spring bridges",
        "school": "Millbrook School",
        "day": "24 March 2027",
    }
    return AwardOrder.model_validate(given | more | {"lines": lines(count, what == "certificates")})


def pages(made: AwardOrder) -> int:
    with pikepdf.open(BytesIO(base64.b64decode(print_award(made).pdf_base64))) as pdf:
        return len(pdf.pages)


def test_each_ranked_bridge_has_one_certificate_page_even_with_a_long_name() -> None:
    assert pages(order("certificates")) == 5


def test_a_certificate_keeps_to_its_page_with_the_longest_words_there_may_be() -> None:
    long = order("certificates", 2).model_copy(update={"contest": "Bridge season of " + "W" * 60, "school": "Q" * 80})
    rows = tuple(line.model_copy(update={"name": "M" * 100, "division": "W" * 40, "place": 111}) for line in long.lines)
    assert pages(long.model_copy(update={"lines": rows})) == 2


COMPOUND = "Holzbrückenbelastungsprüfungsvorbereitungsarbeitsgemeinschaft"
HARD = {
    "one word": "M" * 100,
    "many words": " ".join(["Wolfeschlegelsteinhausen"] * 4),
    "a compound": COMPOUND + " von der Wiese",
}


def longest(what: str, name: str, paper: str) -> AwardOrder:
    """Two lines in which every word is as long as it may be."""
    made = order(what, 2)
    more = {"name": name if what == "certificates" else "", "alias": name[:60], "division": COMPOUND[:40], "place": 111}
    rows = tuple(line.model_copy(update=more) for line in made.lines)
    named = {"contest": f"{COMPOUND} {'W' * 17}", "school": "Q" * 80, "paper": paper, "day": "Mittwoch, 24. März 2027"}
    return made.model_copy(update={**named, "lines": rows})


def words(made: AwardOrder) -> list[tuple[float, float, list[tuple[str, float, float, float, float]]]]:
    """Of each page its width and height and its words with their boxes (left, top, right, bottom), pt, as poppler reads them."""
    pdf = base64.b64decode(print_award(made).pdf_base64)
    text = subprocess.run(["pdftotext", "-bbox", "-", "-"], input=pdf, capture_output=True, check=True).stdout.decode()
    found = []
    for wide, tall, page in re.findall(r'<page width="([\d.]+)" height="([\d.]+)">(.*?)</page>', text, re.S):
        boxes = re.findall(r'<word xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">(.*?)</word>', page)
        found.append((float(wide), float(tall), [(word, *map(float, box)) for *box, word in boxes]))
    return found


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("name", HARD.values(), ids=HARD)
def test_no_word_of_a_certificate_meets_another_or_leaves_its_frame(name: str, paper: str) -> None:
    with speaking("de"):
        pages = words(longest("certificates", name, paper))
    assert len(pages) == 2
    for wide, tall, found in pages:
        assert (round(wide), round(tall)) == {"A4": (842, 595), "Letter": (792, 612)}[paper]
        said = "".join(word for word, *_ in found)
        assert name.replace(" ", "") in said
        assert all(left > 54 and right < wide - 54 and top > 45 for _, left, top, right, _ in found)
        foot = min(top for word, _, top, _, _ in found if word == "Mittwoch,")
        above = [bottom for word, _, top, _, bottom in found if top < foot]
        assert max(above) <= foot + 1  # the date stands free


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_no_word_of_a_booklet_meets_its_neighbour(paper: str) -> None:
    for wide, tall, found in words(longest("booklet", HARD["one word"], paper)):
        assert all(left > 50 and right < wide - 50 and bottom < tall - 20 for _, left, _, right, bottom in found)
        for number, (word, left, top, right, bottom) in enumerate(found):
            for other, its_left, its_top, its_right, its_bottom in found[number + 1 :]:
                across = min(right, its_right) - max(left, its_left)
                down = min(bottom, its_bottom) - max(top, its_top)  # boxes of lines that follow overlap by a third
                assert across < 0.5 or down < 0.4 * min(bottom - top, its_bottom - its_top), (word, other)


def test_a_certificate_says_place_load_and_mass_with_units() -> None:
    page = award_html(order("certificates", 1)).replace("&#160;", " ")
    assert LONG in page
    assert "1st place, Lower" in page
    assert "A bridge of 51 g carried 200 N." in page


def test_a_booklet_holds_every_line_corrections_rules_records_and_the_plot() -> None:
    page = award_html(order("booklet", 60)).replace("\xa0", " ")
    assert all(f"Calm Heron {n}<" in page for n in range(1, 61))
    for said in (
        "Corrected:",
        "Number 3 had nails.",
        "Every test stops at 400 N.",
        "412.5: Old Owl, 2019",
        "parted by less mass",
    ):
        assert said in page
    assert "<svg" in page
    assert 2 <= pages(order("booklet", 60)) <= 4


def test_a_booklet_begins_with_contents_that_lead_to_each_part() -> None:
    made = order("booklet", 60)
    parts = re.findall(r'<li><a href="#([a-z0-9-]+)">', award_html(made))
    assert parts == ["division-1", "division-2", "loads", "records", "rules"]
    assert all(f'<h2 id="{part}">' in award_html(made) for part in parts)
    with pikepdf.open(BytesIO(base64.b64decode(print_award(made).pdf_base64))) as pdf:
        assert {str(one.Dest) for one in pdf.pages[0].Annots if one.Subtype == "/Link"} == set(parts)


@pytest.mark.parametrize(
    ("place", "said"), [(1, "1st"), (2, "2nd"), (3, "3rd"), (4, "4th"), (11, "11th"), (22, "22nd")]
)
def test_places_are_said(place: int, said: str) -> None:
    assert ordinal(place) == said


def test_the_same_order_gives_the_same_bytes() -> None:
    assert print_award(order("booklet")) == print_award(order("booklet"))
