"""What programs may do, with a token, within one class."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from typing import Any

from flask import Response, jsonify, url_for
from sqlalchemy import select
from sqlalchemy.orm import Session
from werkzeug.wrappers import Response as AnyResponse

from rubric.brief import Brief
from rubric.messages.outcomes import Marked
from rubric.rubrics import Rubric
from rubric.schemas import NAMES
from service import web
from service.api import shapes
from service.api.answering import (
    answer,
    carrying_out,
    marked,
    moment,
    moment_given,
    page,
    pages,
    send_all,
    the_assignment,
    the_attempt,
    the_class,
)
from service.api.asking import body_as, for_programs, number_wanted, token
from service.api.keys import Key, key_for
from service.api.openapi import openapi
from service.api.problems import Refusal
from service.api.tokens import READ_NAMES
from service.classes.checking import check
from service.classes.dates import in_order
from service.classes.handing_in import NotTaken, TooLarge, check_size, plain_file_name
from service.classes.handing_in import hand_in as keep
from service.classes.setting import Terms, add_contest, give, marks_wait
from service.contest.board import places
from service.marks import marks_now
from service.records import queries
from service.records.acts import note
from service.records.models import STUDENT, Assignment, Person, SchoolClass, Sheet, Submission
from service.rendering import zone
from service.saying import to_utc

OPEN = "programs.description"
"""The one page here that needs no token."""


class AlreadyIn(Exception):
    """The key was used before; ``args[0]`` is what was handed in under it."""


@pages.get("/openapi.json")
def description() -> Response:
    """The OpenAPI file."""
    return jsonify(openapi())


@pages.get("/classes")
@for_programs
def classes() -> AnyResponse:
    """The class of the token."""
    return answer(shapes.Classes(items=(class_shape(token().school_class),)))


@pages.get("/classes/<int:class_id>")
@for_programs
def school_class(class_id: int) -> AnyResponse:
    """One class."""
    return answer(class_shape(the_class(class_id)))


@pages.get("/classes/<int:class_id>/students")
@for_programs
def students(class_id: int) -> AnyResponse:
    """Its students that have not left."""
    the_class(class_id)
    wanted = select(Person).where(Person.class_id == class_id, Person.role == STUDENT, Person.left_at.is_(None))
    items, more = page(wanted, Person.id, student_shape)
    return answer(shapes.Students(items=items, next=more))


@pages.get("/classes/<int:class_id>/assignments")
@for_programs
def assignments(class_id: int) -> AnyResponse:
    """What is set for it."""
    the_class(class_id)
    items, more = page(select(Assignment).where(Assignment.class_id == class_id), Assignment.id, assignment_shape)
    return answer(shapes.Assignments(items=items, next=more))


@pages.post("/classes/<int:class_id>/assignments")
@for_programs
def set_work(class_id: int) -> AnyResponse:
    """Set an assignment."""
    found, key = the_class(class_id), key_for("assignment_id", class_id)
    new, job = body_as(shapes.NewAssignment), None
    brief, rubric = check_texts(new)
    with carrying_out() as (session, who):
        number = key.done(session)
        if number is None:
            terms = _terms(session, new, brief, who.id)
            made, job = give(session, found.id, (new.brief, new.rubric), (brief, rubric), terms)
            number = made.id
            note(session, who.id, "work set", "assignment", number, "by a program")
            key.keep(session, number)
    send_all([job] if job else [])
    return answer(_in_full(the_assignment(number)), 201, url_for("programs.assignment", assignment_id=number))


@pages.get("/assignments/<int:assignment_id>")
@for_programs
def assignment(assignment_id: int) -> AnyResponse:
    """One assignment with its brief and rubric."""
    return answer(_in_full(the_assignment(assignment_id)))


@pages.get("/assignments/<int:assignment_id>/board")
@for_programs
def board(assignment_id: int) -> AnyResponse:
    """Its board."""
    return answer(board_shape(queries.assignment_board(web.reading(), the_assignment(assignment_id).id)))


@pages.get("/assignments/<int:assignment_id>/attempts")
@for_programs
def attempts(assignment_id: int) -> AnyResponse:
    """Attempts at it, oldest first."""
    wanted = select(Submission).where(Submission.assignment_id == the_assignment(assignment_id).id)
    student_id = number_wanted("student_id")
    if student_id is not None:
        wanted = wanted.where(Submission.student_id == student_id)
    items, more = page(wanted, Submission.id, attempt_shape)
    return answer(shapes.Attempts(items=items, next=more))


@pages.post("/assignments/<int:assignment_id>/attempts")
@for_programs
def hand_in(assignment_id: int) -> AnyResponse:
    """Hand in for a student; the rules of the assignment bind as they bind the student."""
    found, key = the_assignment(assignment_id), key_for("submission_id", assignment_id)
    new = body_as(shapes.NewAttempt)
    student = queries.student(web.reading(), token().by, new.student_id)
    if student is None or student.class_id != token().class_id or student.left_at is not None:
        raise Refusal(422, "No such student", "No student of this class has that number.")
    try:
        data = new.text.encode()
        check_size(data)
        taken = keep(under_key(key, student.id), student.id, found.id, plain_file_name(new.file_name), data)
    except AlreadyIn as before:
        return _handed_in(before.args[0])
    except NotTaken as error:
        status = 413 if isinstance(error, TooLarge) else 409 if len(error.args) > 1 else 422
        raise Refusal(status, "The file was not taken", str(error.args[0])) from None
    if taken.job is not None:
        web.send(taken.job)
    return _handed_in(taken.submission_id)


@pages.get("/attempts/<int:attempt_id>")
@for_programs
def attempt(attempt_id: int) -> AnyResponse:
    """One attempt, with the mistakes of its file."""
    found = the_attempt(attempt_id)
    mistakes = Marked.model_validate(found.outcome).mistakes if found.outcome else ()
    return answer(shapes.AttemptInFull(**attempt_shape(found).model_dump(), mistakes=mistakes))


@pages.get("/attempts/<int:attempt_id>/marks")
@for_programs
def marks(attempt_id: int) -> AnyResponse:
    """Its marks as they stand, with a teacher's own."""
    return answer(marks_now(marked(attempt_id)))


