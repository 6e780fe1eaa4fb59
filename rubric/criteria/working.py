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
from typing import Annotated, Any, Literal, get_args

from pydantic import Field

from rubric.criteria.common import Criterion, Found, Judgements, file_with_mistakes, nothing_yet
from rubric.evidence import Answer, Evidence, Verdict
from rubric.problems import quoted
from rubric.shapes import LeastForce, Part, fault
from rubric.spelling import did_you_mean
from rubric.wording import amount, listed
from rubric.written import one_of, reads

Ask = Literal["reactions", "forces", "zero members", "senses"]

_ASKED = {"anyOf": [one_of(get_args(Ask)), {"type": "array", "items": one_of(get_args(Ask)), "minItems": 1}]}


def _asks(value: Any) -> tuple[str, ...]:
    given = [value] if isinstance(value, str) else value
    if not isinstance(given, list | tuple) or not given:
        raise fault(quoted(str(value)), "what is asked for", "write for example 'asks: [reactions, forces]'.")
    words = tuple(" ".join(str(word).split()).casefold() for word in given)
    for word in words:
        if word not in get_args(Ask):
            raise fault(quoted(word), f"some of {listed(get_args(Ask))}", did_you_mean(word, get_args(Ask)))
    if len(set(words)) < len(words):
        raise fault("the same thing asked for twice", "each thing once", "take one of the two out.")
    if "senses" in words and {"forces", "zero members"} & set(words):
        raise fault(
            "'senses' beside 'forces' or 'zero members'",
            "one of the two ways",
            "leave out 'senses': whoever works out forces says T, C or 0 with them.",
        )
    return words


class Working(Criterion):
    """See the module's docstring, which is the page the teacher reads."""

    kind: Literal["working"]
    asks: Annotated[tuple[Ask, ...], reads(_asks, _ASKED)] = Field(
        description="what the student works out", examples=["[reactions, forces]"]
    )
    within: Part = Field(0.02, description="how near an answer must be", examples=["2 %"])
    or_within_N: LeastForce = Field(0.0, description="how near an answer must be, as a force", examples=["0.5 N"])
    sense_alone: Part = Field(0.5, description="the part for T or C right and the size wrong", examples=["50 %"])
    follow_through: Part = Field(1.0, description="the part for what follows from a slip", examples=["100 %"])
    rounded: Part = Field(0.75, description="the part for an answer rounded too far", examples=["75 %"])
    unit_slip: Part = Field(0.5, description="the part for an answer in the wrong unit", examples=["50 %"])

    @property
    def asked(self) -> str:
        things = ["T, C or 0 for each member" if word == "senses" else word for word in self.asks]
        near = [amount(self.within, "%")] + ([amount(self.or_within_N, "N")] if self.or_within_N else [])
        nearness = "" if self.asks == ("senses",) else f", each within {' or '.join(near)}"
        return f"{listed(things)} worked out by hand{nearness}"

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
            return Found(None, "not compared yet", "It waits until the file is marked again.", judged=False)
        if not answers:
            why = "A truss that can move has no forces to work out."
            return nothing_yet(self, "no forces to compare", why, "Make the truss stable first.")
        earned = round(self.points * sum(self.part(answer.verdict) for answer in answers) / len(answers), 2)
        more = "" if earned >= self.points else self._earn_more(answers)
        return Found(earned, seen(answers), _why(answers), more)

    def _earn_more(self, answers: tuple[Answer, ...]) -> str:
        slip = first_slip(answers)
        if all(answer.verdict == "left out" for answer in answers):
            return f"Add a block 'working' to your file {self.to_earn(self.points, True)}."
        mend = "Work it out again" if slip is None or slip.given else "Work it out"
        where = f"Start with {slip.spoken}. {mend}" if slip else "Give more figures"
        return f"{where} {self.to_earn(self.points, True)}."


def first_slip(answers: tuple[Answer, ...]) -> Answer | None:
    """The first answer that is neither right nor follows from an earlier one; what was left out comes last."""
    slips = [answer for answer in answers if answer.verdict not in ("right", "follows")]
    written = [answer for answer in slips if answer.verdict != "left out"]
    return next(iter(written or slips), None)


_COUNTED: dict[Verdict, str] = {
    "follows": "{count} follow{s} from an earlier slip",
    "rounded": "{count} rounded too far",
    "unit": "{count} in the wrong unit",
    "sense": "{count} with the right sense alone",
    "wrong": "{count} wrong",
    "left out": "{count} left out",
}


def seen(answers: tuple[Answer, ...]) -> str:
    """``7 of 9 right, 1 follows from an earlier slip, 1 left out``."""
    counts = Counter(answer.verdict for answer in answers)
    rest = [
        said.format(count=counts[verdict], s="s" if counts[verdict] == 1 else "")
        for verdict, said in _COUNTED.items()
        if counts[verdict]
    ]
    return ", ".join([f"{counts['right']} of {len(answers)} right", *rest])


def _why(answers: tuple[Answer, ...]) -> str:
    slip = first_slip(answers)
    if slip is None:
        follows = any(answer.verdict == "follows" for answer in answers)
        return "What is not right follows from a slip." if follows else "All your answers are right."
    if all(answer.verdict == "left out" for answer in answers):
        return "Your file holds no working."
    return slip.said or f"Look at {slip.spoken} again."
