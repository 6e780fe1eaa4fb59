"""All figures of twelve typical and twelve extreme trusses: whole, within the page, and no word on anything else."""

from __future__ import annotations

import pytest

from rubric.messages.outcomes import Figure
from service.drawings import drawing_fault
from tests.worker.feedback import gallery, seen

CASES = [*gallery.TYPICAL, *gallery.EXTREME]
MOST = 40


def figures(name: str) -> dict[str, Figure]:
    return dict(gallery.all_figures(name))


@pytest.mark.parametrize("name", CASES)
def test_a_figure_may_stand_on_a_page_and_tells_its_content_in_words(name: str) -> None:
    for figure in figures(name).values():
        assert drawing_fault(figure.svg) is None
        title, said = list(seen.root(figure))[:2]
        assert title.text
        assert said.text == figure.alternative
        assert len(figure.alternative) > 40


@pytest.mark.parametrize("name", CASES)
def test_no_word_of_a_figure_is_cut_off_by_its_edge(name: str) -> None:
    for what, figure in figures(name).items():
        assert list(seen.cut_off(figure)) == [], what


@pytest.mark.parametrize("name", [name for name in CASES if len(gallery.case(name).analysis.members) <= MOST])
def test_no_word_of_a_figure_lies_on_a_line_a_joint_or_another_word(name: str) -> None:
    for what, figure in figures(name).items():
        assert list(seen.collisions(figure)) == [], what
