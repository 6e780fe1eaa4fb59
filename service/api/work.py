"""What programs may do about work that is set: dates, more time, many files at once, looks, versions, trials, lists."""

from __future__ import annotations

import hashlib
from typing import Any

from flask import request, url_for
from werkzeug.wrappers import Response

from rubric.messages.outcomes import Sketched
from service import web
from service.api import work_shapes as shapes
from service.api.answering import (
    answer,
    carrying_out,
    moment,
    moment_given,
    pages,
    send_all,
    the_assignment,
    the_class,
)
from service.api.asking import body_as, for_programs, key_wanted, number_wanted, token
from service.api.keys import Key, key_for
from service.api.problems import Refusal
from service.api.programs import AlreadyIn, assignment_shape, check_texts, under_key
from service.api.shapes import NewAssignment
from service.classes import dates, rescheduling, sketches, trials
from service.classes import versions as kept_versions
from service.classes.compared import summary
from service.classes.handing_in import NotTaken, TooLarge, check_size, hand_in, plain_file_name
from service.classes.setting import brief_of, rubric_of
from service.people import rosters
from service.people.lists.columns import Columns
from service.people.lists.oneroster import class_id as class_id_of
from service.people.lists.plan import plan
from service.people.lists.pupils import pupils
from service.people.lists.tables import Row
from service.records import at_the_desk, queries
from service.records.acts import note
from service.records.models import Assignment, Job, Person, SchoolClass, Trial, Version

LARGEST, USUAL = 8_000_000, 2_000_000
"""Bytes of the files of many students, and of any other body: two texts of 64 KB, each sign written as 12 in JSON."""


@pages.url_value_preprocessor
def _room(endpoint: str | None, _: dict[str, Any] | None) -> None:
    """Many files are larger than one; said before anything reads the body."""
    request.max_content_length = LARGEST if endpoint == "programs.bundle" else USUAL


@pages.post("/assignments/<int:assignment_id>/dates")
@for_programs
def change_dates(assignment_id: int) -> Response:
    """When it opens and is due."""
    found, new = the_assignment(assignment_id), body_as(shapes.Dates)
    opens, due = moment_given(new.opens), moment_given(new.due)
    with carrying_out() as (session, who):
        dates.in_order(opens, due)
        rescheduling.reschedule(session, found.id, opens, due, who.id)
    return answer(assignment_shape(the_assignment(assignment_id)))


@pages.get("/assignments/<int:assignment_id>/extensions")
@for_programs
def extensions(assignment_id: int) -> Response:
    """Due dates of students' own."""
    return answer(_extensions(the_assignment(assignment_id)))


@pages.post("/assignments/<int:assignment_id>/extensions")
@for_programs
def extend(assignment_id: int) -> Response:
    """Give one student a due date of their own, or take it back."""
    found, new = the_assignment(assignment_id), body_as(shapes.NewExtension)
    student, due = _student(new.student_id), moment_given(new.due)
    with carrying_out() as (session, who):
        assignment, person = session.get_one(Assignment, found.id), session.get_one(Person, student.id)
        jobs = rescheduling.extend(session, assignment, person, due, new.why, who.id)
    send_all(jobs)
    return answer(_extensions(the_assignment(assignment_id)))


@pages.get("/assignments/<int:assignment_id>/extra-attempts")
@for_programs
def extra_attempts(assignment_id: int) -> Response:
    """Attempts of students' own beyond those of the rubric."""
    return answer(_extra_attempts(the_assignment(assignment_id)))


@pages.post("/assignments/<int:assignment_id>/extra-attempts")
@for_programs
def give_attempts(assignment_id: int) -> Response:
    """Give one student more attempts, or take them back."""
    found, new = the_assignment(assignment_id), body_as(shapes.MoreAttempts)
    student = _student(new.student_id)
    with carrying_out() as (session, who):
        assignment, person = session.get_one(Assignment, found.id), session.get_one(Person, student.id)
        rescheduling.grant(session, assignment, person, new.more, new.why, who.id)
    return answer(_extra_attempts(the_assignment(assignment_id)))


@pages.post("/assignments/<int:assignment_id>/bundle")
@for_programs
def bundle(assignment_id: int) -> Response:
    """Hand in for many students; each file under the key and its place, so that all may be sent again."""
    found, key = the_assignment(assignment_id), key_wanted()
    new = body_as(shapes.NewBundle)
    own = {student.id for student in found.school_class.students}
    each = [_take(found, own, f"{_short(key)}.{n}", one) for n, one in enumerate(new.files)]
    return answer(shapes.Bundle(items=tuple(each)), 202)


