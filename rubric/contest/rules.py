"""The rules of a contest, declared by a coordinator.

.. code-block:: yaml

    title: Spring bridges
    dates: {opens: 2027-03-01 08:00, freeze: 2027-03-20 16:00, day: 2027-03-24 09:00, publish: 2027-03-24 15:00}
    divisions:
      - {name: Juniors, ages: 10 to 13}
      - {name: Year 9, classes: [9A, 9B]}
      - {name: Open}
    entries: 2
    entry:
      - {measure: mechanisms, at most: 0}
      - {measure: reserve factor, at least: 1}
    rank by: efficiency
    ties: [less mass, more load, nearest prediction]
    weigh in: {mass: 60 g, differs: 15 %, checks: [The span is free, No stick of another kit]}
    over mass: {free: 1 g, per gram: 2 %, most: 20 %, out at: 80 g}
    retest: {most: 1, counts: best}
    rig: {unit: kg, tare: 0.4, gear: 250 g, most: 400 N}

A pupil stands in the first division that takes them: by age on the day, by the code of the class, or, where a
division names neither, by choice.  A bridge of 63.2 g with ``mass: 60 g`` is 2.2 g over what is free: 3 grams have
begun and its efficiency counts 6 % less; one of 80 g or more is tested and not ranked.  Of two bridges whose
efficiency reads the same, the lighter stands first, and so on through ``ties``; who is level to the end
shares a place.
"""

from __future__ import annotations

import math
import re
from itertools import pairwise
from typing import Annotated, Any, Literal, get_args

from pydantic import Field, model_validator

from rubric.brief import Moment
from rubric.contest.rig import Rig
from rubric.language import _, counted, later
from rubric.problems import quoted
from rubric.rules.attempts import Counts
from rubric.rules.entry import Condition
from rubric.shapes import Count, CountFrom1, Mass, Part, Shape, Words, choice, fault, read
from rubric.wording import amount, listed
from rubric.written import reads, text_like

RankBy = Literal["efficiency", "load", "nearest prediction"]
Tie = Literal["less mass", "more load", "nearest prediction", "named earlier"]

_MEANS: dict[str, str] = {
    "efficiency": later("The list is ranked by measured efficiency, the load carried over the weight."),
    "load": later("The list is ranked by the load carried."),
    "nearest prediction": later("The list is ranked by how near the load carried comes to the prediction."),
}


def _ages(value: Any) -> str:
    found = re.fullmatch(r"(\d{1,2}) *(?:to|-) *(\d{1,2})", " ".join(str(value).split()))
    if found is None or not 5 <= int(found[1]) <= int(found[2]) <= 25:
        raise fault(
            quoted(str(value)), _("the first and the last age, from 5 to 25"), _("write for example '11 to 13'.")
        )
    return f"{int(found[1])} to {int(found[2])}"


def _short(value: Any) -> str:
    text = " ".join(str(value).split())
    if not 1 <= len(text) <= 40:
        raise fault(quoted(text), _("a name of at most 40 letters"), _("write a short name, such as 'Juniors'."))
    return text


_NAMES = {"type": "array", "items": {"type": ["string", "number"]}, "maxItems": 60}


def _names(value: Any) -> tuple[str, ...]:
    texts = [" ".join(str(one).split()) for one in value] if isinstance(value, list | tuple) else [""]
    if len(texts) > 60 or not all(1 <= len(text) <= 120 for text in texts):
        raise fault(quoted(str(value)), _("a list of at most 60 short texts"), _("write for example '[8A, 8B]'."))
    return tuple(texts)


def _ties(value: Any) -> tuple[str, ...]:
    words = get_args(Tie)
    given = [" ".join(str(one).split()).casefold() for one in value] if isinstance(value, list | tuple) else [""]
    unknown = [one for one in given if one not in words]
    if unknown or len(set(given)) < len(given):
        known = listed([quoted(word) for word in words])
        raise fault(
            quoted(str(value)),
            _("a list of {known}, each once", known=known),
            _("write for example '[less mass, more load]'."),
        )
    return tuple(given)


_TIES = {"type": "array", "items": {"enum": list(get_args(Tie))}, "uniqueItems": True}


class When(Shape):
    """The four dates of a contest, on the school's own clock."""

    opens: Moment | None = Field(None, description=later("since when entries are named"), examples=["2027-03-01 08:00"])
    freeze: Moment | None = Field(
        None, description=later("from when entries are locked"), examples=["2027-03-20 16:00"]
    )
    day: Moment | None = Field(None, description=later("when the tests begin"), examples=["2027-03-24 09:00"])
    publish: Moment | None = Field(None, description=later("when the list is read out"), examples=["2027-03-24 15:00"])

    @model_validator(mode="after")
    def _in_order(self) -> When:
        named = [(name, getattr(self, name)) for name in ("opens", "freeze", "day", "publish")]
        known = [(name, moment) for name, moment in named if moment]
        for (one, before), (other, after) in pairwise(known):
            if after < before:
                raise fault(
                    _("{later} before {earlier}", later=quoted(other), earlier=quoted(one)),
                    _("opens, freeze, day and publish in this order"),
                    _("change one of the two."),
                    other,
                )
        return self


