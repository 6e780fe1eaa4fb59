"""The tasks of the help: short, true to the pages, and read at twelve where students read them."""

from __future__ import annotations

import pytest

from rubric.language import LANGUAGES, Language, _, speaking
from service.drawings import drawing_fault
from service.help.controls import controls, on_pages, plain, shown
from service.help.library import PAGES, PEOPLE, tasks, tasks_of
from service.help.task import Task
from tests.rubric.reading import AGE_12, grade

EVERY = {name: task for name, (__, task) in tasks().items()}
WITH_FIGURE = {name: task for name, task in EVERY.items() if task.figure}


def texts(task: Task) -> tuple[str, ...]:
    return task.title, task.why, *task.steps


def test_each_of_the_people_has_tasks_in_an_order_of_their_own() -> None:
    for people, least in zip(PEOPLE, (11, 12, 9), strict=True):
        assert [task.place for task in tasks_of(people).values()] == list(range(1, len(tasks_of(people)) + 1))
        assert len(tasks_of(people)) >= least
    assert sum(len(tasks_of(people)) for people in PEOPLE) == len(tasks())


@pytest.mark.parametrize("name", EVERY)
def test_a_task_has_three_to_seven_steps_and_leads_on(name: str) -> None:
    task = EVERY[name]
    assert 3 <= len(task.steps) <= 7
    assert task.related
    assert set(task.related) <= (set(EVERY) | set(PAGES)) - {name}
    assert len(set(task.related)) == len(task.related)


@pytest.mark.parametrize("name", EVERY)
def test_every_control_that_a_task_names_stands_on_some_page(name: str) -> None:
    named = [control for text in texts(EVERY[name]) for control in controls(text)]
    assert [control for control in named if control not in on_pages()] == []


def test_most_tasks_name_controls() -> None:
    without = [name for name, task in EVERY.items() if not any(map(controls, task.steps))]
    assert without == ["keep-backups"]


def test_a_control_that_no_page_has_would_be_seen() -> None:
    assert "Press me" not in on_pages()
    assert controls("Go to [Press me], then type ``a: [0, 0]``.") == ["Press me"]


@pytest.mark.parametrize("name", EVERY)
def test_a_task_names_the_same_controls_in_every_language(name: str) -> None:
    for text in texts(EVERY[name]):
        for language in LANGUAGES:
            with speaking(language):
                assert sorted(controls(_(text))) == sorted(controls(text))


def test_a_control_is_named_as_the_page_shows_it() -> None:
    assert shown("Hand in") == "Hand in"
    with speaking("de"):
        assert shown("Hand in") == "Abgeben"
        assert shown("Alias: …") == "Spitzname: …"
        assert plain("Press [Hand in], type ``x2``.") == "Press Abgeben, type x2."


@pytest.mark.parametrize("name", tasks_of("students"))
def test_what_students_read_in_the_help_is_read_at_twelve(name: str) -> None:
    hard = {text: grade(plain(text)) for text in texts(EVERY[name])}
    assert {text: age for text, age in hard.items() if age > AGE_12} == {}


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("name", WITH_FIGURE)
def test_a_figure_is_a_drawing_that_may_stand_on_a_page_and_is_told_in_words(name: str, language: Language) -> None:
    with speaking(language):
        figure = WITH_FIGURE[name].figure()
    assert drawing_fault(figure.svg) is None
    assert len(figure.alternative) > 40
    assert len(figure.svg) < 10_000


def test_figures_speak_german() -> None:
    for task in WITH_FIGURE.values():
        english = task.figure().alternative
        with speaking("de"):
            assert task.figure().alternative != english


@pytest.mark.parametrize("name", [name for name in tasks_of("students") if EVERY[name].figure])
def test_a_figure_for_students_is_told_in_words_of_twelve(name: str) -> None:
    figure = EVERY[name].figure()
    assert grade(figure.alternative, ("Amber Heron", "Brisk Otter", "Calm Magpie")) <= AGE_12
