"""The brief: what the bridge must span, carry and keep to, in the trade's words.

Coordinates of a brief: the left support stands at x = 0, the right one at x = span, both at
deck level y = 0; y is up.
"""

from __future__ import annotations

import re
from datetime import datetime
from typing import Annotated, Any, Literal, get_args

from pydantic import Field, model_validator

from rubric.given import GivenTruss
from rubric.language import _, later
from rubric.material import Wood as Wood
from rubric.problems import quoted
from rubric.profiles import Section
from rubric.quantities import LENGTH_UNITS, number, quantity
from rubric.shapes import (
    Count,
    CountFrom1,
    Force,
    Length,
    Mass,
    Pure,
    Shape,
    Size,
    Stress,
    Words,
    choice,
    fault,
    read,
)
from rubric.spelling import did_you_mean
from rubric.written import DECIMAL, part, reads, text_like
from rubric.written import quantity as written_quantity

REACH_MM = 0.5
"""A joint this near to a support or a loaded place counts as standing there."""


def _support(value: Any) -> str:
    text = " ".join(str(value).split())
    slope = re.fullmatch(r"roller (\S+)", text)
    if text in ("pin", "roller", "roller y") or (slope and number(slope[1]) is not None):
        return text
    raise fault(quoted(text), _("'pin', 'roller', 'roller y' or 'roller 30'"), did_you_mean(text, ["pin", "roller"]))


ALONG, TRAVELLING = "along the deck", "each deck joint in turn"
"""Loads that stand where the student's own deck joints are: spread over all of them, or on one after another."""


def _places(value: Any) -> str | tuple[float, ...]:
    if isinstance(value, str) and value in ("midspan", ALONG, TRAVELLING):
        return value
    if isinstance(value, list | tuple) and value:
        lengths = [v if isinstance(v, float | int) else quantity(str(v), LENGTH_UNITS, "mm") for v in value]
        if None not in lengths and len(set(lengths)) == len(lengths) <= 50:
            return tuple(float(length) for length in lengths if length is not None)
    raise fault(
        quoted(str(value)),
        _(
            "'midspan', '{along}', '{travelling}' or a list of different places measured from the left support",
            along=ALONG,
            travelling=TRAVELLING,
        ),
        _("write for example 'places: [200 mm, 400 mm]'."),
    )


def _share(value: Any) -> float:
    if value == "equal":
        return 0.0
    text = str(value).strip()
    part = number(text[:-1]) if text.endswith("%") else None
    given = part / 100 if part is not None else number(text)
    if given is None or not 0 <= given <= 1:
        raise fault(
            quoted(text), _("'equal' or the share of the most loaded side truss, such as '60 %'"), _("mend it.")
        )
    return given


def _date(value: Any) -> datetime:
    try:
        moment = value if isinstance(value, datetime) else datetime.fromisoformat(str(value).strip())
    except ValueError:
        raise fault(quoted(str(value)), _("a date and time"), _("write for example '2027-03-01 16:00'.")) from None
    if not 2000 <= moment.year <= 2200 or moment.tzinfo is not None:
        raise fault(
            quoted(str(value)), _("a date between 2000 and 2200 in the school's own time"), _("leave the zone out.")
        )
    return moment


_PLACES = {
    "anyOf": [
        {"enum": ["midspan", ALONG, TRAVELLING]},
        {"type": "array", "items": written_quantity(LENGTH_UNITS), "minItems": 1, "maxItems": 50, "uniqueItems": True},
    ]
}

ColumnCurve = Literal["Euler and Johnson", "EN 1995-1-1", "NDS"]
Advice = Literal["none", "where to look", "what to try"]
Glued = Literal["along", "at the ends"]
SelfWeight = Literal["left out", "counted"]
Joints = Literal["hinged", "rigid"]
BucklingShown = Literal["in words", "as a ratio", "by formula"]

SupportWord = Annotated[str, reads(_support, text_like(rf"(?:pin|roller|roller +(?:y|{DECIMAL}))"))]


class Supports(Shape):
    """What stands at each end."""

    left: SupportWord = Field("pin", description=later("the left support"), examples=["pin"])
    right: SupportWord = Field("roller", description=later("the right support"), examples=["roller"])


class Load(Shape):
    """Where the load stands and how much the whole bridge must carry."""

    places: Annotated[str | tuple[float, ...], reads(_places, _PLACES)] = Field(
        description=later("where the load stands"), examples=["midspan"]
    )
    target_N: Force = Field(description=later("the load the whole bridge must carry"), examples=["200 N"])


