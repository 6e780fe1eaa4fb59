"""Steps: bands of a measure, each with its words and its points.

.. code-block:: yaml

    - name: Light for what it carries
      kind: steps
      measure: efficiency
      bands:
        - {from: 0, words: still heavy, points: 0}
        - {from: 300, words: light, points: 10}
        - {from: 600, words: very light, points: 20}
      points: 20

An efficiency of 350 is 'light' and earns 10 points; one of 250 is 'still heavy' and earns none.
A band ends where the next begins, so bands can neither overlap nor leave a gap: the first begins at 0,
and each next one higher.  The best band must be worth the criterion's points, which may be written as
parts: ``points: 50 %``.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Any, Literal

from pydantic import Field, model_validator

from rubric.criteria.common import Criterion, Found, Judgements
from rubric.criteria.measured import SLACK, MeasureName, best_is, goal_said, in_units_of, not_measured, said, worth
from rubric.evidence import Evidence
from rubric.language import _, later
from rubric.measures import CATALOGUE, Measure
from rubric.shapes import Shape, Words, fault
from rubric.wording import amount, points


class Band(Shape):
    """One band: from this value up to where the next begins."""

    from_: float = Field(description=later("where the band begins"), examples=["300"])
    words: Words = Field(description=later("a few words for it"), examples=["light"])
    points: float = Field(description=later("what it earns"), examples=["10"])


class Steps(Criterion):
    """See the module's docstring, which is the page the teacher reads."""

    kind: Literal["steps"]
    measure: MeasureName = Field(description=later("a measure of the catalogue"), examples=["efficiency"])
    bands: tuple[Band, ...] = Field(
        description=later("a list of at least two bands"),
        examples=["[{from: 0, words: heavy, points: 0}, ...]"],
        json_schema_extra={"minItems": 2},
    )

    @model_validator(mode="before")
    @classmethod
    def _numbers(cls, data: Any) -> Any:
        if not isinstance(data, dict) or not isinstance(data.get("bands"), list | tuple):
            return data
        measure = CATALOGUE.get(str(data.get("measure")))
        if measure is None:  # told by the field itself; without a measure its numbers mean nothing
            return {**data, "bands": ()}
        read = [_band(measure, band, data.get("points"), place) for place, band in enumerate(data["bands"])]
        return {**data, "bands": read}

    @model_validator(mode="after")
    def _without_gap(self) -> Steps:
        if len(self.bands) < 2:
            raise fault(
                _("fewer than two bands"), _("at least two"), _("add a band, or use 'kind: threshold'."), "bands"
            )
        unit = CATALOGUE[self.measure].unit
        first = self.bands[0].from_
        if first != 0:
            raise fault(
                _("a gap below {amount}", amount=amount(first, unit)),
                _("a first band that begins at 0"),
                _("write 'from: {amount}' in the first band.", amount=amount(0, unit)),
                *("bands", 0, "from"),
            )
        for place, (band, above) in enumerate(pairwise(self.bands), start=1):
            if above.from_ <= band.from_:
                raise fault(
                    _(
                        "bands that overlap: from {start} after from {before}",
                        start=amount(above.from_, unit),
                        before=amount(band.from_, unit),
                    ),
                    _("each band to begin above the one before"),
                    _("put the bands in order, the lowest first."),
                    *("bands", place, "from"),
                )
        best_is(max(band.points for band in self.bands), self.points, _("bands"), "bands")
        return self

    @property
    def asked(self) -> str:
        unit, text = CATALOGUE[self.measure].unit, _("{words}, from {start}, earns {points}")
        return "; ".join(
            text.format(words=band.words, start=amount(band.from_, unit), points=points(band.points))
            for band in self.bands
        )

    def find(self, evidence: Evidence, judgements: Judgements) -> Found:
        """What the band earns in which the value lies; a value below 0 lies in the first."""
        measure = CATALOGUE[self.measure]
        value = evidence.measures.get(self.measure)
        if value is None:
            return not_measured(self, measure, evidence)
        reached = [band for band in self.bands if band.from_ <= value + SLACK * max(abs(value), band.from_)]
        band = reached[-1] if reached else self.bands[0]
        more = "" if band.points >= self.points else self._goal(measure, value)
        return Found(band.points, said(measure, value), _("That counts as '{words}'.", words=band.words), more)

    def _goal(self, measure: Measure, value: float) -> str:
        """The way to the nearest of the best bands: up to where it begins, or below where the next does."""
        ends = [*(band.from_ for band in self.bands[1:]), None]
        best = [(b.from_, end) for b, end in zip(self.bands, ends, strict=True) if b.points == self.points]
        above = [start for start, end in best if start > value]
        under = [end for start, end in best if end is not None and end <= value]
        if above and (not under or above[0] - value <= value - under[-1]):
            return goal_said(self, measure, value, above[0])
        below = amount(under[-1], measure.unit)
        reward = self.to_earn(self.points, True)
        text = _("Bring down {measure} below {limit} {reward}.")
        return text.format(measure=measure.in_a_sentence, limit=below, reward=reward)


def _band(measure: Measure, band: Any, whole: Any, place: int) -> Any:
    """The band with its numbers read; what is missing is told by the band itself."""
    if not isinstance(band, dict):
        return band
    if "to" in band:
        raise fault(
            _("a band with 'to'"),
            _("'from' alone, because a band ends where the next begins"),
            _("take 'to' out."),
            *("bands", place, "to"),
        )
    read = dict(band)
    if "from" in band:
        read["from"] = in_units_of(measure, band["from"], "bands", place, "from")
    if "points" in band:
        read["points"] = worth(band["points"], whole, "bands", place, "points")
    return read
