"""``kingpost admin``: school, staff, classes, assignments and contests, from the keyboard."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Sequence
from pathlib import Path

from rubric import library
from rubric.language import ENGLISH, LANGUAGES
from rubric.problems import quoted
from rubric.spelling import did_you_mean
from rubric.wording import listed
from service.classes.setting import add_contest, set_assignment
from service.commands.starting import opened_records, with_settings
from service.people import enrol
from service.people.enrol import CannotEnrol, SignIn
from service.records.acts import note
from service.records.engine import Records
from service.records.models import COORDINATOR, TEACHER
from service.sending import Sending
from service.settings import Settings

LARGEST_LIST = 256 * 1024
"""Bytes of a class list, brief or rubric that are read at most."""


def command(arguments: list[str]) -> int:
    """Bring in a school: staff, classes with their sign-ins, assignments, contests."""
    options = _parser().parse_args(arguments)
    refused: list[CannotEnrol] = []

    def work(settings: Settings) -> None:
        records = opened_records(settings)
        try:
            options.run(records, settings, options)
        except CannotEnrol as error:
            refused.append(error)
        finally:
            records.engine.dispose()

    status = with_settings("admin", work)
    for error in refused:
        print(f"kingpost admin: {error}", file=sys.stderr)  # noqa: T201
    return 2 if refused else status


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser("kingpost admin", description=command.__doc__)
    parts = parser.add_subparsers(dest="part", required=True, metavar="WHAT")

    def part(name: str, run: Callable[[Records, Settings, argparse.Namespace], None]) -> argparse.ArgumentParser:
        made = parts.add_parser(name, help=run.__doc__, description=run.__doc__)
        made.set_defaults(run=run)
        return made

    school = part("school", _school)
    school.add_argument("name")
    school.add_argument("--zone", help="time zone, such as Europe/Lisbon (default: the one it has, else UTC)")
    coordinator = part("coordinator", _coordinator)
    teacher = part("teacher", _teacher)
    teacher.add_argument("--class", dest="codes", action="append", default=[], metavar="CODE", help="may be repeated")
    for one in (coordinator, teacher):
        one.add_argument("name")
        one.add_argument("--language", choices=sorted(LANGUAGES), default=ENGLISH, help="of their pages (default: en)")
        _password_option(one)
    teaches = part("teaches", _teaches)
    teaches.add_argument("name")
    teaches.add_argument(
        "--class", dest="codes", action="append", required=True, metavar="CODE", help="may be repeated"
    )
    classes = part("class", _class)
    classes.add_argument("name")
    classes.add_argument("--code", required=True, help="what students type at sign-in, such as 8B")
    classes.add_argument("--students", required=True, metavar="FILE", help="one name a line; '-': standard input")
    classes.add_argument(
        "--language", choices=sorted(LANGUAGES), default=ENGLISH, help="of pages and sheets (default: en)"
    )
    student = part("student", _student)
    student.add_argument("name")
    student.add_argument("--class", dest="code", required=True, metavar="CODE")
    assignment = part("assignment", _assignment)
    assignment.add_argument("--class", dest="code", required=True, metavar="CODE")
    assignment.add_argument("--brief", required=True, help=f"a file, or one of {', '.join(library.brief_names())}")
    assignment.add_argument("--rubric", required=True, help=f"a file, or one of {', '.join(library.rubric_names())}")
    assignment.add_argument("--title", default="", help="default: the title of the brief")
    assignment.add_argument("--contest", default="", metavar="TITLE", help="a contest it counts for")
    contest = part("contest", _contest)
    contest.add_argument("title")
    password = part("password", _password)
    password.add_argument("name")
    password.add_argument("--class", dest="code", default="", metavar="CODE", help="for a student of this class")
    _password_option(password)
    return parser


def _password_option(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--stdin", action="store_true", help="read the password from standard input (default: made up)")


def _school(records: Records, _: Settings, options: argparse.Namespace) -> None:
    """Name the school and its time zone."""
    with records.write() as session:
        school = enrol.set_school(session, options.name, options.zone)
    _say(f"{school.name}, clock of {school.zone}")


def _coordinator(records: Records, _: Settings, options: argparse.Namespace) -> None:
    """Add a coordinator, who sees all classes and contests."""
    with records.write() as session:
        sign_in = enrol.add_staff(session, COORDINATOR, options.name, (), _typed(options), options.language)
        note(session, None, "staff added", "person", enrol.find_person(session, options.name).id, COORDINATOR)
    _say_sign_ins([sign_in], shown=not options.stdin)


def _teacher(records: Records, _: Settings, options: argparse.Namespace) -> None:
    """Add a teacher of one or more classes."""
    with records.write() as session:
        sign_in = enrol.add_staff(session, TEACHER, options.name, options.codes, _typed(options), options.language)
        note(session, None, "staff added", "person", enrol.find_person(session, options.name).id, TEACHER)
    _say_sign_ins([sign_in], shown=not options.stdin)


def _teaches(records: Records, _: Settings, options: argparse.Namespace) -> None:
    """Let a teacher who is here already teach one or more classes more."""
    with records.write() as session:
        person = enrol.add_teaching(session, options.name, options.codes)
        note(session, None, "classes taught", "person", person.id, f"taken up: {listed(options.codes)}")
    _say(f"{person.name} teaches {listed(options.codes)} now")


def _class(records: Records, _: Settings, options: argparse.Namespace) -> None:
    """Add a class; prints name, class code and passphrase of each student, once."""
    names = _text(options.students, "class list").splitlines()
    with records.write() as session:
        sign_ins = enrol.add_class(session, options.name, options.code, names, options.language)
        made = enrol.class_by_code(session, options.code)
        note(session, None, "class made", "class", made.id, made.code)
    _say_sign_ins(sign_ins)


def _student(records: Records, _: Settings, options: argparse.Namespace) -> None:
    """Add one student to a class."""
    with records.write() as session:
        sign_in = enrol.add_student(session, options.code, options.name)
        note(session, None, "class list brought in", "class", enrol.class_by_code(session, options.code).id, "1 new")
    _say_sign_ins([sign_in])


def _assignment(records: Records, settings: Settings, options: argparse.Namespace) -> None:
    """Set a brief and a rubric for a class."""
    brief = _ready_or_file(options.brief, "brief", library.brief_names(), library.brief_text)
    rubric = _ready_or_file(options.rubric, "rubric", library.rubric_names(), library.rubric_text)
    with records.write() as session:
        assignment, job = set_assignment(session, options.code, brief, rubric, options.title, options.contest)
    Sending(records, settings.broker).send(job)
    _say(f"{assignment.title}: set for class {options.code}")


def _contest(records: Records, _: Settings, options: argparse.Namespace) -> None:
    """Add a contest that assignments may name."""
    with records.write() as session:
        contest = add_contest(session, options.title)
    _say(f"{contest.title}: a contest. Assignments name it with --contest")


def _password(records: Records, _: Settings, options: argparse.Namespace) -> None:
    """Give somebody a new password or passphrase; ends their sessions."""
    with records.write() as session:
        person = enrol.find_person(session, options.name, options.code)
        sign_in = enrol.new_secret(session, person, _typed(options))
        note(session, None, "new sign-in", "person", person.id)
    _say_sign_ins([sign_in], shown=not options.stdin)


def _typed(options: argparse.Namespace) -> str | None:
    return sys.stdin.readline().rstrip("\r\n") if options.stdin else None


def _ready_or_file(name: str, what: str, ready: Sequence[str], text: Callable[[str], bytes]) -> bytes:
    if name in ready:
        return text(name)
    if not _is_file(name):
        raise CannotEnrol(f"{quoted(name)} is neither a file nor a ready {what}: {did_you_mean(name, ready)}")
    return _bytes(name, what)


def _is_file(name: str) -> bool:
    try:
        return Path(name).is_file()
    except (OSError, ValueError):  # longer than any path, or in a folder that may not be entered
        return False


def _text(name: str, what: str) -> str:
    data = sys.stdin.buffer.read(LARGEST_LIST + 1) if name == "-" else _bytes(name, what)
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        raise CannotEnrol(f"The {what} is not UTF-8 text (line {line}). Save it again and choose UTF-8.") from None


def _bytes(name: str, what: str) -> bytes:
    try:
        with Path(name).open("rb") as file:
            data = file.read(LARGEST_LIST + 1)
    except OSError as error:
        raise CannotEnrol(f"The {what} {quoted(name)} cannot be read: {error.strerror}.") from None
    if len(data) > LARGEST_LIST:
        raise CannotEnrol(f"The {what} {quoted(name)} is over {LARGEST_LIST // 1024} KB. Is it the right file?")
    return data


def _say_sign_ins(sign_ins: Sequence[SignIn], *, shown: bool = True) -> None:
    """Name, class code and secret between tabs, one person a line; a password that was typed is not repeated."""
    for one in sign_ins:
        _say("\t".join(part for part in (one.name, one.class_code, one.secret if shown else "") if part))


def _say(line: str) -> None:
    print(line)  # noqa: T201
