"""Pages of what is kept: said to everybody, given out, deleted, and for how long."""

from __future__ import annotations

from flask import Blueprint, Response, abort, flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response as Redirect

from rubric.language import _, later
from service import web
from service.people.guards import only, staff_only, student_only
from service.privacy import keeping
from service.privacy.erasing import confirmed, erase_class, erase_pupil
from service.privacy.export import archive
from service.privacy.kept import GROUPS, KEPT
from service.privacy.years import Year, label, years
from service.records import queries
from service.records.acts import note
from service.records.below import CLASSES, PEOPLE, below
from service.records.models import COORDINATOR, Person, SchoolClass, Submission
from service.rendering import zone
from service.saying import MONTHS

pages = Blueprint("privacy", __name__)

coordinator_only = only(COORDINATOR)

NOT_TYPED = later("What you typed is not the same. Nothing was deleted.")


@pages.get("/privacy")
def kept() -> str:
    """What is kept, why and for how long; open to everybody."""
    school = web.school()
    return render_template(
        "privacy.html",
        groups=[(group, [entry for entry in KEPT if entry.group == group]) for group in GROUPS],
        months=school.keep_months if school else None,
        notice_days=keeping.FORETOLD.days,
    )


@pages.get("/my-data.zip")
@student_only
def own_data() -> Response:
    """What is held about the student who asks."""
    return _zip(archive(web.reading(), web.person(), for_staff=False), "my-data")


@pages.post("/staff/students/<int:student_id>/data.zip")
@staff_only
def data_of(student_id: int) -> Response:
    """All that is held about a student; that it was given out is an act."""
    found = _student(student_id)
    with web.writing() as session:
        note(session, web.person().id, "data given out", "person", found.id)
    return _zip(archive(web.reading(), found, for_staff=True), f"pupil-{found.id}")


@pages.route("/staff/students/<int:student_id>/delete", methods=["GET", "POST"])
@staff_only
def delete_student(student_id: int) -> str | Redirect | tuple[str, int]:
    """Delete a student, once the name is typed."""
    found = _student(student_id)
    if request.method == "GET" or not _typed(found.name):
        return _pupil_page(found)
    with web.writing() as session:
        erase_pupil(session, session.get_one(Person, found.id), web.person().id)
    flash(_("The pupil is deleted, with all work."))
    return redirect(url_for("teaching.class_list", class_id=found.class_id), 303)


@pages.route("/staff/classes/<int:class_id>/delete", methods=["GET", "POST"])
@coordinator_only
def delete_class(class_id: int) -> str | Redirect | tuple[str, int]:
    """Delete a class, once its code is typed."""
    found = queries.school_class(web.reading(), web.person(), class_id) or abort(404)
    if request.method == "GET" or not _typed(found.code):
        rows = below(web.reading(), CLASSES, [found.id])
        page = render_template(
            "delete-class.html",
            school_class=found,
            pupils=len(rows.get(PEOPLE, ())),
            attempts=len(rows.get(Submission.__table__, ())),  # type: ignore[call-overload]
            problem=_problem(),
        )
        return page if request.method == "GET" else (page, 422)
    with web.writing() as session:
        erase_class(session, session.get_one(SchoolClass, found.id), web.person().id)
    flash(_("The class is deleted, with its pupils and all their work."))
    return redirect(url_for("privacy.time_of_keeping"), 303)


@pages.route("/staff/office/keeping", methods=["GET", "POST"])
@coordinator_only
def time_of_keeping() -> str | Redirect | tuple[str, int]:
    """How long classes are kept, and which school year each was last active in."""
    if request.method == "GET":
        return _keeping_page()
    months, begins = request.form.get("months", "").strip(), request.form.get("begins", "")
    if months and not (_whole(months) and keeping.SHORTEST <= int(months) <= keeping.LONGEST):
        said = _(
            "Write {least} to {most} months, or leave the field empty.", least=keeping.SHORTEST, most=keeping.LONGEST
        )
        return _keeping_page(said), 422
    if not (_whole(begins) and 1 <= int(begins) <= 12):
        return _keeping_page(_("Choose the month in which a school year begins.")), 422
    with web.writing() as session:
        keeping.set_time(session, web.person().id, int(months) if months else None, int(begins))
    flash(_("The time of keeping is set."))
    return redirect(url_for("privacy.time_of_keeping"), 303)


@pages.route("/staff/office/years/<int:year>/delete", methods=["GET", "POST"])
@coordinator_only
def delete_year(year: int) -> str | Redirect | tuple[str, int]:
    """Delete all classes that were last active in a school year, once the year is typed."""
    found = next((one for one in _years() if one.begins == year), None)
    if found is None:
        flash(_("There is no class of that year."))
        return redirect(url_for("privacy.time_of_keeping"), 303)
    if request.method == "GET" or not _typed(found.label):
        page = render_template("delete-year.html", year=found, problem=_problem())
        return page if request.method == "GET" else (page, 422)
    with web.writing() as session:
        for line in found.classes:
            erase_class(session, session.get_one(SchoolClass, line.id), web.person().id, f"with the year {found.label}")
    flash(_("All classes of {year} are deleted, with their pupils and all their work.", year=found.label))
    return redirect(url_for("privacy.time_of_keeping"), 303)


def _student(student_id: int) -> Person:
    return queries.student(web.reading(), web.person(), student_id) or abort(404)


def _typed(wanted: str) -> bool:
    """Whether the form holds the name or the code that says: yes, this one."""
    return confirmed(request.form.get("typed", ""), wanted)


def _problem() -> str:
    return _(NOT_TYPED) if request.method == "POST" else ""


def _whole(text: str) -> bool:
    return text.isascii() and text.isdigit() and len(text) < 4


def _pupil_page(found: Person) -> str | tuple[str, int]:
    rows = below(web.reading(), PEOPLE, [found.id])
    attempts = len(rows.get(Submission.__table__, ()))  # type: ignore[call-overload]
    page = render_template("delete-student.html", student=found, attempts=attempts, problem=_problem())
    return page if request.method == "GET" else (page, 422)


def _years() -> list[Year]:
    school = web.school()
    return years(web.reading(), zone(), school.year_begins if school else 8)


def _keeping_page(problem: str = "") -> str:
    school = web.school()
    return render_template(
        "keeping.html",
        problem=problem,
        months=school.keep_months if school else None,
        begins=school.year_begins if school else 8,
        years=_years(),
        label=label,
        months_of_year=MONTHS,
        shortest=keeping.SHORTEST,
        longest=keeping.LONGEST,
        notice_days=keeping.FORETOLD.days,
        typed=request.form,
    )


def _zip(data: bytes, name: str) -> Response:
    headers = {"Content-Disposition": f'attachment; filename="kingpost-{name}.zip"'}
    return Response(data, headers=headers, content_type="application/zip")