@pages.post("/assignments/<int:assignment_id>/look")
@for_programs
def look(assignment_id: int) -> Response:
    """Have a text looked at; nothing is handed in."""
    found, new = the_assignment(assignment_id), body_as(shapes.NewLook)
    student = _student(new.student_id)
    try:
        data = new.text.encode()
        check_size(data)
        with web.writing() as session:
            sketch = sketches.ask(session, student.id, found.id, data)
    except NotTaken as error:
        raise Refusal(413 if isinstance(error, TooLarge) else 422, "Not looked at", str(error)) from None
    except sketches.AskedTooSoon:
        raise Refusal(429, "Too soon", "Wait a second between two looks.", wait_s=1) from None
    web.look(sketch)
    return answer(shapes.Look(stage="waiting", seen=None), 202)


@pages.get("/assignments/<int:assignment_id>/look")
@for_programs
def looked(assignment_id: int) -> Response:
    """What was seen of the last text."""
    found, student_id = the_assignment(assignment_id), number_wanted("student_id")
    known = student_id is not None and any(student_id == one.id for one in found.school_class.students)
    sketch = sketches.sketch_of(web.reading(), student_id, found.id) if known and student_id else None
    seen = Sketched.model_validate(sketch.outcome) if sketch is not None and sketch.outcome is not None else None
    return answer(shapes.Look(stage=sketches.stage(sketch), seen=seen))  # type: ignore[arg-type]


@pages.get("/assignments/<int:assignment_id>/versions")
@for_programs
def versions(assignment_id: int) -> Response:
    """Versions of brief and rubric, newest first."""
    return answer(_versions(the_assignment(assignment_id)))


@pages.get("/versions/<int:version_id>")
@for_programs
def version(version_id: int) -> Response:
    """One version with its texts."""
    found = _the_version(version_id)
    line = _line(found, queries.marked_under(web.reading(), found.assignment_id))
    return answer(shapes.VersionInFull(**line.model_dump(), brief=found.brief_text, rubric=found.rubric_text))


@pages.post("/assignments/<int:assignment_id>/trials")
@for_programs
def try_out(assignment_id: int) -> Response:
    """Try a version that is there, or new texts, out on the work that is there."""
    found, key = the_assignment(assignment_id), key_for("trial_id", assignment_id)
    new, jobs = body_as(shapes.NewTrial), list[Job]()
    there = _the_version(new.version_id) if new.version_id is not None else None
    if there is not None and there.assignment_id != found.id:
        raise Refusal(422, "No such version", "It is not a version of this assignment.")
    if there is None:
        texts, values = (new.brief, new.rubric), check_texts(NewAssignment(brief=new.brief, rubric=new.rubric))
    else:
        texts, values = (there.brief_text, there.rubric_text), (brief_of(there), rubric_of(there))
    with carrying_out() as (session, who):
        number = key.done(session)
        if number is None:
            assignment = session.get_one(Assignment, found.id)
            kept = session.get_one(Version, there.id) if there is not None else None
            made, jobs = trials.begin(session, assignment, who.id, texts, values, kept)
            number = made.id
            key.keep(session, number)
    send_all(jobs)
    return answer(_trial(_the_trial(number)), 201, url_for("programs.trial", trial_id=number))


@pages.get("/trials/<int:trial_id>")
@for_programs
def trial(trial_id: int) -> Response:
    """Who would change."""
    return answer(_trial(_the_trial(trial_id)))


@pages.post("/trials/<int:trial_id>/save")
@for_programs
def save_trial(trial_id: int) -> Response:
    """Save a trial as the next version, mark the class again under it, or both."""
    found, new = _the_trial(trial_id), body_as(shapes.Saving)
    jobs = []
    with carrying_out() as (session, who):
        if new.do in ("save", "both"):
            jobs += kept_versions.save(session, found.id, who.id, new.why)[1]
        if new.do in ("again", "both"):
            jobs += kept_versions.mark_again(session, found.id, who.id, new.why)[1]
    send_all(jobs)
    return answer(_trial(_the_trial(trial_id)))


@pages.post("/assignments/<int:assignment_id>/undo")
@for_programs
def undo(assignment_id: int) -> Response:
    """Take the last marking again back."""
    found, new = the_assignment(assignment_id), body_as(shapes.Undo)
    with carrying_out() as (session, who):
        _, jobs = kept_versions.undo(session, found.id, who.id, new.why, new.trial_id)
    send_all(jobs)
    return answer(_versions(the_assignment(assignment_id)))