class Stick(Shape):
    """One kind of stick in the kit."""

    section: Section = Field(description=later("width x thickness"), examples=["5 x 5 mm"])
    length_mm: Size = Field(description=later("the length of one stick"), examples=["900 mm"])
    count: CountFrom1 = Field(description=later("how many sticks one kit holds"), examples=["12"])

    def __hash__(self) -> int:
        # Asked for at each member of each variation of a truss; the usual one goes through all fields.
        return hash((self.section.kind, self.section.sides_mm))


class Gusset(Shape):
    """A plate glued over each joint, one on either face of the truss."""

    thickness_mm: Size = Field(description=later("the thickness of one plate"), examples=["1 mm"])
    strength_MPa: Stress = Field(description=later("tensile strength of the plate"), examples=["20 MPa"])


class Glue(Shape):
    """The glued joints: a lap of this length at each end of each stick, or under each gusset."""

    strength_MPa: Stress = Field(description=later("shear strength of the glue"), examples=["5 MPa"])
    lap_mm: Size = Field(description=later("the glued length at each end of a stick"), examples=["12 mm"])
    gusset: Gusset | None = Field(
        None, description=later("the gussets"), examples=["{thickness: 1 mm, strength: 20 MPa}"]
    )


class Limits(Shape):
    """What the truss must keep to; a limit left out does not bind."""

    depth_above_mm: Length | None = Field(None, description=later("highest joint over the deck"), examples=["150 mm"])
    depth_below_mm: Length | None = Field(None, description=later("lowest joint under the deck"), examples=["0 mm"])
    mass_g: Mass | None = Field(None, description=later("mass of the whole bridge"), examples=["60 g"])
    joints: CountFrom1 | None = Field(None, description=later("joints of one side truss"), examples=["20"])
    longest_member_mm: Size | None = Field(None, description=later("longest member"), examples=["200 mm"])
    shortest_member_mm: Size | None = Field(None, description=later("shortest member"), examples=["20 mm"])
    slenderness: Pure | None = Field(
        None, description=later("slenderness of a strut, 10 to 1000"), examples=["200"], ge=10, le=1000
    )


class CrossMembers(Shape):
    """What ties the side trusses together: given, not designed."""

    mass_g: Mass = Field(description=later("mass of all cross members and the deck"), examples=["15 g"])


_DATE = text_like(r"2[0-2][0-9]{2}-?[0-9]{2}-?[0-9]{2}(?:[ T][0-9]{2}(?::?[0-9]{2}){0,2})?")
Moment = Annotated[datetime, reads(_date, _DATE)]


class Dates(Shape):
    """When work may be handed in, in the school's own time."""

    opens: Moment | None = Field(None, description=later("first moment"), examples=["2027-03-01 08:00"])
    due: Moment | None = Field(None, description=later("last moment"), examples=["2027-03-15 16:00"])

    @model_validator(mode="after")
    def _in_order(self) -> Dates:
        if self.opens and self.due and self.opens >= self.due:
            raise fault(
                _("opening on {opens} and due on {due}", opens=self.opens, due=self.due),
                _("opening before the due date"),
                _("swap the two."),
            )
        return self


