"""A teacher's own words for what a criterion earned, with a few placeholders.

.. code-block:: yaml

    say:
      earned: Well done, it carries what was asked.
      some: "Nearly: {seen}, and {asked}. {how}"
      not earned: "{missing} points are still to be had. Look at the member that breaks first."

``earned`` is said where all points are earned, ``not earned`` where none are, ``some`` in between;
our own words stand where one is left out, and where the file or the truss gave nothing to judge.
Placeholders: {name}, {seen}, {asked}, {points}, {out of}, {missing}, {why} and {how} (to earn the rest,
in our words).
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Annotated, Any

from pydantic import Field

from rubric.language import _, later
from rubric.problems import quoted
from rubric.shapes import Shape, Words, fault
from rubric.spelling import did_you_mean
from rubric.written import reads, text_like

PLACEHOLDERS = ("name", "seen", "asked", "points", "out of", "missing", "why", "how")
_HELD = re.compile(r"\{([^{}]*)\}")


def _message(value: Any) -> Any:
    if not isinstance(value, str):
        return value  # told by the words themselves
    for word in _HELD.findall(value):
        if _plain(word) not in PLACEHOLDERS:
            raise fault(
                _("the unknown placeholder {word}", word=quoted("{" + word + "}")),
                _("a placeholder that has a meaning here"),
                did_you_mean(word, PLACEHOLDERS),
            )
    if set("{}") & set(_HELD.sub("", value)):
        raise fault(
            _("a brace without its partner"), _("placeholders such as '{seen}'"), _("close it, or take it out.")
        )
    return value


_WORD = "|".join(" +".join(word.split()) for word in PLACEHOLDERS)
Message = Annotated[Words, reads(_message, text_like(rf"(?:[^{{}}]|\{{ *(?:{_WORD}) *\}})+"))]


class Say(Shape):
    """See the module's docstring, which is the page the teacher reads."""

    earned: Message | None = Field(None, description=later("your words for all the points"), examples=["Well done."])
    some: Message | None = Field(None, description=later("your words for some of the points"), examples=["Nearly."])
    not_earned: Message | None = Field(None, description=later("your words for no points"), examples=["Not yet."])

    def words(self, earned: float, points: float) -> str | None:
        """The teacher's words for so many of the points, or None."""
        if earned >= points:
            return self.earned
        return self.some if earned > 0 else self.not_earned


def fill(message: str, values: Mapping[str, str]) -> str:
    """``message`` with each placeholder replaced, once: what is put in is never read again."""
    return _HELD.sub(lambda held: values[_plain(held[1])], message)


def _plain(word: str) -> str:
    return " ".join(word.split()).casefold()
