"""What programs may do about a class beside its work: sign-ins, leavers, aliases, language, notices, tokens."""

from __future__ import annotations

from flask import Response
from sqlalchemy import or_, select
from sqlalchemy.exc import IntegrityError
from werkzeug.wrappers import Response as AnyResponse

from service import web
from service.api import desk_shapes as shapes
from service.api.answering import answer, carrying_out, moment, page, pages, the_class, the_student
from service.api.asking import body_as, for_programs, token
from service.api.operation import CALENDAR
from service.api.problems import Refusal
from service.api.programs import class_shape, student_shape
from service.api.shapes import Students
from service.api.tokens import READ_NAMES, revoke
from service.calendar_file import calendar
from service.classes.calendar_pages import events_of
from service.people import class_pages, rosters
from service.people.enrol import SignIn, new_secret
from service.records import queries
from service.records.acts import note
from service.records.models import STUDENT, Notice, Person, SchoolClass, now
from service.records.token_models import Token
from service.saying import notice_said


@pages.post("/classes/<int:class_id>/language")
@for_programs
def choose_language(class_id: int) -> AnyResponse:
    """The language of its pages and sheets."""
    found, new = the_class(class_id), body_as(shapes.ClassLanguage)
    with carrying_out() as (session, who):
        class_pages.choose_language(session, who.id, session.get_one(SchoolClass, found.id), new.language)
    return answer(class_shape(_anew(class_id)))


@pages.post("/classes/<int:class_id>/archive")
@for_programs
def put_away(class_id: int) -> AnyResponse:
    """Put it away, or back on the desk."""
    found, new = the_class(class_id), body_as(shapes.Away)
    with carrying_out() as (session, who):
        class_pages.put_away(session, who.id, session.get_one(SchoolClass, found.id), new.away)
    return answer(class_shape(_anew(class_id)))


@pages.get("/classes/<int:class_id>/due-dates")
@for_programs
def due_dates(class_id: int) -> AnyResponse:
    """Due dates of what is set for it."""
    return Response(calendar(events_of(the_class(class_id).assignments), now()), content_type=CALENDAR)


@pages.get("/classes/<int:class_id>/leavers")
@for_programs
def leavers(class_id: int) -> AnyResponse:
    """Who left it."""
    the_class(class_id)
    wanted = select(Person).where(Person.class_id == class_id, Person.role == STUDENT, Person.left_at.is_not(None))
    items, more = page(wanted, Person.id, student_shape)
    return answer(Students(items=items, next=more))


@pages.post("/students/<int:student_id>/leave")
@for_programs
def leave(student_id: int) -> AnyResponse:
    """Put a student with the leavers, or take them back."""
    found, new = the_student(student_id), body_as(shapes.Left)
    with carrying_out() as (session, who):
        rosters.set_apart(session, who.id, session.get_one(Person, found.id), new.left)
    return answer(student_shape(the_student(student_id)))


@pages.post("/students/<int:student_id>/sign-in")
@for_programs
def new_sign_in(student_id: int) -> AnyResponse:
    """New words for one student."""
    found = the_student(student_id)
    with carrying_out() as (session, who):
        words = new_secret(session, session.get_one(Person, found.id))
        note(session, who.id, "new sign-in", "person", found.id, "by a program")
    return answer(_words(student_id, words))


@pages.post("/classes/<int:class_id>/sign-ins")
@for_programs
def new_sign_ins(class_id: int) -> AnyResponse:
    """New words for everybody in the class."""
    numbers = [student.id for student in the_class(class_id).students]
    words = rosters.new_words(web.reading(), class_id, len(numbers))  # outside: hashing takes its time
    with carrying_out() as (session, who):
        signs = rosters.new_cards(session, [session.get_one(Person, one) for one in numbers], words)
        note(session, who.id, "new cards for a class", "class", class_id, "by a program")
    items = (_words(number, one) for number, one in zip(numbers, signs, strict=True))
    return answer(shapes.SignIns(items=tuple(items)))


