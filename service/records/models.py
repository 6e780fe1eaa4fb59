"""The tables.  A row here is the truth; the broker is only transport.

Times are UTC without zone.  Files and sheets are kept in the database, so that one commit
keeps a hand-in whole and web and recorder may run on different hosts.
"""

from __future__ import annotations

from datetime import datetime
from typing import Any

from sqlalchemy import JSON, ForeignKey, Index, LargeBinary, String, Text, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column, relationship

from rubric.language import later
from rubric.messages.names import AWARD, COMPARE, DRAW, MARK, PLAN, PRINT, REPORT, TRY
from service.records.base import NEVER_AGAIN as NEVER_AGAIN
from service.records.base import Base as Base
from service.records.base import now as now
from service.records.people_models import Browser as Browser
from service.records.people_models import Person as Person
from service.records.people_models import School as School
from service.records.people_models import SchoolClass as SchoolClass
from service.records.people_models import Teaching as Teaching

COORDINATOR, TEACHER, STUDENT = later("coordinator"), later("teacher"), "student"

WAITING, DONE, FAILED = "waiting", "done", "failed"
"""States of a job."""

RECEIVED, MARKED, NOT_MARKED = "received", "marked", "failed"
"""States of a submission."""

JOB_KINDS = (MARK, DRAW, TRY, PRINT, PLAN, COMPARE, AWARD, REPORT)


FOR_THE_TABLE = (
    "assignment_id",
    "student_id",
    "number",
    "state",
    "has_mistakes",
    "total",
    "waiting_points",
    "on_board",
    "efficiency",
    "held",
    "version_id",
)


class Contest(Base):
    """A contest over the assignments that name it."""

    __tablename__ = "contests"
    id: Mapped[int] = mapped_column(primary_key=True)
    title: Mapped[str] = mapped_column(String(200))


class Assignment(Base):
    """Something set for a class; what is asked and how it is marked stands in its versions."""

    __tablename__ = "assignments"
    __table_args__ = NEVER_AGAIN
    id: Mapped[int] = mapped_column(primary_key=True)
    class_id: Mapped[int] = mapped_column(ForeignKey("classes.id"), index=True)
    contest_id: Mapped[int | None] = mapped_column(ForeignKey("contests.id"), index=True)
    title: Mapped[str] = mapped_column(String(200))
    opens: Mapped[datetime | None]
    due: Mapped[datetime | None]
    release_by_hand: Mapped[bool] = mapped_column(default=False)
    """Whether marks of attempts that come in wait until a teacher releases them, whatever the rubric says."""
    alike: Mapped[dict[str, Any] | None] = mapped_column(JSON(none_as_null=True), deferred=True)
    """Works that are alike, as last looked for: the JSON of a Compared outcome.  For teachers alone."""
    alike_at: Mapped[datetime | None]
    school_class: Mapped[SchoolClass] = relationship(back_populates="assignments")
    contest: Mapped[Contest | None] = relationship()
    versions: Mapped[list[Version]] = relationship(
        back_populates="assignment", order_by="Version.number", lazy="selectin"
    )

    @property
    def newest(self) -> Version:
        """The version under which work is handed in from now on."""
        return self.versions[-1]


class Version(Base):
    """A brief and a rubric as they stood from some moment on, followed by others and never changed.

    ``brief`` and ``rubric`` are their JSON, the texts what the teacher wrote.  The database itself
    refuses to change them; a drawing and par come later.
    """

    __tablename__ = "versions"
    __table_args__ = (UniqueConstraint("assignment_id", "number"),)
    id: Mapped[int] = mapped_column(primary_key=True)
    assignment_id: Mapped[int] = mapped_column(ForeignKey("assignments.id"))
    number: Mapped[int]
    brief: Mapped[dict[str, Any]] = mapped_column(JSON)
    rubric: Mapped[dict[str, Any]] = mapped_column(JSON)
    brief_text: Mapped[str] = mapped_column(Text)
    rubric_text: Mapped[str] = mapped_column(Text)
    why: Mapped[str] = mapped_column(String(600), default="")
    by_id: Mapped[int | None] = mapped_column(ForeignKey("people.id"))
    """Who wrote it; None: from the command line."""
    made_at: Mapped[datetime] = mapped_column(default=now)
    due: Mapped[datetime | None]
    """When work was due by this version, UTC: what its lateness is counted from."""
    drawing: Mapped[dict[str, Any] | None] = mapped_column(JSON)
    """The envelope as drawn by a worker: the JSON of a Figure."""
    par_wood_g: Mapped[float | None]
    """Wood of the lightest bridge there could be for the brief, found out with the drawing."""
    assignment: Mapped[Assignment] = relationship(back_populates="versions")
    by: Mapped[Person | None] = relationship()


