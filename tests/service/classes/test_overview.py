"""A class at one assignment."""

from __future__ import annotations

from rubric.rules.attempts import Attempts
from service.classes.overview import rows, sort_key
from service.records.models import Person


def test_students_stand_in_the_order_of_the_alphabet_accents_aside() -> None:
    names = ["Élodie", "Zoe", "elena", "Ada", "Øster", "Nadia"]
    people = [Person(id=number, name=name) for number, name in enumerate(names)]
    assert [row.student.name for row in rows(people, [], Attempts())][:4] == ["Ada", "elena", "Élodie", "Nadia"]
    assert sort_key("Élodie")[0] == "elodie"