class Brief(Shape):
    """What is asked of every bridge of a class."""

    title: Words = Field(description=later("a title"), examples=["Footbridge"])
    age: Words | None = Field(None, description=later("the ages it is meant for"), examples=["13 to 15"])
    task: Words | None = Field(None, description=later("the task in a sentence"), examples=["Carry a load."])
    span_mm: Size = Field(description=later("the distance between the supports"), examples=["600 mm"])
    supports: Supports = Field(Supports(), description=later("the supports"), examples=["{left: pin, right: roller}"])
    load: Load = Field(description=later("the load"), examples=["{places: midspan, target: 200 N}"])
    self_weight: Annotated[SelfWeight, choice(*get_args(SelfWeight))] = Field(
        "left out", description=later("whether the bridge carries its own weight too"), examples=["counted"]
    )
    joints: Annotated[Joints, choice(*get_args(Joints))] = Field(
        "hinged", description=later("how forces in the members are found"), examples=["rigid"]
    )
    sides: CountFrom1 = Field(2, description=later("how many like side trusses carry the deck"), examples=["2"])
    share: Annotated[float, reads(_share, {"anyOf": [{"const": "equal"}, part()]})] = Field(
        0.0, description=later("share of the most loaded side truss"), examples=["equal"]
    )
    wood: Wood = Field(description=later("the wood"), examples=["{material: balsa}"])
    stock: dict[str, Stick] = Field(
        description=later("the sticks of one kit by name"),
        examples=["{square5: {section: 5 x 5 mm, length: 900 mm, count: 12}}"],
        min_length=1,
    )
    glue: Glue | None = Field(None, description=later("the glue"), examples=["{strength: 5 MPa, lap: 12 mm}"])
    effective_length: Pure = Field(
        1.0, description=later("effective length over joint distance, 0.5 to 2"), examples=["1"], ge=0.5, le=2
    )
    column_curve: Annotated[ColumnCurve, choice(*get_args(ColumnCurve))] = Field(
        "Euler and Johnson", description=later("how struts buckle"), examples=["EN 1995-1-1"]
    )
    bracing_mm: Size | None = Field(
        None, description=later("the distance between points held sideways"), examples=["150 mm"]
    )
    glued: Annotated[Glued, choice(*get_args(Glued))] = Field(
        "along", description=later("where sticks side by side are glued"), examples=["along"]
    )
    limits: Limits = Field(Limits(), description=later("the limits"), examples=["{depth above: 150 mm}"])
    cross_members: CrossMembers | None = Field(None, description=later("the ties"), examples=["{mass: 15 g}"])
    advice: Annotated[Advice, choice(*get_args(Advice))] = Field(
        "what to try", description=later("how far advice goes"), examples=["where to look"]
    )
    buckling_shown: Annotated[BucklingShown, choice(*get_args(BucklingShown))] = Field(
        "as a ratio", description=later("how far buckling is worked out for students"), examples=["in words"]
    )
    kerf_mm: Length = Field(
        0.0, description=later("what one saw cut takes away, 0 to 20 mm"), examples=["1 mm"], ge=0, le=20
    )
    most_sticks: Count = Field(
        2, description=later("how many sticks may be glued side by side"), examples=["2"], ge=1, le=3
    )
    problem: GivenTruss | None = Field(
        None, description=later("a truss to be worked out by hand"), examples=["{joints: {...}, members: {...}}"]
    )
    dates: Dates = Field(Dates(), description=later("the dates"), examples=["{due: 2027-03-15 16:00}"])

    @model_validator(mode="after")
    def _places_on_the_span(self) -> Brief:
        places = self.load.places if isinstance(self.load.places, tuple) else ()
        off = [place for place in places if not 0 <= place <= self.span_mm]
        if places and all(place in (0, self.span_mm) for place in places):
            raise fault(_("loads over the supports alone"), _("a load between them"), _("add a place within the span."))
        if off:
            raise fault(
                _("a load at {place} mm", place=f"{off[0]:g}"),
                _("places between 0 and the span of {span_mm} mm", span_mm=f"{self.span_mm:g}"),
                _("move it."),
            )
        if self.share and self.share * self.sides < 1 - 1e-9:
            raise fault(
                _(
                    "a share of {share} for the most loaded of {sides} side trusses",
                    share=f"{self.share:.0%}",
                    sides=self.sides,
                ),
                _("at least {part}", part=f"{1 / self.sides:.0%}"),
                _("write 'share: equal' or a larger share."),
            )
        return self

    @model_validator(mode="after")
    def _the_problem_fits(self) -> Brief:
        """What the worker would refuse of every student is refused of the teacher."""
        if self.problem is None:
            return self
        for name in self.problem.members:
            stick = self.problem.stick_of(name)
            if stick not in self.stock:
                mend = did_you_mean(stick, self.stock)
                raise fault(
                    _("the stick {word}", word=quoted(stick)),
                    _("a stick of the stock"),
                    mend,
                    "problem",
                    "members",
                    name,
                )
        places = {"midspan": (self.span_mm / 2,)}.get(str(self.load.places), self.load.places)
        for x in (0.0, self.span_mm, *(places if isinstance(places, tuple) else ())):
            if self.problem.at(x, 0.0) is None:
                raise fault(
                    _("a problem without a joint at [{x}, 0]", x=f"{x:g}"),
                    _("a joint at each support and each load"),
                    _("add one, or change 'span' or 'load'."),
                    "problem",
                    "joints",
                )
        return self

    @property
    def side_share(self) -> float:
        """The part of the bridge's load that the most loaded side truss carries."""
        return self.share or 1 / self.sides


def read_brief(data: bytes) -> Brief:
    """Read a brief from the bytes of its YAML file.

    Raises
    ------
    Refused
        With every problem of the file.
    """
    return read(Brief, data)