@pages.post("/classes/<int:class_id>/list")
@for_programs
def bring_list(class_id: int) -> Response:
    """Lay a class list beside who is here; written only where ``only_look`` is false."""
    found, new = the_class(class_id), body_as(shapes.NewList)
    rows = [Row(line, (one.name, one.number)) for line, one in enumerate(new.pupils, 1)]
    read = pupils(rows, Columns(headed=False, roles=("name", "number")))
    wanted = plan(read.pupils, rosters.here(web.reading(), found.id))
    signs = []
    if not new.only_look:
        code = found.id
        words = rosters.new_words(web.reading(), code, len(wanted.new))
        with carrying_out() as (session, who):
            school_class = session.get_one(SchoolClass, code)
            signs = rosters.bring_in(session, school_class, wanted, words, new.leavers, class_id_of(new.sourced_id))
            note(session, who.id, "class list brought in", "class", code, f"{len(wanted.new)} new, by a program")
    told = (shapes.NewSignIn(name=one.name, class_code=one.class_code, passphrase=one.secret) for one in signs)
    counts = {kind: len(getattr(wanted, kind)) for kind in ("new", "same", "renamed", "back", "leavers")}
    return answer(shapes.ListRead(**counts, problems=read.problems, sign_ins=tuple(told)))


def _take(found: Assignment, own: set[int], key: str, one: shapes.BundleFile) -> shapes.Taken:
    def told(attempt_id: int | None, why_not: str = "") -> shapes.Taken:
        return shapes.Taken(student_id=one.student_id, attempt_id=attempt_id, why_not=why_not)

    if one.student_id not in own:
        return told(None, "No student of this class has that number.")
    data = one.text.encode()
    digest = hashlib.sha256(f"{found.id} {one.student_id} ".encode() + data).hexdigest()
    try:
        check_size(data)
        writing = under_key(Key("submission_id", key, digest), one.student_id)
        taken = hand_in(writing, one.student_id, found.id, plain_file_name(one.file_name), data, by_id=token().by_id)
    except AlreadyIn as before:
        return told(before.args[0])
    except Refusal as refused:
        return told(None, refused.args[0])
    except NotTaken as refused:
        return told(None, str(refused.args[0]))
    send_all([taken.job] if taken.job is not None else [])
    return told(taken.submission_id)


def _short(key: str) -> str:
    """So that a place may follow it within the column."""
    return hashlib.sha256(key.encode()).hexdigest()[:60]


def _extensions(found: Assignment) -> shapes.Extensions:
    rows = at_the_desk.extensions(web.reading(), found.id).values()
    items = (shapes.Extension(student_id=one.student_id, due=moment(one.due) or "", why=one.why) for one in rows)
    return shapes.Extensions(items=tuple(items))


def _extra_attempts(found: Assignment) -> shapes.ExtraAttempts:
    rows = at_the_desk.extra_attempts(web.reading(), found.id).values()
    items = (shapes.MoreAttempts(student_id=one.student_id, more=one.more, why=one.why) for one in rows)
    return shapes.ExtraAttempts(items=tuple(items))


def _versions(found: Assignment) -> shapes.Versions:
    marked = queries.marked_under(web.reading(), found.id)
    newest = sorted(found.versions, key=lambda one: -one.number)
    last = next((one.id for one in kept_versions.standing(web.reading(), found.id)), None)
    return shapes.Versions(items=tuple(_line(one, marked) for one in newest), last_trial_id=last)


def _line(one: Version, marked: dict[int, int]) -> shapes.VersionLine:
    return shapes.VersionLine(
        id=one.id,
        number=one.number,
        made_at=moment(one.made_at) or "",
        due=moment(one.due),
        why=one.why,
        attempts=marked.get(one.id, 0),
    )


def _trial(found: Trial) -> shapes.Trial:
    students = trials.students(web.reading(), found)
    counts = summary(students)
    tried = (
        shapes.TriedAttempt(
            attempt_id=work.submission_id or 1,
            before=work.before.total if work.before else None,
            after=work.after.total if work.after else None,
            why=work.why,
        )
        for student in students
        for work in student.works
    )
    return shapes.Trial(
        id=found.id,
        assignment_id=found.assignment_id,
        version_id=found.version_id,
        waiting=trials.waiting(web.reading(), found, samples_too=False),
        gain=counts.gain,
        lose=counts.lose,
        same=counts.same,
        items=tuple(tried),
    )


def _student(student_id: int) -> Person:
    found = queries.student(web.reading(), token().by, student_id)
    if found is None or found.class_id != token().class_id or found.left_at is not None:
        raise Refusal(422, "No such student", "No student of this class has that number.")
    return found


def _the_version(version_id: int) -> Version:
    found = queries.version(web.reading(), token().by, version_id)
    if found is None or found.assignment.class_id != token().class_id:
        raise Refusal(404, "No such version", "The token's class has no version with this number.")
    return found


def _the_trial(trial_id: int) -> Trial:
    found = queries.trial(web.reading(), token().by, trial_id)
    if found is None or found.assignment.class_id != token().class_id:
        raise Refusal(404, "No such trial", "The token's class has no trial with this number.")
    return found
