"""The page of an attempt, in each of its states."""

from __future__ import annotations

from rubric.messages.names import PRINT
from service.records.models import FAILED, NOT_MARKED, Job, Submission
from tests.service.site import GIRDER, MECHANISM, MISTAKEN, TOO_DEEP, Site
from tests.service.test_routes import untimed


def shown(site: Site, text: bytes = GIRDER, *, work: bool = True) -> str:
    client = site.signed_in("Ada Fern")
    submission = site.hand_in(client, text)
    if work:
        site.work()
    return client.get(f"/attempts/{submission}").text


def test_while_it_is_marked_the_page_waits_with_and_without_a_script(site: Site) -> None:
    page = shown(site, work=False)
    assert "Your bridge is being solved and marked." in page
    assert '<noscript><meta http-equiv="refresh" content="3"></noscript>' in page
    assert 'data-stage="received"' in page
    assert 'role="status" aria-live="polite"' in page


def test_a_marked_truss_says_what_it_carries_and_what_breaks_first(site: Site) -> None:
    page = shown(site)
    assert "90 of 100 points" in page
    assert "10 points more wait for your teacher." in page
    assert (
        "The whole bridge should carry about 237 N, like 24.1 kg hung on it. That is enough: the brief asks for 200 N."
        in page
    )
    assert (
        "breaks first: it buckles, which means it bends under the push in the plane of the truss, as you would see on the drawing."
        in page
    )
    assert "<svg" in page
    assert "The drawing in words" in page


def test_praise_comes_before_advice_and_advice_before_marks(site: Site) -> None:
    page = shown(site)
    order = [page.index(text) for text in ("What worked", "should carry", "What to try next", "How it was marked")]
    assert order == sorted(order)


def test_every_criterion_shows_points_seen_asked_why_and_how_to_earn_the_rest(site: Site) -> None:
    page = shown(site, GIRDER.replace(b"a-d: square5 x2", b"a-d: square5"))
    for heading in ("Points", "Seen", "Asked", "Why, and how to earn the rest"):
        assert f">{heading}</th>" in page
    assert "the reserve factor is 0.592" in page
    assert "to earn all 30 points." in page


def test_the_members_table_gives_forces_with_sign_letter_and_unit(site: Site) -> None:
    page = shown(site)
    assert "Tension is positive (+, T)" in page
    assert ">Force (N)</th>" in page
    assert '<td class="force tension">+62.5 T</td>' in page
    assert '<td class="force compression">−80 C</td>' in page
    assert '<td class="force nothing">0</td>' in page


def test_the_members_table_says_which_way_a_strut_would_buckle(site: Site) -> None:
    page = shown(site)
    assert "<td>buckling, in the plane</td>" in page
    assert "A pushed member can buckle in the plane of the truss, as you would see on the drawing, or out of it" in page


def test_the_page_shows_how_to_cut_each_stick(site: Site) -> None:
    page = shown(site)
    assert "<summary>How to cut each stick</summary>" in page
    assert '<th scope="row">square5, stick 1</th><td data-name="Cut"><bdi>' in page
    assert "saw cut" not in page


WORKING = GIRDER + b"working: {reactions: {a: 60 up}, forces: {a-d: 96 C, b-d: 0}}\n"


def test_working_by_hand_stands_beside_what_holds_with_the_first_slip_marked(site: Site) -> None:
    page = " ".join(shown(site, WORKING).split())
    assert "1 of 3 right, 1 follows from an earlier slip, 1 with the right sense alone." in page
    assert "This brief gives no points for it." in page
    first = page[page.index('<tr class="own">') :]
    assert first.index("support a, upward") < first.index("60 N up") < first.index("50 N up")
    assert first.index("Look here first.") < first.index("At joint a your own forces lead to your 96 N C")


def test_a_file_without_working_shows_nothing_of_it(site: Site) -> None:
    assert "Your working by hand" not in shown(site)