class Submission(Base):
    """One attempt of one student.  ``outcome`` is the JSON of a Marked outcome."""

    __tablename__ = "submissions"
    __table_args__ = (
        UniqueConstraint("assignment_id", "student_id", "number"),
        Index("ix_submissions_board", "assignment_id", "on_board", "efficiency"),
        # All that a class's table is made of, so that it never reads past files and outcomes.
        Index("ix_submissions_table", *FOR_THE_TABLE),
        NEVER_AGAIN,
    )
    id: Mapped[int] = mapped_column(primary_key=True)
    assignment_id: Mapped[int] = mapped_column(ForeignKey("assignments.id"))
    version_id: Mapped[int] = mapped_column(ForeignKey("versions.id"), index=True)
    """The brief and the rubric that its marks are made under: what stood when it was handed in, until marked again."""
    student_id: Mapped[int] = mapped_column(ForeignKey("people.id"), index=True)
    number: Mapped[int]
    file_name: Mapped[str] = mapped_column(String(200))
    file: Mapped[bytes] = mapped_column(LargeBinary, deferred=True)
    file_sha256: Mapped[str] = mapped_column(String(64))
    handed_in: Mapped[datetime] = mapped_column(default=now)
    state: Mapped[str] = mapped_column(String(12), default=RECEIVED)
    marked_at: Mapped[datetime | None]
    outcome: Mapped[dict[str, Any] | None] = mapped_column(JSON, deferred=True)
    fingerprint: Mapped[dict[str, Any] | None] = mapped_column(JSON(none_as_null=True), deferred=True)
    """What the structure is compared by: the JSON of a Fingerprint."""
    total: Mapped[float | None]
    """Points so far, with the teacher's own; the same as in ``outcome`` unless she has judged."""
    total_without_places: Mapped[float | None]
    """The total before places are settled, so that no place depends on another one."""
    out_of: Mapped[float | None]
    waiting_points: Mapped[float | None]
    efficiency: Mapped[float | None]
    on_board: Mapped[bool] = mapped_column(default=False)
    has_mistakes: Mapped[bool] = mapped_column(default=False)
    stable: Mapped[bool | None]
    by_id: Mapped[int | None] = mapped_column(ForeignKey("people.id"))
    """Who of the staff handed it in for the student; None: the student."""
    judgements: Mapped[dict[str, Any]] = mapped_column(JSON, default=dict)
    """What a teacher gave where no computation judges: the JSON of Judged by name of the criterion."""
    corrections: Mapped[dict[str, Any]] = mapped_column(JSON, default=dict)
    """What a teacher put in place of computed points, with the reason; in the same form."""
    comments: Mapped[dict[str, Any]] = mapped_column(JSON, default=dict)
    """A teacher's words by name of the criterion; under '' those on the whole."""
    places: Mapped[dict[str, Any]] = mapped_column(JSON, default=dict)
    """Places as settled at a release: the JSON of Place by name of the criterion."""
    held: Mapped[bool] = mapped_column(default=False)
    """Whether the student has to wait for the mark."""
    given_at: Mapped[datetime | None]
    """When the student was first given a mark for it; from then on no mark changes silently."""
    sheet: Mapped[Sheet | None] = relationship(back_populates="submission")
    student: Mapped[Person] = relationship(foreign_keys=[student_id])
    by: Mapped[Person | None] = relationship(foreign_keys=[by_id])
    assignment: Mapped[Assignment] = relationship()
    version: Mapped[Version] = relationship()
    extension: Mapped[Extension | None] = relationship(
        primaryjoin="and_(foreign(Submission.assignment_id) == Extension.assignment_id, "
        "foreign(Submission.student_id) == Extension.student_id)",
        viewonly=True,
    )

    @property
    def due(self) -> datetime | None:
        """When it was due, UTC: by the student's own extension, else by its version."""
        return self.extension.due if self.extension else self.version.due


class Extension(Base):
    """A due date of one student's own, in place of that of the class."""

    __tablename__ = "extensions"
    assignment_id: Mapped[int] = mapped_column(ForeignKey("assignments.id"), primary_key=True)
    student_id: Mapped[int] = mapped_column(ForeignKey("people.id"), primary_key=True, index=True)
    due: Mapped[datetime]
    why: Mapped[str] = mapped_column(String(300), default="")
    """For the staff alone."""
    by_id: Mapped[int] = mapped_column(ForeignKey("people.id"))
    made_at: Mapped[datetime] = mapped_column(default=now)


