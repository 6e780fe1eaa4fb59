"""Ready briefs, rubrics and rules of contests, by name."""

from __future__ import annotations

from importlib.resources import files
from importlib.resources.abc import Traversable

from rubric.brief import Brief, read_brief
from rubric.rubrics import Rubric, read_rubric


def _names(folder: Traversable) -> list[str]:
    return sorted(file.name.removesuffix(".yaml") for file in folder.iterdir() if file.name.endswith(".yaml"))


def brief_names() -> list[str]:
    """Names of the ready briefs."""
    return _names(files(__name__) / "briefs")


def rubric_names() -> list[str]:
    """Names of the ready rubrics."""
    return _names(files(__name__) / "rubrics")


def brief_text(name: str) -> bytes:
    """The file of a ready brief."""
    return (files(__name__) / "briefs" / f"{name}.yaml").read_bytes()


def rubric_text(name: str) -> bytes:
    """The file of a ready rubric."""
    return (files(__name__) / "rubrics" / f"{name}.yaml").read_bytes()


def brief(name: str) -> Brief:
    """A ready brief."""
    return read_brief(brief_text(name))


def rubric(name: str) -> Rubric:
    """A ready rubric."""
    return read_rubric(rubric_text(name))


def contest_names() -> list[str]:
    """Names of the ready rules of contests."""
    return _names(files(__name__) / "contests")


def contest_text(name: str) -> bytes:
    """The file of ready rules of a contest."""
    return (files(__name__) / "contests" / f"{name}.yaml").read_bytes()
