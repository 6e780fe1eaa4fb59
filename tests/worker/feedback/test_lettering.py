"""Words of drawings as the PDF holds them, read back with poppler."""

from __future__ import annotations

import subprocess
from pathlib import Path
from xml.etree import ElementTree

import pytest

from rubric.drawing.svg import drawing, words
from worker.feedback.typesetter import set_illustrated

PAGE = "@page { size: 720px 400px; margin: 0 } body { margin: 0 } img { width: 720px }"
WORD = "{http://www.w3.org/1999/xhtml}word"


def read_back(tmp_path: Path, *texts: str) -> list[tuple[str, float, float]]:
    """Each word of a drawing 720 px wide, with its middle and its left edge, px."""
    svg = drawing(list(texts), 400, "A drawing", "What it says").svg
    (tmp_path / "page.pdf").write_bytes(set_illustrated(f"<html lang=en><title>T</title>{svg}", PAGE))
    command = ["pdftotext", "-bbox", str(tmp_path / "page.pdf"), "-"]
    found = ElementTree.fromstring(subprocess.run(command, capture_output=True, check=True).stdout)
    boxes = [(word.text or "", float(word.get("xMin", 0)), float(word.get("xMax", 0))) for word in found.iter(WORD)]
    return [(text, (left + right) / 2 * 4 / 3, left * 4 / 3) for text, left, right in boxes]


def test_a_word_is_one_piece_and_stands_in_the_middle_of_its_place(tmp_path: Path) -> None:
    [(text, middle, _)] = read_back(tmp_path, words("Tannenweg", (300, 200)))
    assert text == "Tannenweg"
    assert middle == pytest.approx(300, abs=0.5)


def test_words_may_begin_at_their_place(tmp_path: Path) -> None:
    found = read_back(tmp_path, words("42.5 C", (300, 200), text_anchor="start", font_weight="bold"))
    assert [text for text, *_ in found] == ["42.5", "C"]
    assert found[0][2] == pytest.approx(300, abs=0.5)


def test_letters_that_join_are_set_together(tmp_path: Path) -> None:
    joined = read_back(tmp_path, words("ببب", (300, 200), font_size=40))
    alone = [read_back(tmp_path, words("ب", (300, 200), font_size=40)) for _ in range(3)]
    assert len(joined) == 1
    [(_, middle, left)] = joined
    assert 2 * (middle - left) < 0.9 * sum(2 * (one[0][1] - one[0][2]) for one in alone)


def test_a_picture_among_the_letters_is_drawn(tmp_path: Path) -> None:
    assert read_back(tmp_path, words("joint 🌉", (300, 200)))[0][0] == "joint"
    assert read_back(tmp_path, words(" ", (300, 200))) == []