def test_a_member_beyond_its_capacity_is_marked_in_words(site: Site) -> None:
    page = shown(site, GIRDER.replace(b"a-d: square5 x2", b"a-d: square5"))
    assert "169 % <strong>too much</strong>" in page


def test_every_mistake_stands_with_line_column_quote_and_mend(site: Site) -> None:
    page = shown(site, MISTAKEN.replace(b"h-c: square3", b"h-zz: square3"))
    assert "2 places to mend in your file" in page
    assert "Line 6, column 8" in page
    assert "  c-e: sqare5" in page
    assert "did you mean &#39;square5&#39;?" in page
    assert "How it was marked" not in page


def test_a_mechanism_names_the_joints_that_move(site: Site) -> None:
    page = shown(site, MECHANISM)
    assert "This truss is a mechanism: it can change its shape" in page
    assert "Joints b, c, e, d, h and g move." in page
    assert "1 member is missing." in page
    assert ">Members</h2>" not in page


def test_limits_that_are_not_kept_are_listed(site: Site) -> None:
    page = shown(site, TOO_DEEP)
    assert "Limits of the brief not kept" in page
    assert "does not stand on the board" in page


def test_the_sheet_is_a_download_under_a_plain_name(site: Site) -> None:
    client = site.signed_in("Ada Fern")
    submission = site.hand_in(client)
    assert client.get(f"/attempts/{submission}/sheet.pdf").status_code == 404
    site.work()
    answer = client.get(f"/attempts/{submission}/sheet.pdf")
    assert answer.data.startswith(b"%PDF-")
    assert answer.mimetype == "application/pdf"
    assert answer.headers["X-Content-Type-Options"] == "nosniff"
    name = "sheet-footbridge-over-the-mill-stream-attempt-1.pdf"
    assert answer.headers["Content-Disposition"] == f"attachment; filename={name}"


def test_a_sheet_under_way_and_a_sheet_that_failed_are_said(site: Site) -> None:
    page = shown(site)
    assert "Feedback sheet to print (PDF)" in page
    for state, said in (("waiting", "The feedback sheet is being printed."), (FAILED, "could not be printed")):
        with site.records.write() as session:
            session.query(Job).filter_by(kind=PRINT).one().state = state
        assert said in site.signed_in("Ada Fern").get("/attempts/1").text


def test_a_file_that_could_not_be_marked_is_safe_and_the_page_says_so(site: Site) -> None:
    client = site.signed_in("Ada Fern")
    submission = site.hand_in(client)
    with site.records.write() as session:
        session.get_one(Submission, submission).state = NOT_MARKED
    page = client.get(f"/attempts/{submission}").text
    assert "This file could not be marked." in page
    assert "You need not hand it in twice." in page


def test_the_file_comes_back_as_it_was_and_only_as_a_download(site: Site) -> None:
    client = site.signed_in("Ada Fern")
    answer = client.get(f"/attempts/{site.hand_in(client, b'<script>x</script>')}/file")
    assert answer.data == b"<script>x</script>"
    assert answer.mimetype == "application/octet-stream"
    assert answer.headers["Content-Disposition"].startswith("attachment;")


def test_the_parts_for_the_script_are_those_of_the_page(site: Site) -> None:
    client = site.signed_in("Ada Fern")
    submission = site.hand_in(client)
    site.work()
    parts = client.get(f"/attempts/{submission}/parts").text
    assert untimed(parts.strip()) in untimed(client.get(f"/attempts/{submission}").text)
    assert 'id="part-result" data-version="done"' in parts


def test_names_and_titles_of_a_file_are_text_and_nothing_else(site: Site) -> None:
    page = shown(site, GIRDER.replace(b"Double-post girder", b'"<img src=x onerror=y()> \xd7\x90"'))
    assert "<img" not in page
    assert "&lt;img src=x" in page


def test_a_page_stays_below_150_kb(site: Site) -> None:
    assert len(shown(site).encode()) < 150_000
