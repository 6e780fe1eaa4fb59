"""Entries: named, changed, locked, changed late with a reason."""

from __future__ import annotations

import pytest
from sqlalchemy import select

from service.contest.entering import Asked, change_entry, draw_order, freeze, name_entry, withdraw
from service.contest.rulebook import Refusal
from service.records.contest_models import Entry, EntryChange
from service.records.models import Person, Submission
from tests.service.contest.day import AFTER, BEFORE, RULES, begin, enter, entries, in_session
from tests.service.site import HEAVY_GIRDER, MECHANISM, Site


def named(site: Site, submission: int, by: str, when: object = BEFORE, **asked: object) -> Entry:
    return in_session(
        site,
        lambda session, person: name_entry(
            session,
            person,
            session.get_one(Submission, submission),
            Asked(**asked),
            when,  # type: ignore[arg-type]
        ),
        by,
    )


def test_entries_are_numbered_in_turn_and_keep_what_was_predicted(site: Site) -> None:
    enter(site, begin(site))
    found = entries(site)
    assert [entry.number for entry in found] == [1, 2, 3]
    assert found[0].predicted["measures"]["failure load"] > 0
    assert found[0].predicted["member"] in found[0].predicted["members"]


def test_a_truss_that_can_move_is_not_eligible(site: Site) -> None:
    begin(site)
    moving = site.hand_in(site.signed_in("Ada Fern"), MECHANISM)
    site.work()
    with pytest.raises(Refusal, match="not eligible: the number of mechanisms is 1, and at most 0 was asked"):
        named(site, moving, "Ada Fern")


@pytest.mark.parametrize(
    ("when", "asked", "said"),
    [
        (BEFORE.replace(month=2), {}, "Entries can be named from 01.03.2027"),
        (AFTER, {}, "The entries are locked. Ask your teacher"),
    ],
)
def test_a_pupil_names_an_entry_between_opening_and_freeze_alone(
    site: Site, when: object, asked: dict[str, object], said: str
) -> None:
    first, *_ = begin(site)
    with pytest.raises(Refusal, match=said):
        named(site, first, "Ada Fern", when, **asked)


def test_more_bridges_than_the_rules_allow_are_refused(site: Site) -> None:
    enter(site, begin(site))
    more = site.hand_in(site.signed_in("Ada Fern"), HEAVY_GIRDER)
    site.work()
    with pytest.raises(Refusal, match="Only 1 bridge a pupil may be entered"):
        named(site, more, "Ada Fern")


def test_a_late_change_needs_a_reason_and_is_kept_with_it(site: Site) -> None:
    first, *_ = enter(site, begin(site))
    better = site.hand_in(site.signed_in("Ada Fern"), HEAVY_GIRDER)
    site.work()

    def change(why: str) -> None:
        in_session(
            site,
            lambda session, person: change_entry(
                session,
                person,
                session.get_one(Entry, first),
                session.get_one(Submission, better),
                Asked(why=why),
                AFTER,
            ),
        )

    with pytest.raises(Refusal, match="Write the reason for the late change"):
        change(" ")
    change("The first one was sat on.")
    with site.records.read() as session:
        kept = session.scalars(select(EntryChange)).one()
        assert (kept.what, kept.why) == ("changed late", "The first one was sat on.")
        assert (kept.before.split(" at ")[0], kept.after.split(" at ")[0]) == ("attempt 1", "attempt 2")
        assert session.get_one(Entry, first).submission_id == better


def test_the_coordinator_can_lock_the_entries_before_their_date(site: Site) -> None:
    first, *rest = begin(site)
    enter(site, rest)
    assert in_session(site, lambda session, _: freeze(session, site.contest)) == 2
    with pytest.raises(Refusal, match="The entries are locked"):
        named(site, first, "Ada Fern")
    assert named(site, first, "Tess Birch", why="Was ill.").frozen_at is not None


def test_a_withdrawn_number_is_not_given_again(site: Site) -> None:
    first, second, third = begin(site)
    row, _ = enter(site, [first, second])
    in_session(site, lambda session, person: withdraw(session, person, session.get_one(Entry, row), "", BEFORE))
    assert named(site, third, "Cleo Marsh").number == 3
    assert named(site, first, "Ada Fern").number == 1


def test_divisions_by_age_ask_for_it_and_keep_it_for_nothing_else(site: Site) -> None:
    first, *_ = begin(site, RULES + "divisions: [{name: Young, ages: 10 to 13}, {name: Old, ages: 14 to 18}]\n")
    with pytest.raises(Refusal, match="Write the age on the day"):
        named(site, first, "Ada Fern")
    assert named(site, first, "Ada Fern", age=13).division == "Young"


def test_divisions_by_class_keep_no_age_and_a_free_one_is_chosen(site: Site) -> None:
    first, _, third = begin(site, RULES + "divisions: [{name: B, classes: [8B]}, {name: Open}, {name: Duo}]\n")
    assert (named(site, first, "Ada Fern", age=13).division, entries(site)[0].age) == ("B", None)
    with pytest.raises(Refusal, match="Choose the division: Open and Duo"):
        named(site, third, "Cleo Marsh")
    assert named(site, third, "Cleo Marsh", division="Duo").division == "Duo"


def test_the_running_order_can_be_drawn_again(site: Site) -> None:
    enter(site, begin(site))
    in_session(site, lambda session, _: draw_order(session, site.contest, 4))
    first = [entry.running for entry in entries(site)]
    in_session(site, lambda session, _: draw_order(session, site.contest, 4))
    assert sorted(first) == [1, 2, 3]
    assert [entry.running for entry in entries(site)] == first


def test_a_pupil_who_is_deleted_takes_entries_and_readings_along(site: Site) -> None:
    from service.privacy.erasing import erase_pupil
    from service.records.contest_models import RawReading
    from tests.service.contest.day import read, stations, typed

    enter(site, begin(site))
    scale, _ = stations(site)
    for number in (1, 2):
        read(site, scale, typed(number, "60"))
    in_session(site, lambda session, _: erase_pupil(session, session.get_one(Person, site.ids["Ada Fern"]), None))
    with site.records.read() as session:
        assert [row.number for row in session.query(Entry).order_by(Entry.number)] == [2, 3]
        assert session.query(RawReading).count() == 1