class ExtraAttempts(Base):
    """Attempts that one student has beyond those of the rubric."""

    __tablename__ = "extra_attempts"
    assignment_id: Mapped[int] = mapped_column(ForeignKey("assignments.id"), primary_key=True)
    student_id: Mapped[int] = mapped_column(ForeignKey("people.id"), primary_key=True, index=True)
    more: Mapped[int]
    why: Mapped[str] = mapped_column(String(300), default="")
    """For the staff alone."""
    by_id: Mapped[int] = mapped_column(ForeignKey("people.id"))
    made_at: Mapped[datetime] = mapped_column(default=now)


class Change(Base):
    """One change of a mark, or of whether the student may see it.

    Written once: the database itself refuses to change a row, or to delete it unless the whole attempt is
    deleted (:class:`service.records.acts.UnderDeletion`).  Rows of one saving share ``at`` and both totals.
    """

    __tablename__ = "changes"
    id: Mapped[int] = mapped_column(primary_key=True)
    submission_id: Mapped[int] = mapped_column(ForeignKey("submissions.id"), index=True)
    person_id: Mapped[int] = mapped_column(ForeignKey("people.id"))
    at: Mapped[datetime] = mapped_column(default=now, index=True)
    what: Mapped[str] = mapped_column(String(40))
    """In words, such as 'points put in place of computed ones'."""
    criterion: Mapped[str] = mapped_column(String(200), default="")
    before: Mapped[str] = mapped_column(Text, default="")
    after: Mapped[str] = mapped_column(Text, default="")
    why: Mapped[str] = mapped_column(Text, default="")
    total_before: Mapped[float | None]
    total_after: Mapped[float | None]
    told: Mapped[bool] = mapped_column(default=False)
    """Whether the student reads of it, because a mark that was given has changed."""
    person: Mapped[Person] = relationship()


class SecondMarking(Base):
    """An attempt that a teacher who does not teach the class marks blind, beside the first.

    ``points`` is the JSON of Judged by name of the criterion; ``settled`` that of the points which
    stand in the end where the two differ, with the reason.
    """

    __tablename__ = "second_markings"
    __table_args__ = (UniqueConstraint("submission_id", "marker_id"),)
    id: Mapped[int] = mapped_column(primary_key=True)
    submission_id: Mapped[int] = mapped_column(ForeignKey("submissions.id"))
    marker_id: Mapped[int] = mapped_column(ForeignKey("people.id"), index=True)
    asked_by_id: Mapped[int] = mapped_column(ForeignKey("people.id"))
    asked_at: Mapped[datetime] = mapped_column(default=now)
    done_at: Mapped[datetime | None]
    points: Mapped[dict[str, Any]] = mapped_column(JSON, default=dict)
    settled: Mapped[dict[str, Any]] = mapped_column(JSON, default=dict)
    submission: Mapped[Submission] = relationship()
    marker: Mapped[Person] = relationship(foreign_keys=[marker_id])


class Trial(Base):
    """A brief and a rubric tried out on work: what a teacher looks at before marks change.

    ``version_id`` is the version that it became, or was begun with; None while it is a draft.  A trial by
    which a class was marked again keeps in its works what stood before, so that one step undoes it.
    """

    __tablename__ = "trials"
    id: Mapped[int] = mapped_column(primary_key=True)
    assignment_id: Mapped[int] = mapped_column(ForeignKey("assignments.id"), index=True)
    version_id: Mapped[int | None] = mapped_column(ForeignKey("versions.id"))
    brief: Mapped[dict[str, Any]] = mapped_column(JSON)
    rubric: Mapped[dict[str, Any]] = mapped_column(JSON)
    brief_text: Mapped[str] = mapped_column(Text)
    rubric_text: Mapped[str] = mapped_column(Text)
    due: Mapped[datetime | None]
    by_id: Mapped[int] = mapped_column(ForeignKey("people.id"))
    made_at: Mapped[datetime] = mapped_column(default=now)
    why: Mapped[str] = mapped_column(String(600), default="")
    marked_again_at: Mapped[datetime | None]
    undone_at: Mapped[datetime | None]
    assignment: Mapped[Assignment] = relationship()
    version: Mapped[Version | None] = relationship()
    by: Mapped[Person] = relationship()
    works: Mapped[list[TrialWork]] = relationship(back_populates="trial", order_by="TrialWork.id")


class TrialWork(Base):
    """One piece of work in a trial: an attempt, or a sample with a file of its own."""

    __tablename__ = "trial_works"
    id: Mapped[int] = mapped_column(primary_key=True)
    trial_id: Mapped[int] = mapped_column(ForeignKey("trials.id"), index=True)
    submission_id: Mapped[int | None] = mapped_column(ForeignKey("submissions.id"), index=True)
    name: Mapped[str] = mapped_column(String(200), default="")
    file: Mapped[bytes | None] = mapped_column(LargeBinary, deferred=True)
    for_worker: Mapped[bool] = mapped_column(default=False)
    """Whether a worker has to solve it; else what was measured before still holds."""
    outcome: Mapped[dict[str, Any] | None] = mapped_column(JSON(none_as_null=True), deferred=True)
    version_before_id: Mapped[int | None] = mapped_column(ForeignKey("versions.id"))
    outcome_before: Mapped[dict[str, Any] | None] = mapped_column(JSON(none_as_null=True), deferred=True)
    """What its marks rested on before, where marking again put another outcome in its place."""
    trial: Mapped[Trial] = relationship(back_populates="works")
    submission: Mapped[Submission | None] = relationship()


