"""A place in the class or in the contest: settled when you release the marks.

.. code-block:: yaml

    - name: Place in the class
      kind: place
      among: class
      by: efficiency
      earns: {1: 10, 2: 8, 3: 6, 10: 0}
      points: 10

Between the places you list, points run in a straight line; behind the last they are 0.  Third place earns
6 points, and so do both students who share it; tenth place earns none.  ``among`` is ``class`` or
``contest``, ``by`` any measure of the catalogue; left out, they are the class and efficiency.

A place means nothing before everybody has handed in, so the rubric must say ``release: by hand``.  The
criterion waits until then.  A truss that can move, and a file with mistakes, has no place and earns none.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Annotated, Any, Literal, get_args

from pydantic import Field, WithJsonSchema, model_validator

from rubric.criteria.common import Criterion, Found, Judgements
from rubric.criteria.measured import MeasureName, best_is, not_measured, worth
from rubric.criteria.scale import interpolate
from rubric.evidence import Evidence
from rubric.language import _, later
from rubric.measures import CATALOGUE, Measure
from rubric.problems import quoted
from rubric.quantities import number
from rubric.shapes import choice, fault
from rubric.wording import points
from rubric.written import block, points_or_part

Among = Literal["class", "contest"]

_BY: dict[Among, str] = {
    "class": later("place in the class by {measure}: {earns}"),
    "contest": later("place in the contest by {measure}: {earns}"),
}
_REACHED: dict[Among, str] = {
    "class": later("place {place} of {of} in the class"),
    "contest": later("place {place} of {of} in the contest"),
}


_BY_PLACE = block(points_or_part(), least=1, keys={"pattern": "^ *[0-9]"})


class Place(Criterion):
    """See the module's docstring, which is the page the teacher reads."""

    kind: Literal["place"]
    among: Annotated[Among, choice(*get_args(Among))] = Field(
        "class", description=later("among whom the places are"), examples=["class"]
    )
    by: MeasureName = Field("efficiency", description=later("the measure that decides"), examples=["efficiency"])
    earns: Annotated[tuple[tuple[int, float], ...], WithJsonSchema(_BY_PLACE)] = Field(
        description=later("points by place"), examples=["{1: 10, 2: 8, 10: 0}"]
    )

    @model_validator(mode="before")
    @classmethod
    def _places(cls, data: Any) -> Any:
        if not isinstance(data, dict) or not isinstance(data.get("earns"), dict):
            return data
        earns = data["earns"].items()
        return {**data, "earns": [(_nth(p), worth(w, data.get("points"), "earns", p)) for p, w in earns]}

    @model_validator(mode="after")
    def _in_order(self) -> Place:
        if not self.earns or self.earns[0][0] != 1:
            raise fault(
                _("places without the first"),
                _("a list that begins with place 1"),
                _("write for example '{1: 10, 2: 8, 10: 0}'."),
                "earns",
            )
        if any(b[0] <= a[0] for a, b in pairwise(self.earns)):
            raise fault(_("places out of order"), _("each place once, the first to the left"), _("sort them."), "earns")
        if any(after[1] > before[1] for before, after in pairwise(self.earns)):
            raise fault(_("a later place that earns more"), _("no more than the place before"), _("lower it."), "earns")
        best_is(self.earns[0][1], self.points, _("places"), "earns")
        return self

    @property
    def measure(self) -> str:
        """The measure that it looks at."""
        return self.by

    @property
    def asked(self) -> str:
        said = (_("place {place} earns {points}", place=place, points=points(earned)) for place, earned in self.earns)
        return _(_BY[self.among], measure=CATALOGUE[self.by].said, earns="; ".join(said))

    def find(self, evidence: Evidence, judgements: Judgements) -> Found:
        """What the place earns, once it is settled."""
        measure = CATALOGUE[self.by]
        place = evidence.places.get(self.name)
        if evidence.measures.get(self.by) is None:
            return not_measured(self, measure, evidence)
        if place is None:
            why = _("Places are settled when your teacher releases the marks.")
            return Found(None, _("not settled yet"), why)
        last = self.earns[-1][0]
        earned = interpolate(self.earns, float(place.place)) if place.place <= last else 0.0
        return Found(
            earned,
            _(_REACHED[self.among], place=place.place, of=place.of),
            _("First place!") if place.place == 1 else _kept(place.place, last),
            "" if earned >= self.points else _better(measure),
        )


def _kept(place: int, last: int) -> str:
    if place > last:
        return _("There are no points behind place {place}.", place=last)
    return _("That is what this place earns.")


def _better(measure: Measure) -> str:
    if measure.more_is_better:
        return _("The higher {measure}, the better the place.", measure=measure.in_a_sentence)
    return _("The lower {measure}, the better the place.", measure=measure.in_a_sentence)


def _nth(value: Any) -> int:
    given = value if isinstance(value, float | int) else number(str(value))
    if given is None or given != int(given) or not 1 <= given <= 10_000:
        raise fault(quoted(str(value)), _("a place, counted from 1"), _("write it in digits."), "earns")
    return int(given)
