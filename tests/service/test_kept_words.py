"""Words that the tables keep in English, said again in German."""

from __future__ import annotations

import pytest

from rubric.language import speaking
from service.kept_words import ANOTHER_DUE_DATE, COMMENT, SECOND_ASKED, change_said, why_said


@pytest.mark.parametrize(
    ("kept", "said"),
    [
        ("held back", "zurückgehalten"),
        ("marked again, version 3", "neu bewertet, Fassung 3"),
        ("place 2 of 9", "Platz 2 von 9"),
        ("12.5 of 20", "12,5 von 20"),
        ("waits, of 20", "offen, von 20"),
        ("1 point", "1 Punkt"),
        ("7.25 points", "7,25 Punkte"),
        ("7.25 points first, 4 points second", "zuerst 7,25 Punkte, dann 4 Punkte"),
        ("", ""),
    ],
)
def test_what_the_history_keeps_is_said_in_german_and_stays_as_it_is_in_english(kept: str, said: str) -> None:
    assert change_said(kept) == kept
    with speaking("de"):
        assert change_said(kept) == said


def test_what_somebody_wrote_stays_as_it_is() -> None:
    with speaking("de"):
        assert change_said("waits", COMMENT) == "waits"
        assert change_said("12 of 20", SECOND_ASKED) == "12 of 20"
        assert change_said("a remark of no known form") == "a remark of no known form"
        assert why_said("comment") == "comment"


def test_a_version_for_another_due_date_says_so() -> None:
    with speaking("de"):
        assert why_said(ANOTHER_DUE_DATE) == "ein anderer Abgabetermin"
