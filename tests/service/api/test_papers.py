"""What programs fetch to print, and for other programs."""

from __future__ import annotations

import csv
import io
import zipfile

import pikepdf
import pytest

from service.api.operation import PDF, ZIP
from service.api.tokens import READ_CLASS, READ_MARKS, READ_NAMES, RUN_CONTESTS
from service.records.contest_models import ContestPrint
from service.records.models import Plan, Sheet
from tests.service.api.conftest import WithToken
from tests.service.api.test_work import ask
from tests.service.site import GIRDER, MECHANISM, Site

pytestmark = pytest.mark.usefixtures("unbounded")


def test_a_file_comes_back_as_it_was_handed_in(full: Site, with_token: WithToken) -> None:
    found = ask(full, with_token(READ_MARKS), "/attempts/1/file")
    assert (found.content_type.partition(";")[0], found.data.strip()) == ("text/plain", GIRDER.strip())


def test_a_building_plan_is_ordered_drawn_and_fetched(full: Site, with_token: WithToken) -> None:
    headers = with_token(READ_MARKS)
    number = full.hand_in(full.signed_in("Ben Holt"))
    full.work()
    path = f"/attempts/{number}/plan"
    assert ask(full, headers, path).status_code == 404
    ordered = ask(full, headers, path, {"paper": "A4"})
    assert (ordered.status_code, ordered.json["stage"]) == (202, "waiting")
    assert ask(full, headers, path).status_code == 409
    assert ask(full, headers, path, {"paper": "A4"}).status_code == 409
    full.work()
    drawn = ask(full, headers, path)
    assert (drawn.content_type, drawn.data[:5]) == (PDF, b"%PDF-")
    assert ask(full, headers, path, {"paper": "A0"}).status_code == 422


def test_what_can_move_has_no_building_plan(full: Site, with_token: WithToken) -> None:
    number = full.hand_in(full.signed_in("Ben Holt"), MECHANISM)
    full.work()
    refused = ask(full, with_token(READ_MARKS), f"/attempts/{number}/plan", {"paper": "A4"})
    assert (refused.status_code, "stable" in refused.json["detail"]) == (409, True)
    with full.records.read() as session:
        assert session.get(Plan, number) is None


def test_sheets_come_as_files_and_as_one_to_print(full: Site, with_token: WithToken) -> None:
    headers = with_token(READ_MARKS)
    out = io.BytesIO()
    with pikepdf.new() as sheet:
        sheet.add_blank_page()
        sheet.save(out)
    with full.records.write() as session:
        session.get_one(Sheet, 1).pdf = out.getvalue()
    packed = ask(full, headers, "/assignments/1/sheets")
    with zipfile.ZipFile(io.BytesIO(packed.data)) as files:
        assert (packed.content_type, len(files.namelist())) == (ZIP, 1)
    with pikepdf.open(io.BytesIO(ask(full, headers, "/assignments/1/pack").data)) as pack:
        assert len(pack.pages) == 2
    ask(full, with_token("give marks"), "/assignments/1/release", {"do": "hold"})
    assert ask(full, headers, "/assignments/1/pack").status_code == 404


def test_marks_for_other_programs_name_pupils_and_need_that_scope(full: Site, with_token: WithToken) -> None:
    bare, named = with_token(READ_MARKS), with_token(READ_MARKS, READ_NAMES)
    for path in ("/assignments/1/mark-book", "/assignments/1/oneroster"):
        assert ask(full, bare, path).status_code == 403
    rows = list(csv.DictReader(io.StringIO(ask(full, named, "/assignments/1/mark-book").data.decode("utf-8-sig"))))
    assert [(row["Student"], row["Points"]) for row in rows] == [("Ada Fern", "90.0"), ("Ben Holt", "")]
    with zipfile.ZipFile(io.BytesIO(ask(full, named, "/assignments/1/oneroster").data)) as files:
        assert "results.csv" in files.namelist()


def test_a_contest_gives_out_its_board_list_and_all_it_keeps_by_alias(full: Site, with_token: WithToken) -> None:
    headers = with_token(READ_CLASS, RUN_CONTESTS)
    (place,) = ask(full, headers, "/contests/1/board").json["items"]
    assert (place["rank"], place["efficiency"] > 0) == (1, True)
    (row,) = csv.DictReader(io.StringIO(ask(full, headers, "/contests/1/list-table").data.decode("utf-8-sig")))
    assert (row["number"], row["alias"]) == ("1", place["alias"])
    kept = ask(full, headers, "/contests/1/everything")
    assert [one["bridge"] for one in kept.json["everything"]["readings"]] == [1]
    assert "Fern" not in kept.text
    (label,) = ask(full, headers, "/contests/1/labels").json["items"]
    assert (label["number"], label["code"][:4]) == (1, "<svg")
    assert label["address"].endswith("/staff/contests/1/bridges/1")


def test_awards_are_set_of_what_was_published_for_a_coordinator(full: Site, with_token: WithToken) -> None:
    hers, mine = with_token(RUN_CONTESTS), with_token(RUN_CONTESTS, by="Cora Vale")
    named = with_token(RUN_CONTESTS, READ_NAMES, by="Cora Vale")
    assert ask(full, mine, "/contests/1/awards", {"what": "booklet"}).status_code == 409
    load = {"number": 1, "value": 180.5, "unit": "N", "sure": True}
    ask(full, mine, "/stations/2/readings", load, key="a")
    ask(full, hers, "/entries/1/confirm", {})
    ask(full, mine, "/protests/1/answer", {"text": "It was dry."})
    assert ask(full, mine, "/contests/1/lists", {}).status_code == 201
    for what, headers in (("booklet", mine), ("certificates", named)):
        ordered = ask(full, mine, "/contests/1/awards", {"what": what, "paper": "Letter"})
        assert (ordered.status_code, ordered.json["stage"], ordered.json["list_number"]) == (202, "waiting", 1)
        assert ordered.json["paper"] == "Letter"
        assert ask(full, headers, f"/contests/1/{what}").status_code == 404
        assert ask(full, hers, f"/contests/1/{what}").status_code == 403
        with full.records.write() as session:
            session.query(ContestPrint).filter_by(what=what).one().pdf = b"%PDF-1.7 set"
        assert ask(full, headers, f"/contests/1/{what}").data == b"%PDF-1.7 set"
    assert ask(full, mine, "/contests/1/certificates").status_code == 403  # it names pupils


def test_a_record_of_an_earlier_year_is_noted_among_the_others(full: Site, with_token: WithToken) -> None:
    headers = with_token(RUN_CONTESTS, READ_CLASS, by="Cora Vale")
    new = {"year": 2019, "title": "Old bridges", "alias": "Quiet Heron", "efficiency": 412.5}
    assert ask(full, headers, "/contests/1/records", new).status_code == 201
    (record,) = ask(full, headers, "/contests/1/records").json["items"]
    assert {name: record[name] for name in new} == new
    again = ask(full, headers, "/contests/1/records", new)
    assert (again.status_code, again.json["detail"]) == (409, "This record is noted already.")
    assert ask(full, headers, "/contests/1/records", new | {"year": 1066}).status_code == 422
    assert ask(full, headers, "/contests/1/records", new | {"title": " "}).status_code == 409
