"""All tasks, found in the packages of the three people, and the reference pages beside them."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from importlib import import_module
from pkgutil import iter_modules

from rubric.language import later
from service.help import coordinators, students, teachers
from service.help.task import Task

PEOPLE = {"students": students, "teachers": teachers, "coordinators": coordinators}

HEADINGS = {
    "students": later("For students"),
    "teachers": later("For teachers"),
    "coordinators": later("For coordinators"),
}

PAGES: Mapping[str, tuple[str, str, str]] = {
    "truss-file": (
        "classes.truss_file_help",
        later("How to write a truss file"),
        later("Joints, members and sticks, as text or as a table, with examples."),
    ),
    "words": (
        "words.glossary",
        later("Words of the trade"),
        later("What people who build bridges mean by their words."),
    ),
    "brief": ("help.brief", later("How to write a brief"), later("Every key of a brief, with an example of each.")),
    "rubric": (
        "help.rubric",
        later("How to write a rubric"),
        later("Every kind of criterion, with what earns its points and what does not."),
    ),
    "measures": (
        "help.measures",
        later("What can be measured"),
        later("Each measure that a criterion may name, with its unit and its sign."),
    ),
    "kept": ("privacy.kept", later("What is kept"), later("What Kingpost keeps of whom, why and how long.")),
}
"""Reference pages by key: endpoint, title and what stands there."""


@cache
def tasks_of(people: str) -> Mapping[str, Task]:
    """The tasks of ``students``, ``teachers`` or ``coordinators`` by address, in their order."""
    package = PEOPLE[people]
    found = {
        one.name.replace("_", "-"): import_module(f"{package.__name__}.{one.name}").TASK
        for one in iter_modules(package.__path__)
    }
    return dict(sorted(found.items(), key=lambda each: each[1].place))


@cache
def tasks() -> Mapping[str, tuple[str, Task]]:
    """Every task by address, with whose it is."""
    return {name: (people, task) for people in PEOPLE for name, task in tasks_of(people).items()}
