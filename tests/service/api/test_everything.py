"""Whatever a page does, a program can do: each page that posts or gives a file, beside its operation or why there is none."""

from __future__ import annotations

from collections.abc import Iterator

from werkzeug.routing import Rule

from service.api.table import OPERATIONS
from service.people.guards import PROGRAMS
from tests.service.site import Site

DONE_BY = {
    "alike.look_again": "look_for_likeness",
    "attempts.file": "attempt_file",
    "attempts.judgement": "judge",
    "attempts.send_again": "send_again",
    "attempts.sheet": "sheet",
    "awards.ask": "order_award",
    "awards.pdf": "certificates booklet",
    "calendar.due_dates": "due_dates",
    "class_desk.alias": "settle_alias",
    "class_desk.archive": "put_away",
    "class_desk.language": "choose_language",
    "classes.attempt": "hand_in",
    "contest_desk.answer": "answer_protest",
    "contest_desk.confirm": "confirm",
    "contest_desk.draw_order": "draw_order",
    "contest_desk.freeze": "freeze",
    "contest_desk.note_record": "note_record",
    "contest_desk.protest": "protest",
    "contest_desk.publish": "publish",
    "contest_desk.rule": "rule",
    "contest_files.as_csv": "list_table",
    "contest_files.everything": "everything",
    "contest_rules.check_typed": "check_rules",
    "contest_rules.write": "save_rules",
    "entering.enter": "enter",
    "entering.withdraw": "withdraw",
    "handing_on.as_json": "class_table",
    "handing_on.oneroster": "oneroster_results",
    "help.schema": "schemas",
    "looking.look": "look",
    "looking.seen": "looked",
    "marks.corrections": "correct",
    "marks.release": "release",
    "marks.release_one": "release",
    "marks.release_setting": "set_release",
    "office.add_class": "make_class",
    "office.add_person": "add_teacher",
    "office.rename_class": "rename_class",
    "office.teaches": "teaches",
    "plans.ask": "order_plan",
    "plans.plan": "plan",
    "privacy.data_of": "student_data",
    "privacy.delete_class": "delete_class",
    "privacy.delete_student": "delete_student",
    "privacy.delete_year": "delete_year",
    "privacy.time_of_keeping": "set_keeping",
    "reports.ask": "set_report",
    "reports.pdf": "class_report",
    "rosters.leave": "leave",
    "rosters.look": "bring_list",
    "rosters.reissue": "new_sign_ins",
    "rosters.write": "bring_list",
    "second.ask": "ask_second",
    "second.blind": "mark_blind",
    "second.settle": "settle_second",
    "second.withdraw": "withdraw_second",
    "setting.change_dates": "change_dates",
    "setting.extend": "extend",
    "setting.more_attempts": "give_attempts",
    "setting.work": "set_work",
    "stations.call": "call",
    "stations.close": "close_station",
    "stations.open_station": "open_station",
    "stations.read": "read",
    "stations.undo": "undo_reading",
    "students.hand_in_for": "hand_in",
    "students.look": "bundle",
    "students.take": "bundle",
    "teaching.marks": "mark_book",
    "teaching.passphrase": "new_sign_in",
    "teaching.settle": "settle_notice",
    "teaching.sheets": "all_sheets",
    "teaching.sheets_to_print": "class_pack",
    "tokens.close": "revoke_token",
    "versions.file": "version",
    "versions.save": "save_trial",
    "versions.try_version": "try_out",
    "versions.undo": "undo",
    "writing.check_typed": "check_brief",
    "writing.work": "try_out",
}

FOR_PEOPLE_ALONE = {
    "office.new_password": "a program that could make passwords of staff could sign in as anybody",
    "people.alias": "a student's own wish",
    "people.language": "for one's own eyes",
    "people.sign_in": "a program has a token",
    "people.sign_out": "a program has no session",
    "people.sign_out_everywhere": "a program has no session",
    "people.staff_entrance": "a program has a token",
    "privacy.own_data": "for the student's own eyes; the whole is 'student_data'",
    "tokens.add": "a token that could make others could give itself whatever it may not do",
}
"""Why no operation does it."""

SHOWN_BY = {
    "contest_desk.bridge_labels": "bridge_labels",
    "contest_desk.desk": "entries contest",
    "contest_desk.official_list": "list_now protests",
    "contest_desk.order": "entries",
    "contest_files.compared": "prediction",
    "live.board": "list_now",
    "live.now_part": "list_now",
    "live.results": "lists school_records",
    "stations.bridge": "entries",
    "stations.last": "readings",
    "stations.station": "readings",
    "stations.stations": "contest",
}
"""Operations that say in numbers what a page of a contest day draws or lists."""

FILES = (".pdf", ".csv", ".json", ".zip", ".ics", "/file", "/look", ":name>")
"""How addresses of files end; those of one truss, that of a look and those of texts of a version have no such ending."""


def doing(site: Site) -> Iterator[Rule]:
    """Pages that post, or that give a file."""
    for rule in site.app.url_map.iter_rules():
        gives = rule.rule.endswith(FILES) and rule.endpoint != "static"
        if ("POST" in (rule.methods or ()) or gives) and not rule.endpoint.startswith(f"{PROGRAMS}."):
            yield rule


def test_each_page_that_does_something_has_its_operation_or_says_why_not(site: Site) -> None:
    assert {rule.endpoint for rule in doing(site)} == {*DONE_BY, *FOR_PEOPLE_ALONE}
    assert not set(DONE_BY) & set(FOR_PEOPLE_ALONE)


def test_each_operation_that_is_named_is_there() -> None:
    named = {name for names in DONE_BY.values() for name in names.split()}
    assert named <= {one.endpoint for one in OPERATIONS}


def test_what_a_page_of_a_contest_day_shows_a_program_reads(site: Site) -> None:
    days = ("contest_desk.", "contest_files.", "live.", "stations.")
    rules = [one for one in site.app.url_map.iter_rules() if one.endpoint.startswith(days)]
    shown = {one.endpoint for one in rules if "GET" in (one.methods or ()) and not one.rule.endswith(FILES)}
    assert shown - {"stations.away"} == SHOWN_BY.keys()  # that one is a script
    named = {name for names in SHOWN_BY.values() for name in names.split()}
    assert named <= {one.endpoint for one in OPERATIONS if one.method == "get"}
