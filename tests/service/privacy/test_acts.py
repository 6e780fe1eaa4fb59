"""Everything that is done in the office leaves a line in the record, or says here why it needs none."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from typing import Any

from sqlalchemy import select

from rubric import library
from service.records.acts import Act
from service.records.models import Change
from tests.service.contest.day import RULES, begin, enter
from tests.service.people.test_roster_pages import brought
from tests.service.site import Site, post

TESS, CORA, ADA = "Tess Birch", "Cora Vale", "Ada Fern"
PUPIL, OTHER, TEACHER = 1, 2, 4
"""Numbers of Ada Fern, Ben Holt and Tess Birch."""


@dataclass(frozen=True)
class Doing:
    """Who posts what where, and what the record calls it."""

    endpoint: str
    by: str
    path: str
    what: str
    form: dict[str, Any] = field(default_factory=dict)


BRIEF, RUBRIC = (text.decode() for text in (library.brief_text("footbridge"), library.rubric_text("footbridge")))
SET = {"do": "set", "brief": BRIEF, "rubric": RUBRIC}

DOINGS = (
    Doing("setting.work", TESS, "/staff/classes/1/set", "work set", SET),
    Doing("setting.change_dates", TESS, "/staff/assignments/1/dates", "dates changed", {"due": "2027-03-01T16:00"}),
    Doing(
        "setting.extend",
        TESS,
        "/staff/assignments/1/extensions",
        "more time given",
        {"student": "1", "own-due": "2027-03-09T16:00"},
    ),
    Doing(
        "setting.extend",
        TESS,
        "/staff/assignments/1/extensions",
        "more time taken back",
        {"student": "1", "do": "take"},
    ),
    Doing(
        "setting.more_attempts",
        TESS,
        "/staff/assignments/1/extra-attempts",
        "attempts given",
        {"student": "1", "more": "1"},
    ),
    Doing("marks.release_one", TESS, "/attempts/1/release", "held back", {"do": "hold"}),
    Doing("marks.release", TESS, "/staff/assignments/1/release", "released", {"do": "release", "which": "all"}),
    Doing(
        "marks.release_setting",
        TESS,
        "/staff/assignments/1/release/setting",
        "when marks are given",
        {"release": "by hand"},
    ),
    Doing("reports.ask", TESS, "/staff/assignments/1/report", "class report made", {"paper": "A4"}),
    Doing("marks.corrections", TESS, "/attempts/1/corrections", "comment", {"comment": "Tidy work."}),
    Doing("attempts.judgement", TESS, "/attempts/1/judgement", "own points", {"points-3": "5", "points-4": "5"}),
    Doing(
        "students.hand_in_for", TESS, "/staff/assignments/1/students/2/hand-in", "handed in for a pupil", {"text": "x"}
    ),
    Doing("people.alias", ADA, "/alias", "alias asked for", {"own": "Wandering Kelp"}),
    Doing(
        "class_desk.alias", TESS, "/staff/students/1/alias", "alias allowed", {"do": "allow", "alias": "Wandering Kelp"}
    ),
    Doing("class_desk.alias", TESS, "/staff/students/1/alias", "alias refused", {"do": "another"}),
    Doing("people.language", TESS, "/account/language", "language of an account", {"language": "de"}),
    Doing("people.sign_out_everywhere", ADA, "/account/sign-out-everywhere", "signed out everywhere"),
    Doing("teaching.passphrase", TESS, "/staff/students/2/passphrase", "new sign-in"),
    Doing("rosters.reissue", TESS, "/staff/classes/1/cards", "new cards for a class"),
    Doing("rosters.leave", TESS, "/staff/students/2/leave", "with the leavers"),
    Doing("rosters.leave", TESS, "/staff/students/2/leave", "back from the leavers"),
    Doing("office.add_class", CORA, "/staff/office/classes", "class made", {"name": "Newts", "code": "6A"}),
    Doing("office.rename_class", CORA, "/staff/office/classes/1/name", "class renamed", {"name": "Badgers"}),
    Doing("office.add_person", CORA, "/staff/office/people", "staff added", {"name": "Nora Pine", "role": "teacher"}),
    Doing("office.new_password", CORA, "/staff/office/people/5/password", "new sign-in"),
    Doing("office.teaches", CORA, "/staff/office/people/5/classes", "classes taught", {"class": "1"}),
    Doing("tokens.add", TESS, "/staff/classes/1/tokens", "token made", {"scope": "read marks"}),
    Doing("tokens.close", TESS, "/staff/classes/1/tokens/1/revoke", "token revoked"),
    Doing("contest_desk.freeze", CORA, "/staff/contests/1/freeze", "entries locked"),
    Doing("contest_desk.draw_order", CORA, "/staff/contests/1/order", "running order drawn"),
    Doing(
        "contest_desk.rule", CORA, "/staff/entries/1/ruling", "ruling on a bridge", {"what": "disqualified", "why": "x"}
    ),
    Doing("contest_desk.publish", CORA, "/staff/contests/1/publish", "contest list published"),
    Doing("class_desk.language", TESS, "/staff/classes/1/language", "language of a class", {"language": "de"}),
    Doing("class_desk.archive", TESS, "/staff/classes/1/archive", "class put away"),
    Doing("class_desk.archive", TESS, "/staff/classes/1/archive", "class opened again", {"do": "back"}),
    Doing("privacy.data_of", TESS, "/staff/students/1/data.zip", "data given out"),
    Doing("privacy.time_of_keeping", CORA, "/staff/office/keeping", "time of keeping", {"months": "24", "begins": "8"}),
    Doing("privacy.delete_student", TESS, "/staff/students/1/delete", "pupil deleted", {"typed": ADA}),
    Doing("privacy.delete_class", CORA, "/staff/classes/2/delete", "class deleted", {"typed": "9C"}),
)

ELSEWHERE = {
    "rosters.write": "tested below, with the form that its page gives",
    "students.take": "each file leaves 'handed in for a pupil', by the same function as a single one",
    "privacy.delete_year": "each class leaves 'class deleted', by the same function",
    "versions.save": "a version keeps who, when and why; each mark that moves is a change",
    "versions.undo": "each mark that moves is a change",
    "second.settle": "each mark that moves is a change",
    "second.ask": "a second marking keeps who asked whom and when",
    "second.blind": "a second marking keeps who gave what and when; it moves no mark",
    "second.withdraw": "it takes back a question that moved no mark",
    "contest_rules.write": "rules are versions, with who, when and why",
    "contest_desk.confirm": "a confirmation keeps who and when",
    "contest_desk.protest": "a protest keeps who and when",
    "contest_desk.answer": "a protest keeps who answered and when",
    "contest_desk.note_record": "it copies the school's own papers, and changes nobody's result",
    "entering.enter": "an entry keeps who and when; late changes are rows with a reason",
    "entering.withdraw": "late changes are rows with a reason",
    "stations.open_station": "a station keeps who and when, with the safety list",
    "stations.read": "a reading keeps who and when",
    "stations.undo": "an undo is a row that keeps who, when and why",
}
"""Kept in another table, which nobody changes without a trace."""

NEEDS_NONE = {
    "alike.look_again": "it computes again and changes no row of anybody",
    "attempts.send_again": "the same file gives the same mark",
    "awards.ask": "it prints what was published",
    "classes.attempt": "a hand-in is a row itself",
    "contest_rules.check_typed": "it writes nothing",
    "looking.look": "a sketch is nobody's work",
    "people.sign_in": "a sign-in changes nothing of anybody else",
    "people.staff_entrance": "a sign-in changes nothing of anybody else",
    "people.sign_out": "it ends one's own session",
    "plans.ask": "it prints what is there",
    "rosters.look": "it writes nothing",
    "stations.call": "it shows a number on the board",
    "stations.close": "a station keeps when it closed; readings that were taken before still arrive",
    "students.look": "it writes nothing",
    "teaching.settle": "it puts a notice away and moves nothing",
    "versions.try_version": "a trial moves no mark",
    "writing.check_typed": "it writes nothing",
    "writing.work": "a trial moves no mark",
}


def test_every_route_that_changes_something_is_on_one_of_the_lists(site: Site) -> None:
    rules = [one for one in site.app.url_map.iter_rules() if "POST" in (one.methods or ())]
    posts = {one.endpoint for one in rules if not one.endpoint.startswith("programs.")}
    lists = [{one.endpoint for one in DOINGS}, set(ELSEWHERE), set(NEEDS_NONE)]
    assert posts == set().union(*lists)
    assert sum(map(len, lists)) == len(posts)


def test_each_doing_leaves_its_line_with_who_did_it(site: Site) -> None:
    enter(site, begin(site, RULES)[:1])
    site.ask(attempts={"most": 3})
    for one in DOINGS:
        before = lines(site)
        answer = post(site.signed_in(one.by), one.path, **one.form)
        new = lines(site) - before
        assert (one.what, site.ids[one.by]) in new, (one.endpoint, one.what, answer.status_code, new)


def test_a_class_list_that_is_brought_in_leaves_its_line(site: Site) -> None:
    brought(site.signed_in(TESS), "Name\nAda Fern\nBen Holt\nNew Face\n")
    assert ("class list brought in", site.ids[TESS]) in lines(site)


def lines(site: Site) -> Counter[tuple[str, int | None]]:
    """What was done and by whom: acts and changes of marks."""
    with site.records.read() as session:
        rows = [*session.execute(select(Act.what, Act.by_id)), *session.execute(select(Change.what, Change.person_id))]
        return Counter((what, by_id) for what, by_id in rows)
