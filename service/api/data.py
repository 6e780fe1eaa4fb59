"""What programs may give out and delete.  What is deleted must be named, as on the pages."""

from __future__ import annotations

from flask import Response
from werkzeug.wrappers import Response as AnyResponse

from service import web
from service.api import office_shapes as shapes
from service.api.answering import answer, carrying_out, pages, the_class, the_student
from service.api.asking import body_as, for_programs
from service.api.operation import ZIP
from service.api.problems import Refusal
from service.privacy.erasing import confirmed, erase_class, erase_pupil
from service.privacy.export import archive
from service.privacy.years import years
from service.records.acts import note
from service.records.below import CLASSES, PEOPLE, below
from service.records.models import Person, SchoolClass
from service.rendering import zone


@pages.post("/students/<int:student_id>/data")
@for_programs
def student_data(student_id: int) -> AnyResponse:
    """All that is held about a student; that it was given out is an act."""
    found = the_student(student_id)
    with carrying_out() as (session, who):
        note(session, who.id, "data given out", "person", found.id, "by a program")
    return Response(archive(web.reading(), the_student(student_id), for_staff=True), content_type=ZIP)


@pages.post("/students/<int:student_id>/delete")
@for_programs
def delete_student(student_id: int) -> AnyResponse:
    """Delete a student with all work."""
    found = the_student(student_id)
    _confirm(found.name)
    with carrying_out() as (session, who):
        erase_pupil(session, session.get_one(Person, found.id), who.id)
    return answer(shapes.Deleted(students=1, classes=0))


@pages.post("/classes/<int:class_id>/delete")
@for_programs
def delete_class(class_id: int) -> AnyResponse:
    """Delete the class, its tokens too."""
    found = the_class(class_id)
    _confirm(found.code)
    count = _students([found.id])
    with carrying_out() as (session, who):
        erase_class(session, session.get_one(SchoolClass, found.id), who.id)
    return answer(shapes.Deleted(students=count, classes=1))


@pages.post("/office/years/<int:year>/delete")
@for_programs
def delete_year(year: int) -> AnyResponse:
    """Delete all classes that were last active in a school year."""
    body_as(shapes.Confirmed)
    school = web.school()
    every = years(web.reading(), zone(), school.year_begins if school else 8)
    found = next((one for one in every if one.begins == year), None)
    if found is None:
        raise Refusal(404, "No such year", "No class was last active in that year.")
    _confirm(found.label)
    numbers = [line.id for line in found.classes]
    count = _students(numbers)
    with carrying_out() as (session, who):
        for number in numbers:
            erase_class(session, session.get_one(SchoolClass, number), who.id, f"with the year {found.label}")
    return answer(shapes.Deleted(students=count, classes=len(numbers)))


def _confirm(name: str) -> None:
    if not confirmed(body_as(shapes.Confirmed).typed, name):
        raise Refusal(422, "Nothing was deleted", "'typed' must be the student's name, the class's code, or the year.")


def _students(class_ids: list[int]) -> int:
    return len(below(web.reading(), CLASSES, class_ids).get(PEOPLE, ()))
