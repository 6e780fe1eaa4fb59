"""Aliases in a student's own words, and a teacher's veto."""

from __future__ import annotations

import pytest
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


def settle(site: Site, do: str, alias: str = "Moon Rider") -> None:
    address = f"/staff/students/{site.ids['Ada Fern']}/alias"
    assert post(site.signed_in("Tess Birch"), address, do=do, alias=alias).status_code == 303


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
