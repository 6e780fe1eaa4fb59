"""What programs may do about a class beside its work."""

from __future__ import annotations

import pytest

from service.api.tokens import KEEP_CLASS, READ_CLASS, READ_NAMES
from service.people.aliases import is_alias
from service.records.acts import Act
from service.records.models import Person, now
from tests.service.api.conftest import WithToken
from tests.service.api.test_work import ask
from tests.service.site import Site, post

pytestmark = pytest.mark.usefixtures("unbounded")


def acts(site: Site) -> list[str]:
    with site.records.read() as session:
        return [one.what for one in session.query(Act).order_by(Act.id)]


def test_a_class_changes_its_language_and_is_put_away_and_brought_back(full: Site, with_token: WithToken) -> None:
    headers = with_token(KEEP_CLASS)
    assert ask(full, headers, "/classes/1/language", {"language": "de"}).json["language"] == "de"
    assert ask(full, headers, "/classes/1/language", {"language": "xx"}).status_code == 422
    assert ask(full, headers, "/classes/1/archive", {"away": True}).json["put_away"] is True
    assert ask(full, headers, "/classes/1/archive", {"away": False}).json["put_away"] is False
    assert acts(full)[-3:] == ["language of a class", "class put away", "class opened again"]


def test_a_student_is_set_apart_and_comes_back(full: Site, with_token: WithToken) -> None:
    headers = with_token(KEEP_CLASS, READ_CLASS)
    assert ask(full, headers, "/students/1/leave", {"left": True}).json["name"] is None
    assert ask(full, headers, "/students/1/leave", {"left": True}).status_code == 200
    assert [one["id"] for one in ask(full, headers, "/classes/1/leavers").json["items"]] == [1]
    assert ask(full, headers, "/students/1/leave", {"left": False}).status_code == 200
    assert ask(full, headers, "/classes/1/leavers").json["items"] == []
    assert acts(full)[-2:] == ["with the leavers", "back from the leavers"]


def test_new_words_open_the_account_and_the_old_ones_do_not(full: Site, with_token: WithToken) -> None:
    words = ask(full, with_token(KEEP_CLASS), "/students/1/sign-in", {}).json
    assert (words["name"], words["class_code"]) == (None, "8B")
    form = {"class_code": "8B", "passphrase": words["passphrase"]}
    assert post(full.visitor(), "/sign-in", **form).status_code == 302
    old = full.secrets["Ada Fern"].secret
    assert post(full.visitor(), "/sign-in", **form | {"passphrase": old}).status_code != 302
    assert acts(full)[-1] == "new sign-in"


def test_a_whole_class_gets_new_words_each_with_its_student(full: Site, with_token: WithToken) -> None:
    items = ask(full, with_token(KEEP_CLASS, READ_NAMES), "/classes/1/sign-ins", {}).json["items"]
    assert [(one["student_id"], one["name"]) for one in items] == [(1, "Ada Fern"), (2, "Ben Holt")]
    form = {"class_code": "8B", "passphrase": items[1]["passphrase"]}
    assert post(full.visitor(), "/sign-in", **form).status_code == 302
    assert acts(full)[-1] == "new cards for a class"


def test_an_alias_is_refused_with_a_reason_and_another_one_allowed(full: Site, with_token: WithToken) -> None:
    headers = with_token(KEEP_CLASS)
    with full.records.write() as session:
        session.get_one(Person, 1).alias_asked = "Rude Word"
    (waits,) = ask(full, headers, "/classes/1/aliases").json["items"]
    assert (waits["student_id"], waits["asked"]) == (1, "Rude Word")
    stale = {"do": "allow", "asked": "Another One"}
    assert ask(full, headers, "/students/1/alias", stale).status_code == 409
    refused = ask(full, headers, "/students/1/alias", {"do": "refuse", "asked": "Rude Word", "why": "Be kind."}).json
    assert (refused["asked"], refused["refused"], refused["why"]) == (None, "Rude Word", "Be kind.")
    with full.records.write() as session:
        session.get_one(Person, 1).alias_asked = "Kind Word"
    allowed = ask(full, headers, "/students/1/alias", {"do": "allow", "asked": "Kind Word"}).json
    assert (allowed["alias"], allowed["refused"]) == ("Kind Word", None)
    assert is_alias(ask(full, headers, "/students/1/alias", {"do": "another"}).json["alias"])
    assert acts(full)[-3:] == ["alias refused", "alias allowed", "alias refused"]


def test_a_notice_is_read_with_names_alone_and_put_away(full: Site, with_token: WithToken) -> None:
    assert ask(full, with_token(KEEP_CLASS), "/classes/1/notices").status_code == 403
    headers = with_token(KEEP_CLASS, READ_NAMES)
    (notice,) = ask(full, headers, "/classes/1/notices").json["items"]
    assert (notice["attempt_id"], notice["text"]) == (1, "Look at this.")
    assert ask(full, headers, f"/notices/{notice['id']}/settle", {}).json["settled"] is True
    assert ask(full, headers, "/classes/1/notices").json["items"] == []


def test_tokens_are_listed_without_what_they_are_and_a_token_can_end_itself(full: Site, with_token: WithToken) -> None:
    headers = with_token(KEEP_CLASS)
    listed = ask(full, headers, "/classes/1/tokens")
    assert [one["name"] for one in listed.json["items"]] == ["a mark book", "a test"]
    assert "sha256" not in listed.text
    assert headers["Authorization"].split()[1] not in listed.text
    ended = ask(full, headers, "/tokens/2/revoke", {}).json
    assert ended["revoked_at"][:10] == f"{now():%Y-%m-%d}"
    assert ask(full, headers, "/classes/1/tokens").status_code == 401
    assert acts(full)[-1] == "token revoked"


def test_due_dates_come_as_a_calendar_without_names_of_students(full: Site, with_token: WithToken) -> None:
    headers = with_token("set work", READ_CLASS)
    ask(full, headers, "/assignments/1/dates", {"opens": None, "due": "2027-03-01T16:00:00Z"})
    found = ask(full, headers, "/classes/1/due-dates")
    assert found.content_type.startswith("text/calendar")
    assert "DTSTART:20270301T160000Z" in found.text
    assert found.text.count("BEGIN:VEVENT") == 1