class Division(Shape):
    """Those who are ranked among each other."""

    name: Annotated[str, reads(_short, {"type": "string", "minLength": 1, "maxLength": 40})] = Field(
        description=later("a short name"), examples=["Juniors"]
    )
    ages: Annotated[str, reads(_ages, text_like(r"[0-9]{1,2} *(?:to|-) *[0-9]{1,2}"))] | None = Field(
        None, description=later("the first and the last age"), examples=["11 to 13"]
    )
    classes: Annotated[tuple[str, ...], reads(_names, _NAMES)] = Field(
        (), description=later("codes of classes"), examples=["[8A, 8B]"]
    )

    @model_validator(mode="after")
    def _one_way(self) -> Division:
        if self.ages and self.classes:
            raise fault(
                _("both 'ages' and 'classes'"), _("one of the two, or neither"), _("take one of them out."), "classes"
            )
        return self

    @property
    def free(self) -> bool:
        """Whether it is open to everybody by choice."""
        return not self.ages and not self.classes

    def takes(self, code: str, age: int | None) -> bool:
        """Whether it takes a pupil of the class with this code and of this age, without being chosen."""
        if self.classes:
            return code.casefold() in {one.casefold() for one in self.classes}
        if not self.ages or age is None:
            return False
        first, last = self.ages.split(" to ")
        return int(first) <= age <= int(last)


class WeighIn(Shape):
    """What is looked at at the weigh-in."""

    mass_g: Mass | None = Field(None, description=later("the mass a bridge may have"), examples=["60 g"])
    differs: Part = Field(0.15, description=later("how far from the prediction is worth a question"), examples=["15 %"])
    checks: Annotated[tuple[str, ...], reads(_names, _NAMES)] = Field(
        (), description=later("what is checked with a ruler"), examples=["[The span is free, It is not too deep]"]
    )


class OverMass(Shape):
    """What it costs to be over the mass of the weigh-in; without it, every bridge over the mass is not ranked."""

    free_g: Mass = Field(0.0, description=later("how much over costs nothing"), examples=["1 g"])
    per_gram: Part = Field(0.0, description=later("what each gram begun costs"), examples=["2 %"])
    most: Part = Field(1.0, description=later("the most that it costs"), examples=["20 %"])
    out_at_g: Mass | None = Field(None, description=later("from which mass a bridge is not ranked"), examples=["80 g"])

    def cost(self, over_g: float) -> float:
        """The part of the result that is lost where the mass is ``over_g`` too high."""
        grams = math.ceil(round(over_g - self.free_g, 6))
        return min(self.most, grams * self.per_gram) if grams > 0 else 0.0


class Retest(Shape):
    """How often a bridge may be loaded again, with a reason, and which test counts."""

    most: Count = Field(0, description=later("how many tests more"), examples=["1"])
    counts: Annotated[Counts, choice(*get_args(Counts))] = Field(
        "best", description=later("which test counts"), examples=["best"]
    )