@pages.get("/attempts/<int:attempt_id>/outcome")
@for_programs
def outcome(attempt_id: int) -> AnyResponse:
    """All that a worker found out."""
    return answer(Marked.model_validate(marked(attempt_id).outcome))


@pages.get("/attempts/<int:attempt_id>/sheet")
@for_programs
def sheet(attempt_id: int) -> AnyResponse:
    """Its feedback sheet."""
    printed = web.reading().get(Sheet, the_attempt(attempt_id).id)
    if printed is None:
        raise Refusal(404, "No sheet", "The sheet of this attempt is not printed, or not yet.")
    return Response(printed.pdf, content_type="application/pdf")


@pages.get("/schemas")
@for_programs
def schemas() -> AnyResponse:
    """Where the JSON Schemas are."""
    return answer(shapes.SchemaNames(items={name: url_for("help.schema", name=name) for name in NAMES}))


def _terms(session: Session, new: shapes.NewAssignment, brief: Brief, by_id: int) -> Terms:
    """All but the texts; dates that are left out are the brief's, on the school's clock."""
    opens, due = moment_given(new.opens), moment_given(new.due)
    written = brief.dates
    terms = Terms(
        title=new.title,
        opens=opens or (to_utc(written.opens, zone()) if written.opens else None),
        due=due or (to_utc(written.due, zone()) if written.due else None),
        contest_id=add_contest(session, new.new_contest).id if new.new_contest else new.contest_id,
        release_by_hand=new.release_by_hand,
        by_id=by_id,
    )
    in_order(terms.opens, terms.due)
    if new.contest_id is not None and queries.contest(web.reading(), token().by, new.contest_id) is None:
        raise Refusal(422, "No such contest", "The token's maker has no part in a contest with this number.")
    return terms


def check_texts(new: shapes.NewAssignment) -> tuple[Brief, Rubric]:
    """Both texts as read, or every problem of both, with line and column."""
    both = check(new.brief, new.rubric)
    if both.brief.value is None or both.rubric.value is None:
        sides = (("brief", both.brief), ("rubric", both.rubric))
        wrong = [{"file": file, **vars(one.problem)} for file, side in sides for one in side.problems]
        raise Refusal(422, "Something in the texts is to be mended", "See 'problems'.", problems=wrong)
    return both.brief.value, both.rubric.value


def under_key(key: Key, student_id: int) -> Callable[[], Any]:
    """Writing sessions in which what is handed in is kept under a key, in the same commit."""

    @contextmanager
    def writing() -> Iterator[Session]:
        with web.writing() as session:
            before = key.done(session)
            if before is not None:
                raise AlreadyIn(before)
            yield session
            session.flush()
            own = select(Submission.id).where(Submission.student_id == student_id).order_by(Submission.id.desc())
            key.keep(session, session.scalars(own.limit(1)).one())

    return writing


def _handed_in(submission_id: int) -> Response:
    web.close_reading()  # the session that reads saw the moment before
    found = web.reading().get_one(Submission, submission_id)
    return answer(attempt_shape(found), 202, url_for("programs.attempt", attempt_id=found.id))


def board_shape(lines: Sequence[queries.BoardLine]) -> shapes.Board:
    """A board as programs read it."""
    found = (shapes.BoardPlace(rank=p.rank, alias=p.alias, efficiency=p.efficiency) for p in places(lines))
    return shapes.Board(items=tuple(found))


def class_shape(found: SchoolClass) -> shapes.SchoolClass:
    """A class as programs read it."""
    return shapes.SchoolClass(
        id=found.id,
        name=found.name,
        code=found.code,
        language=found.language,
        put_away=found.archived_at is not None,
        sourced_id=found.sourced_id,
    )


def student_shape(one: Person) -> shapes.Student:
    """A student as programs read it."""
    more = {"name": one.name, "roster_number": one.roster_number} if READ_NAMES in token().scopes else {}
    return shapes.Student(id=one.id, alias=one.alias, **more)


def assignment_shape(one: Assignment) -> shapes.Assignment:
    """An assignment as programs read it."""
    return shapes.Assignment(**_about(one))


def _in_full(one: Assignment) -> shapes.AssignmentInFull:
    return shapes.AssignmentInFull(**_about(one), brief=one.newest.brief_text, rubric=one.newest.rubric_text)


def _about(one: Assignment) -> dict[str, Any]:
    return {
        "id": one.id,
        "class_id": one.class_id,
        "title": one.title,
        "opens": moment(one.opens),
        "due": moment(one.due),
        "release_by_hand": marks_wait(one),
        "contest_id": one.contest_id,
        "version": one.newest.number,
    }


def attempt_shape(one: Submission) -> shapes.Attempt:
    """An attempt as programs read it."""
    return shapes.Attempt(
        id=one.id,
        assignment_id=one.assignment_id,
        student_id=one.student_id,
        number=one.number,
        handed_in=moment(one.handed_in) or "",
        state=one.state,  # type: ignore[arg-type]
        held=one.held,
        has_mistakes=one.has_mistakes,
        total=one.total,
        out_of=one.out_of,
        waiting_points=one.waiting_points,
        efficiency=one.efficiency,
        on_board=one.on_board,
    )