class Sheet(Base):
    """The feedback sheet of a submission."""

    __tablename__ = "sheets"
    submission_id: Mapped[int] = mapped_column(ForeignKey("submissions.id"), primary_key=True)
    pdf: Mapped[bytes] = mapped_column(LargeBinary)
    printed_at: Mapped[datetime] = mapped_column(default=now)
    submission: Mapped[Submission] = relationship(back_populates="sheet")


class Plan(Base):
    """The building plan of a submission, on the paper that was last asked for; without a PDF while it is drawn."""

    __tablename__ = "plans"
    submission_id: Mapped[int] = mapped_column(ForeignKey("submissions.id"), primary_key=True)
    paper: Mapped[str] = mapped_column(String(8))
    pdf: Mapped[bytes | None] = mapped_column(LargeBinary, deferred=True)
    printed_at: Mapped[datetime | None]


class Job(Base):
    """One thing a worker is asked to do; asked again, the same row opens a new round.

    ``attempt`` is the token of the present round: an outcome counts only while the row still
    waits for that token, whichever sending it answers.  ``sent`` counts sendings, ``started`` how
    often a worker began; only the latter counts against the cap, so that a lost message never
    fails innocent work.
    """

    __tablename__ = "jobs"
    __table_args__ = (
        UniqueConstraint("kind", "subject_id"),
        Index("ix_jobs_waiting", "state", "next_send_at"),
        Index("ix_jobs_back", "state", "finished_at"),
        NEVER_AGAIN,
    )
    id: Mapped[int] = mapped_column(primary_key=True)
    kind: Mapped[str] = mapped_column(String(20))
    subject_id: Mapped[int] = mapped_column(index=True)
    """What it is about: a submission, an assignment or a trial's work; see ``below.SUBJECT_OF_JOB``."""
    state: Mapped[str] = mapped_column(String(12), default=WAITING)
    attempt: Mapped[str] = mapped_column(String(32))
    sent: Mapped[int] = mapped_column(default=0)
    started: Mapped[int] = mapped_column(default=0)
    created_at: Mapped[datetime] = mapped_column(default=now)
    sent_at: Mapped[datetime | None]
    came_sent_at: Mapped[datetime | None]
    """When the message was sent with which a worker began: what that says of its queue."""
    next_send_at: Mapped[datetime] = mapped_column(default=now)
    finished_at: Mapped[datetime | None]


class Sketch(Base):
    """A file that a student is still writing, to be looked at by a worker: one for each student, the newest.

    Nobody's work, so kept for minutes alone; an answer counts only for the very text that it was made from.
    """

    __tablename__ = "sketches"
    id: Mapped[int] = mapped_column(primary_key=True)
    student_id: Mapped[int] = mapped_column(ForeignKey("people.id", ondelete="CASCADE"), unique=True)
    assignment_id: Mapped[int] = mapped_column(ForeignKey("assignments.id", ondelete="CASCADE"), index=True)
    attempt: Mapped[str] = mapped_column(String(32))
    file: Mapped[bytes] = mapped_column(LargeBinary)
    asked_at: Mapped[datetime] = mapped_column(default=now)
    outcome: Mapped[dict[str, Any] | None] = mapped_column(JSON(none_as_null=True))
    """The JSON of a Sketched outcome; None while it is waited for."""


class Notice(Base):
    """Something a teacher should know, about one submission of a class; without a class it is for coordinators."""

    __tablename__ = "notices"
    id: Mapped[int] = mapped_column(primary_key=True)
    class_id: Mapped[int | None] = mapped_column(ForeignKey("classes.id"), index=True)
    submission_id: Mapped[int | None] = mapped_column(ForeignKey("submissions.id"))
    person_id: Mapped[int | None] = mapped_column(ForeignKey("people.id"))
    """The student whom the notice names, if it does: with him the notice goes."""
    text: Mapped[str] = mapped_column(String(400))
    values: Mapped[dict[str, Any]] = mapped_column(JSON, default=dict, server_default="{}")
    """What stands in the braces of the text, which is said when it is read; none: the text is the whole."""
    created_at: Mapped[datetime] = mapped_column(default=now)
    settled: Mapped[bool] = mapped_column(default=False)
