"""Pages of signing in and out, and of choosing an alias."""

from __future__ import annotations

from flask import Blueprint, current_app, flash, redirect, render_template, request, url_for
from sqlalchemy.exc import IntegrityError
from werkzeug.wrappers import Response

from rubric.language import LANGUAGES, _, as_language, speaking
from service import web
from service.people import browsers, guards
from service.people.aliases import free_aliases, is_alias, settle
from service.people.own_aliases import AliasRefused, own_alias
from service.people.sign_in import Welcome, Wrong, staff_sign_in, student_sign_in
from service.records import at_the_desk
from service.records.acts import note
from service.records.models import STUDENT, Person
from service.saying import wait_said

pages = Blueprint("people", __name__)

ALIASES_OFFERED = 6


@pages.get("/")
def home() -> Response:
    """Where a person's work begins."""
    return redirect(url_for("classes.desk" if web.person().role == STUDENT else "teaching.staff_desk"))


@pages.route("/sign-in", methods=["GET", "POST"])
def sign_in() -> Response:
    """Sign-in of students."""
    if request.method == "GET":
        return _sign_in_page("sign-in.html")
    code, phrase = request.form.get("class_code", ""), request.form.get("passphrase", "")
    return _answer("sign-in.html", student_sign_in(web.writing, code, phrase, _browser()), class_code=code[:20])


@pages.route("/sign-in/staff", methods=["GET", "POST"])
def staff_entrance() -> Response:
    """Sign-in of teachers and coordinators."""
    if request.method == "GET":
        return _sign_in_page("sign-in-staff.html")
    name, password = request.form.get("name", ""), request.form.get("password", "")
    return _answer("sign-in-staff.html", staff_sign_in(web.writing, name, password, _browser()), name=name[:80])


@pages.post("/sign-out")
def sign_out() -> Response:
    """End all sessions of the person."""
    guards.end()
    return redirect(url_for("people.goodbye"))


@pages.get("/account")
def account() -> str:
    """How somebody is signed in, and the way out everywhere."""
    return render_template("account.html", browsers=browsers.count(web.reading(), web.person().id))


@pages.post("/account/language")
@guards.staff_only
def language() -> Response:
    """The language in which one of the staff reads from now on."""
    chosen = as_language(request.form.get("language", ""))
    with web.writing() as session:
        session.get_one(Person, web.person().id).language = chosen
        note(session, web.person().id, "language of an account", "person", web.person().id, chosen)
    with speaking(chosen):
        flash(_("Your pages are in {language} from now on.", language=LANGUAGES[chosen]))
    return redirect(url_for("people.account"), 303)


@pages.post("/account/sign-out-everywhere")
def sign_out_everywhere() -> Response:
    """End all sessions, and know no browser any more."""
    with web.writing() as session:
        browsers.forget(session, web.person().id)
        note(session, web.person().id, "signed out everywhere", "person", web.person().id)
    guards.end()
    return redirect(url_for("people.goodbye"))


@pages.get("/signed-out")
def goodbye() -> str:
    """Say that it is done."""
    return render_template("signed-out.html")


@pages.route("/alias", methods=["GET", "POST"])
@guards.student_only
def alias() -> str | Response:
    """Choose another alias out of a handful, or ask for one in own words."""
    if request.method == "GET":
        return render_template("alias.html", offers=free_aliases(web.reading(), ALIASES_OFFERED))
    if "own" in request.form:
        return _ask(request.form["own"])
    if "keep" in request.form:
        return _keep()
    chosen = request.form.get("alias", "")
    if is_alias(chosen) and _take(chosen):
        flash(_("Your alias is now {alias}.", alias=chosen))
        return redirect(url_for("classes.desk"))
    offers = free_aliases(web.reading(), ALIASES_OFFERED)
    return render_template("alias.html", offers=offers, problem=_("That alias is taken. Choose another one."))


def _ask(typed: str) -> str | Response:
    """Keep an alias in own words until a teacher has looked at it."""
    person, session = web.person(), web.reading()
    try:
        if not typed.strip():
            asked = None
        else:
            others, classmates = at_the_desk.aliases_and_names(session, person)
            asked = own_alias(typed, person.name, others, classmates)
    except AliasRefused as refused:
        offers = free_aliases(session, ALIASES_OFFERED)
        return render_template("alias.html", offers=offers, own_problem=str(refused), typed=typed[:80])
    with web.writing() as writing:
        found = writing.get_one(Person, person.id)
        found.alias_asked = asked
        if asked:
            settle(found)
            note(writing, person.id, "alias asked for", "person", person.id)
    flash(_("Your teacher looks at it first.") if asked else _("You ask for no other alias now."))
    return redirect(url_for("people.alias"), 303)


def _keep() -> Response:
    """Stay with the alias that is there; a refusal is told no more."""
    with web.writing() as session:
        found = session.get_one(Person, web.person().id)
        settle(found)
        note(session, found.id, "alias chosen", "person", found.id)
    flash(_("You keep your alias {alias}.", alias=web.person().alias or ""))
    return redirect(url_for("classes.desk"), 303)


def _take(chosen: str) -> bool:
    try:
        with web.writing() as session:
            found = session.get_one(Person, web.person().id)
            found.alias, found.alias_asked = chosen, None
            settle(found)
            note(session, found.id, "alias chosen", "person", found.id)
    except IntegrityError:
        return False
    return True


def _sign_in_page(template: str) -> Response:
    if web.person_or_none() is not None:
        return redirect(url_for("people.home"))
    return Response(render_template(template), content_type="text/html; charset=utf-8")


def _answer(template: str, outcome: Welcome | Wrong, **typed: str) -> Response:
    if isinstance(outcome, Welcome):
        guards.begin(outcome)
        response = redirect(url_for("people.home"))
        _know(response, outcome.person_id)
        return response
    page = render_template(template, problem=_said(outcome), **typed)
    response = Response(page, 429 if outcome.wait_s else 403, content_type="text/html; charset=utf-8")
    if outcome.wait_s:
        response.headers["Retry-After"] = str(outcome.wait_s)
    return response


def _browser() -> str:
    """The hash by which this browser is known, if it is."""
    return browsers.hashed(browsers.token_in(request.cookies.get(browsers.COOKIE), _key()))


def _know(response: Response, person_id: int) -> None:
    """From now on this person's wrong tries count by themselves in this browser."""
    token = browsers.token_in(request.cookies.get(browsers.COOKIE), _key()) or browsers.new_token()
    with web.writing() as session:
        browsers.remember(session, token, person_id)
    browsers.mark(response, token, _key(), secure=bool(current_app.config["SESSION_COOKIE_SECURE"]))


def _key() -> str:
    return str(current_app.config["SECRET_KEY"])


def _said(wrong: Wrong) -> str:
    if not wrong.looked:
        return _("Too early: this try was not looked at. Wait {time}, then try again.", time=wait_said(wrong.wait_s))
    if wrong.wait_s:
        wait = wait_said(wrong.wait_s)
        return _("That did not match, and not for the first time. Wait {time}, then try again.", time=wait)
    return _("That did not match. Check the spelling of both lines, then try again.")
