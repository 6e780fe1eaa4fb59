"""Shapes of a second look at work: marking it twice, and comparing it with other work."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from rubric.criteria.common import CriterionMark
from rubric.messages.outcomes import Analysis, Figure
from service.api.shapes import ID, Moment, Shape
from service.api.work_shapes import Judged, Number, Words


class Marker(Shape):
    """A teacher who does not teach the class; the name only with the scope 'read names'."""

    id: ID
    name: str | None


class SecondMarking(Shape):
    """An attempt that somebody was asked to mark a second time."""

    id: ID
    attempt_id: ID
    marker_id: ID
    done_at: Moment | None
    open: int | None = Field(description="differences to settle; null until both have given all points")


class SecondMarkings(Shape):
    """All of an assignment, and who may be asked."""

    markers: tuple[Marker, ...]
    items: tuple[SecondMarking, ...]


class AskSecond(Shape):
    """Whom to ask for what; what that teacher was asked before is left out."""

    marker_id: ID
    attempt_ids: Annotated[tuple[ID, ...], Field(min_length=1, max_length=500)]


class PointsDifference(Shape):
    """One criterion to which both gave points."""

    criterion: str
    of: float
    first: float
    second: float
    first_said: str
    second_said: str
    stands: float | None = Field(description="what was settled, with its reason")
    why: str


class Differences(Shape):
    """All criteria of a second marking; null until both have given all points."""

    id: ID
    attempt_id: ID
    items: tuple[PointsDifference, ...] | None


class SettledPoints(Shape):
    """Which points stand, and why; the student reads it where the mark changes."""

    criterion: Words
    points: Number
    why: Words


class Settling(Shape):
    """What is settled; what is left out stays open."""

    settled: Annotated[tuple[SettledPoints, ...], Field(min_length=1, max_length=100)]


class SecondAsked(Shape):
    """Something that the token's maker was asked to mark a second time, in whichever class."""

    id: ID
    title: str
    done_at: Moment | None


class SecondsAsked(Shape):
    """All of them, what is open first."""

    items: tuple[SecondAsked, ...]


class ToJudge(Shape):
    """A criterion that waits for points."""

    criterion: str
    of: float
    look_for: str


class BlindWork(SecondAsked):
    """The work, with nothing of whose it is or what the first teacher gave."""

    brief: str
    analysis: Analysis | None
    drawing: Figure | None
    computed: tuple[CriterionMark, ...]
    to_judge: tuple[ToJudge, ...]
    given: tuple[Judged, ...] = Field(description="once it is done")


class LikeWork(Shape):
    """A work of a pair; number of the attempt and of its student for the token's class alone."""

    attempt_id: ID | None
    student_id: ID | None
    class_name: str
    assignment: str
    handed_in: Moment


class LikePair(Shape):
    """Two works that are alike in what is rare about them; that proves nothing."""

    first: LikeWork
    other: LikeWork
    percent: int = Field(description="100: the same, but for names, sticks or size")
    turned: bool = Field(description="whether one fits the other when it is mirrored")
    weak: bool = Field(description="whether chance may well explain it")
    said: tuple[str, ...]


class Likeness(Shape):
    """What was found when it was last looked for, the strongest pair first."""

    waiting: bool
    works: int | None = Field(description="how many were compared; null: never")
    left_out: int
    pairs: tuple[LikePair, ...]
    shared: tuple[tuple[LikeWork, ...], ...] = Field(description="works of many that are all alike")