@pages.get("/classes/<int:class_id>/aliases")
@for_programs
def aliases_asked(class_id: int) -> AnyResponse:
    """Aliases that wait, or were refused."""
    the_class(class_id)
    told = or_(Person.alias_asked.is_not(None), Person.alias_refused.is_not(None))
    wanted = select(Person).where(Person.class_id == class_id, Person.left_at.is_(None), told).order_by(Person.id)
    return answer(shapes.AliasesAsked(items=tuple(_alias(one) for one in web.reading().scalars(wanted))))


@pages.post("/students/<int:student_id>/alias")
@for_programs
def settle_alias(student_id: int) -> AnyResponse:
    """Allow an alias, refuse it, or draw another."""
    found, new = the_student(student_id), body_as(shapes.AliasSettled)
    try:
        with carrying_out() as (session, who):
            student = session.get_one(Person, found.id)
            done = class_pages.settle_alias(session, who.id, student, new.do, new.asked, new.why)
    except IntegrityError:
        raise Refusal(409, "Taken", "Somebody else took that alias meanwhile.") from None
    if not done:
        raise Refusal(409, "Not what waits", "No alias waits, or another one than 'asked'. Read the aliases again.")
    return answer(_alias(the_student(student_id)))


@pages.get("/classes/<int:class_id>/notices")
@for_programs
def notices(class_id: int) -> AnyResponse:
    """Notices about the class that are not settled."""
    the_class(class_id)
    wanted = select(Notice).where(Notice.class_id == class_id, Notice.settled.is_(False))
    items, more = page(wanted, Notice.id, _notice)
    return answer(shapes.Notices(items=items, next=more))


@pages.post("/notices/<int:notice_id>/settle")
@for_programs
def settle_notice(notice_id: int) -> AnyResponse:
    """Put a notice away."""
    found = queries.notice(web.reading(), token().by, notice_id)
    if found is None or found.class_id != token().class_id:
        raise Refusal(404, "No such notice", "The token's class has no notice with this number.")
    with carrying_out() as (session, _):
        session.get_one(Notice, found.id).settled = True
    return answer(shapes.Settled(id=notice_id, settled=True))


@pages.get("/classes/<int:class_id>/tokens")
@for_programs
def tokens(class_id: int) -> AnyResponse:
    """The tokens of the class."""
    the_class(class_id)
    items, more = page(select(Token).where(Token.class_id == class_id), Token.id, _token)
    return answer(shapes.Tokens(items=items, next=more))


@pages.post("/tokens/<int:token_id>/revoke")
@for_programs
def revoke_token(token_id: int) -> AnyResponse:
    """Revoke a token, at once and for good; one that is revoked stays as it is."""
    found = web.reading().get(Token, token_id)
    if found is None or found.class_id != token().class_id:
        raise Refusal(404, "No such token", "The token's class has no token with this number.")
    if found.revoked_at is None:
        with carrying_out() as (session, who):
            revoke(session, found)
            note(session, who.id, "token revoked", "class", token().class_id, str(token_id))
    return answer(_token(web.reading().get_one(Token, token_id)))


def _anew(class_id: int) -> SchoolClass:
    return web.reading().get_one(SchoolClass, class_id)


def _words(student_id: int, one: SignIn) -> shapes.SignInWords:
    name = one.name if READ_NAMES in token().scopes else None
    return shapes.SignInWords(student_id=student_id, name=name, class_code=one.class_code, passphrase=one.secret)


def _alias(one: Person) -> shapes.AliasAsked:
    return shapes.AliasAsked(
        student_id=one.id, alias=one.alias, asked=one.alias_asked, refused=one.alias_refused, why=one.alias_why
    )


def _notice(one: Notice) -> shapes.ClassNotice:
    return shapes.ClassNotice(
        id=one.id, at=moment(one.created_at) or "", attempt_id=one.submission_id, text=notice_said(one.text, one.values)
    )


def _token(one: Token) -> shapes.Token:
    return shapes.Token(
        id=one.id,
        name=one.name,
        by_id=one.by_id,
        scopes=tuple(one.scopes),
        made_at=moment(one.made_at) or "",
        used_on=moment(one.used_on),
        revoked_at=moment(one.revoked_at),
    )
