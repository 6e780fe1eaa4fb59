"""Aliases in a student's own words, and a teacher's veto."""

from __future__ import annotations

import pytest
from flask.testing import FlaskClient
from hypothesis import given
from hypothesis import strategies as st

from service.people.own_aliases import LONGEST, AliasRefused, own_alias
from service.records.models import Person, SchoolClass
from tests.service.site import Site, post

ADA = "Adélaïde Fern-O'Hara"


def ask(text: str) -> str:
    return own_alias(text, ADA, ["Brave Otter"], ["Ben Holt"])


@pytest.mark.parametrize("text", ["Moon Rider 7", "Señor Puente", "It's-me", "Ж уравль", "橋の達人", "  two   words "])
def test_letters_of_one_alphabet_make_an_alias(text: str) -> None:
    assert ask(text) == " ".join(text.split())


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("ab", "3 to 24 letters"),
        ("x" * 25, "Yours has 25"),
        ("a" * 10_000, "Yours has 400"),
        ("<b>bold</b>", "Use letters"),
        ("a\u202eevil", "Use letters"),
        ("=1+1", "Use letters"),
        ("7 bridges", "begin with a letter"),
        ("smile \N{GRINNING FACE}", "Use letters"),
        ("p\u0430ypal", "one alphabet"),
        ("Adelaide", "must not tell your name"),
        ("the FERN", "must not tell your name"),
        ("superhara", "must not tell your name"),
        ("ade the great", "must not tell your name"),
        ("ben  HOLT", "somebody's name"),
        ("Brave-otter", "taken"),
    ],
)
def test_what_is_no_alias_is_told_with_the_reason(text: str, said: str) -> None:
    with pytest.raises(AliasRefused, match=said):
        ask(text)


@given(st.text(max_size=60))
def test_no_alias_holds_markup_or_a_mark_that_turns_text_round(text: str) -> None:
    try:
        alias = ask(text)
    except AliasRefused:
        return
    assert 3 <= len(alias) <= LONGEST
    assert all(c.isalnum() or c in " -'" for c in alias)
    assert alias[0] not in "=+-@"


def alias_of(site: Site, name: str = "Ada Fern") -> tuple[str | None, str | None]:
    with site.records.read() as session:
        found = session.get_one(Person, site.ids[name])
        return found.alias, found.alias_asked


def settle(site: Site, do: str, alias: str = "Moon Rider", why: str = "") -> None:
    address = f"/staff/students/{site.ids['Ada Fern']}/alias"
    assert post(site.signed_in("Tess Birch"), address, do=do, alias=alias, why=why).status_code == 303


def refused(site: Site, why: str = "It is a brand.") -> FlaskClient:
    """Ada, whose alias was refused."""
    post(site.signed_in("Ada Fern"), "/alias", own="Moon Rider")
    settle(site, "refuse", why=why)
    return site.signed_in("Ada Fern")


def told(student: FlaskClient) -> bool:
    """Whether a refusal stands on her desk."""
    return "did not allow the alias <bdi>Moon Rider</bdi>" in student.get("/desk", follow_redirects=True).text


def test_nobody_but_the_teacher_sees_an_alias_before_it_is_allowed(site: Site) -> None:
    before = alias_of(site)[0]
    page = post(site.signed_in("Ada Fern"), "/alias", own="Moon  Rider")
    assert page.status_code == 303
    assert alias_of(site) == (before, "Moon Rider")
    teacher = site.signed_in("Tess Birch")
    assert "1 alias to look at" in teacher.get("/staff").text
    assert "Moon Rider" in teacher.get("/staff/classes/1").text
    settle(site, "allow")
    assert alias_of(site) == ("Moon Rider", None)


def test_a_veto_leaves_the_alias_of_before(site: Site) -> None:
    before = alias_of(site)[0]
    post(site.signed_in("Ada Fern"), "/alias", own="Moon Rider")
    settle(site, "refuse")
    assert alias_of(site) == (before, None)


def test_a_refusal_is_told_with_its_reason_on_the_desk_and_beside_the_choice(site: Site) -> None:
    student = refused(site, why="  It is a <b>brand</b>.  ")
    for page in ("/desk", "/alias"):
        text = student.get(page, follow_redirects=True).text
        assert "did not allow the alias <bdi>Moon Rider</bdi>" in text
        assert "Why: <bdi>It is a &lt;b&gt;brand&lt;/b&gt;.</bdi>" in text
    assert "Moon Rider" not in site.signed_in("Ben Holt").get("/desk", follow_redirects=True).text
    assert "Refused: <bdi>Moon Rider</bdi>" in site.signed_in("Tess Birch").get("/staff/classes/1").text


@pytest.mark.parametrize("choice", [{"alias": "Amber Otter"}, {"own": "Sun Rider"}, {"keep": "yes"}])
def test_a_refusal_is_told_until_the_student_has_chosen_again(site: Site, choice: dict[str, str]) -> None:
    student = refused(site)
    post(student, "/alias", own="ab")
    assert told(student)
    post(student, "/alias", **choice)
    assert not told(student)
    with site.records.read() as session:
        assert session.get_one(Person, site.ids["Ada Fern"]).alias_why == ""


def test_a_refusal_needs_no_reason_and_a_long_one_is_cut(site: Site) -> None:
    assert "Why:" not in refused(site, why=" ").get("/alias").text
    refused(site, why="x" * 5000)
    with site.records.read() as session:
        assert len(session.get_one(Person, site.ids["Ada Fern"]).alias_why) == 200


def test_taking_an_alias_in_own_words_away_is_told_and_a_drawn_one_is_not(site: Site) -> None:
    settle(site, "another")
    assert alias_of(site)[0]
    student = site.signed_in("Ada Fern")
    assert "did not allow" not in student.get("/alias").text
    post(student, "/alias", own="Moon Rider")
    settle(site, "allow")
    settle(site, "another")
    assert told(student)


def test_an_alias_that_changed_since_it_was_shown_is_not_allowed(site: Site) -> None:
    post(site.signed_in("Ada Fern"), "/alias", own="Something Else")
    settle(site, "allow", "Moon Rider")
    assert alias_of(site)[1] == "Something Else"


def test_two_students_cannot_have_one_alias(site: Site) -> None:
    post(site.signed_in("Ada Fern"), "/alias", own="Moon Rider")
    assert "That alias is taken." in post(site.signed_in("Ben Holt"), "/alias", own="moon rider").text
    with site.records.write() as session:
        session.get_one(Person, site.ids["Ben Holt"]).alias = "Moon Rider"
    settle(site, "allow")
    assert alias_of(site)[0] != "Moon Rider"


def test_a_teacher_may_draw_another_one_at_any_time(site: Site) -> None:
    before = alias_of(site)[0]
    settle(site, "another")
    assert alias_of(site)[0] not in (before, None)


def test_a_class_that_is_put_away_is_kept_and_comes_back(site: Site) -> None:
    teacher = site.signed_in("Tess Birch")
    assert post(teacher, "/staff/classes/1/archive", do="away").status_code == 303
    desk = teacher.get("/staff").text
    assert "Put away" in desk
    assert f'href="/staff/assignments/{site.assignment}"' in desk.split("Put away")[1]
    assert "Set work" not in desk
    late = post(site.signed_in("Ada Fern"), f"/assignments/{site.assignment}/attempts", text="joints: {}")
    assert "Your class is put away" in late.text
    post(teacher, "/staff/classes/1/archive", do="back")
    assert "Set work" in teacher.get("/staff").text
    with site.records.read() as session:
        assert session.get_one(SchoolClass, 1).archived_at is None
