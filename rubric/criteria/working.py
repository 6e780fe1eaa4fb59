"""The student's own working: reactions and member forces worked out by hand, marked as you would.

.. code-block:: yaml

    - name: Forces by hand
      kind: working
      asks: [reactions, forces, zero members]
      within: 2 %
      or within: 0.5 N
      sense alone: 50 %
      follow through: 100 %
      rounded: 75 %
      unit slip: 50 %
      points: 20

The points are shared evenly over the answers asked for.  An answer within 2 % or 0.5 N, whichever
is wider, earns its whole share.  The other lines say what part of its share an answer earns with
T or C right and the size wrong; that follows correctly from an earlier slip; that is right but
rounded too far; that is right but for a unit.  Each has the value above when it is left out,
and ``or within`` is 0 N.

With 10 answers asked for, 8 right, 1 that follows from an earlier slip and 1 left out, 18 of the
20 points are earned.  A file without any working earns none.

An answer follows when the student's own other answers lead to it, at a joint, for the truss as a
whole, or as the mirror image of one.  A wrong angle, a wrong load and a wrong unit that run through
all answers count once.  Where an answer can be read in two ways, the one that earns more counts.

For the youngest write ``asks: senses``: each member is T, C or 0, without numbers.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from typing import Annotated, Any, Literal, get_args

from pydantic import Field

from rubric.criteria.common import Criterion, Found, Judgements, file_with_mistakes, nothing_yet
from rubric.evidence import Answer, Evidence, Verdict
from rubric.language import _, counted, later
from rubric.problems import quoted
from rubric.shapes import LeastForce, Part, fault
from rubric.spelling import did_you_mean
from rubric.wording import amount, listed
from rubric.written import one_of, reads

Ask = Literal["reactions", "forces", "zero members", "senses"]

_ASKS: dict[Ask, str] = {
    "reactions": later("reactions"),
    "forces": later("forces"),
    "zero members": later("zero members"),
    "senses": later("T, C or 0 for each member"),
}

_ASKED = {"anyOf": [one_of(get_args(Ask)), {"type": "array", "items": one_of(get_args(Ask)), "minItems": 1}]}


def _asks(value: Any) -> tuple[str, ...]:
    given = [value] if isinstance(value, str) else value
    if not isinstance(given, list | tuple) or not given:
        raise fault(quoted(str(value)), _("what is asked for"), _("write for example 'asks: [reactions, forces]'."))
    words = tuple(" ".join(str(word).split()).casefold() for word in given)
    for word in words:
        if word not in get_args(Ask):
            raise fault(
                quoted(word), _("some of {words}", words=listed(get_args(Ask))), did_you_mean(word, get_args(Ask))
            )
    if len(set(words)) < len(words):
        raise fault(_("the same thing asked for twice"), _("each thing once"), _("take one of the two out."))
    if "senses" in words and {"forces", "zero members"} & set(words):
        raise fault(
            _("'senses' beside 'forces' or 'zero members'"),
            _("one of the two ways"),
            _("leave out 'senses': whoever works out forces says T, C or 0 with them."),
        )
    return words


class Working(Criterion):
    """See the module's docstring, which is the page the teacher reads."""

    kind: Literal["working"]
    asks: Annotated[tuple[Ask, ...], reads(_asks, _ASKED)] = Field(
        description=later("what the student works out"), examples=["[reactions, forces]"]
    )
    within: Part = Field(0.02, description=later("how near an answer must be"), examples=["2 %"])
    or_within_N: LeastForce = Field(
        0.0, description=later("how near an answer must be, as a force"), examples=["0.5 N"]
    )
    sense_alone: Part = Field(0.5, description=later("the part for T or C right and the size wrong"), examples=["50 %"])
    follow_through: Part = Field(1.0, description=later("the part for what follows from a slip"), examples=["100 %"])
    rounded: Part = Field(0.75, description=later("the part for an answer rounded too far"), examples=["75 %"])
    unit_slip: Part = Field(0.5, description=later("the part for an answer in the wrong unit"), examples=["50 %"])

    @property
    def asked(self) -> str:
        things = listed([_(_ASKS[word]) for word in self.asks])
        if self.asks == ("senses",):
            return _("{things} worked out by hand", things=things)
        near = amount(self.within, "%")
        if self.or_within_N:
            near = _("{part} or {force}", part=near, force=amount(self.or_within_N, "N"))
        return _("{things} worked out by hand, each within {near}", things=things, near=near)

    def part(self, verdict: Verdict) -> float:
        """The part of its share that an answer earns."""
        parts = {
            "right": 1.0,
            "follows": self.follow_through,
            "rounded": self.rounded,
            "unit": self.unit_slip,
            "sense": self.sense_alone,
        }
        return parts.get(verdict, 0.0)

    def find(self, evidence: Evidence, judgements: Judgements) -> Found:
        """Every answer earns its part of an even share."""
        if not evidence.read:
            return file_with_mistakes(self)
        answers = evidence.working.get(self.name)
        if answers is None:
            return Found(None, _("not compared yet"), _("It waits until the file is marked again."), judged=False)
        if not answers:
            why = _("A truss that can move has no forces to work out.")
            return nothing_yet(self, _("no forces to compare"), why, _("Make the truss stable first."))
        earned = round(self.points * sum(self.part(answer.verdict) for answer in answers) / len(answers), 2)
        more = "" if earned >= self.points else self._earn_more(answers)
        return Found(earned, seen(answers), _why(answers), more)

    def _earn_more(self, answers: tuple[Answer, ...]) -> str:
        slip, reward = first_slip(answers), self.to_earn(self.points, True)
        if all(answer.verdict == "left out" for answer in answers):
            return _("Add a block 'working' to your file {reward}.", reward=reward)
        if slip is None:
            return _("Give more figures {reward}.", reward=reward)
        if slip.given:
            return _("Start with {what}. Work it out again {reward}.", what=slip.spoken, reward=reward)
        return _("Start with {what}. Work it out {reward}.", what=slip.spoken, reward=reward)


def first_slip(answers: tuple[Answer, ...]) -> Answer | None:
    """The first answer that is neither right nor follows from an earlier one; what was left out comes last."""
    slips = [answer for answer in answers if answer.verdict not in ("right", "follows")]
    written = [answer for answer in slips if answer.verdict != "left out"]
    return next(iter(written or slips), None)


_COUNTED: dict[Verdict, Callable[[int], str]] = {
    "follows": lambda n: counted("{count} follows from an earlier slip", "{count} follow from an earlier slip", n),
    "rounded": lambda n: _("{count} rounded too far", count=n),
    "unit": lambda n: _("{count} in the wrong unit", count=n),
    "sense": lambda n: _("{count} with the right sense alone", count=n),
    "wrong": lambda n: _("{count} wrong", count=n),
    "left out": lambda n: _("{count} left out", count=n),
}


def seen(answers: tuple[Answer, ...]) -> str:
    """``7 of 9 right, 1 follows from an earlier slip, 1 left out``."""
    counts = Counter(answer.verdict for answer in answers)
    rest = [said(counts[verdict]) for verdict, said in _COUNTED.items() if counts[verdict]]
    return ", ".join([_("{count} of {all} right", count=counts["right"], all=len(answers)), *rest])


def _why(answers: tuple[Answer, ...]) -> str:
    slip = first_slip(answers)
    if slip is None:
        follows = any(answer.verdict == "follows" for answer in answers)
        return _("What is not right follows from a slip.") if follows else _("All your answers are right.")
    if all(answer.verdict == "left out" for answer in answers):
        return _("Your file holds no working.")
    return slip.said or _("Look at {what} again.", what=slip.spoken)