class ContestRules(Shape):
    """See the module's docstring, which is the page the coordinator reads."""

    title: Words = Field(description=later("a title"), examples=["Spring bridges"])
    dates: When = Field(
        When(), description=later("opens, freeze, day and publish"), examples=["{day: 2027-03-24 09:00}"]
    )
    divisions: tuple[Division, ...] = Field(
        (Division(name="All"),),
        description=later("a list of divisions"),
        examples=["[{name: Juniors, ages: 10 to 13}]"],
    )
    entries: CountFrom1 = Field(1, description=later("how many bridges a pupil may enter"), examples=["1"])
    entry: tuple[Condition, ...] = Field(
        (), description=later("a list of conditions"), examples=["[{measure: mechanisms, at most: 0}]"]
    )
    rank_by: Annotated[RankBy, choice(*get_args(RankBy))] = Field(
        "efficiency", description=later("what the list is ranked by"), examples=["efficiency"]
    )
    ties: Annotated[tuple[str, ...], reads(_ties, _TIES)] = Field(
        ("less mass",), description=later("what decides between equals, in order"), examples=["[less mass, more load]"]
    )
    weigh_in: WeighIn = Field(
        WeighIn(), description=later("what is looked at at the weigh-in"), examples=["{mass: 60 g}"]
    )
    over_mass: OverMass | None = Field(
        None, description=later("what being over the mass costs"), examples=["{per gram: 2 %}"]
    )
    retest: Retest = Field(Retest(), description=later("tests after the first"), examples=["{most: 1}"])
    rig: Rig = Field(description=later("the load-test rig"), examples=["{unit: kg, most: 400 N}"])

    @model_validator(mode="after")
    def _agrees_with_itself(self) -> ContestRules:
        names = [division.name.casefold() for division in self.divisions]
        if not 1 <= len(names) <= 20:
            raise fault(
                _("{count} divisions", count=len(names)), _("1 to 20"), _("add or take out divisions."), "divisions"
            )
        for place, name in enumerate(names):
            if name in names[:place]:
                at = ("divisions", place, "name")
                raise fault(
                    _("two divisions called {word}", word=quoted(name)),
                    _("different names"),
                    _("rename one of them."),
                    *at,
                )
        if self.entries > 5:
            raise fault(
                _("{entries} entries for each pupil", entries=self.entries),
                _("1 to 5"),
                _("lower 'entries'."),
                "entries",
            )
        if self.over_mass and self.weigh_in.mass_g is None:
            raise fault(
                _("'over mass' without a mass"),
                _("the mass of the weigh-in"),
                _("add for example 'weigh in: {mass: 60 g}'."),
                "over mass",
            )
        if self.rank_by in self.ties or (self.rank_by == "load" and "more load" in self.ties):
            raise fault(
                _("a tie-break that is what the list is ranked by, {word}", word=quoted(self.rank_by)),
                _("something else"),
                _("take it out of 'ties'."),
                "ties",
            )
        return self

    @property
    def asks_age(self) -> bool:
        """Whether a division goes by age, so that an entry needs one."""
        return any(division.ages for division in self.divisions)

    def divisions_for(self, code: str, age: int | None) -> tuple[str, ...]:
        """Where a pupil may stand: the first that takes them, else every free one."""
        taken = next((one.name for one in self.divisions if one.takes(code, age)), None)
        return (taken,) if taken else tuple(one.name for one in self.divisions if one.free)

    @property
    def said(self) -> tuple[str, ...]:
        """The rules in sentences, for those who take part."""
        said = [_(_MEANS[self.rank_by])]
        if self.ties:
            ties = _(_TIE_SAID[self.ties[0]])
            for tie in self.ties[1:]:
                ties = _("{first}, then {next}", first=ties, next=_(_TIE_SAID[tie]))
            said.append(_("Between equals this decides: {ties}.", ties=ties))
        said += [_("A bridge is entered only if {asked}.", asked=condition.asked_in_full) for condition in self.entry]
        said.append(counted("You may enter {count} bridge.", "You may enter {count} bridges.", self.entries))
        if self.weigh_in.mass_g is not None:
            said += self._over_said(self.weigh_in.mass_g)
        if self.retest.most:
            said.append(
                counted(
                    "With a reason, a bridge may be tested {count} time more: {which}.",
                    "With a reason, a bridge may be tested {count} times more: {which}.",
                    self.retest.most,
                    which=_(_TEST_COUNTS[self.retest.counts]),
                )
            )
        said.append(_("Every test stops at {load}.", load=amount(self.rig.most_N, "N")))
        return tuple(said)

    def _over_said(self, mass_g: float) -> list[str]:
        limit, over = _("A bridge may have {mass}.", mass=amount(mass_g, "g")), self.over_mass
        if over is None:
            return [f"{limit} " + _("One that has more is tested, and not ranked.")]
        said = [limit]
        if over.per_gram:
            said.append(_gram_said(over))
        if over.out_at_g is not None:
            said.append(_("From {mass} on, a bridge is tested and not ranked.", mass=amount(over.out_at_g, "g")))
        return said


def _gram_said(over: OverMass) -> str:
    cost = _("{part} of the result", part=amount(over.per_gram, "%"))
    if over.most < 1:
        cost = _("{cost}, {most} at most", cost=cost, most=amount(over.most, "%"))
    if not over.free_g:
        return _("Each gram over it costs {cost}.", cost=cost)
    return _("Each gram over it beyond the first {mass} costs {cost}.", mass=amount(over.free_g, "g"), cost=cost)


_TIE_SAID = {
    "less mass": later("less mass"),
    "more load": later("more load"),
    "nearest prediction": later("the nearer prediction"),
    "named earlier": later("the entry named earlier"),
}
_TEST_COUNTS: dict[Counts, str] = {
    "best": later("the best test counts"),
    "last": later("the last test counts"),
    "first": later("the first test counts"),
}


def read_rules(data: bytes) -> ContestRules:
    """Read the rules of a contest from the bytes of their YAML file.

    Raises
    ------
    Refused
        With every problem of the file.
    """
    return read(ContestRules, data)
