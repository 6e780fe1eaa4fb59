"""Writing a brief and a rubric in the browser: checking, starting from another text."""

from __future__ import annotations

import re

from rubric import library
from service.classes.checking import check
from tests.service.site import Site, post

BRIEF, RUBRIC = library.brief_text("footbridge").decode(), library.rubric_text("footbridge").decode()


def page(site: Site) -> str:
    return f"/staff/assignments/{site.assignment}/writing"


def test_the_editor_opens_with_the_texts_of_the_newest_version(site: Site) -> None:
    text = site.signed_in("Tess Birch").get(page(site)).text
    assert "title: Footbridge over the mill stream" in text
    assert "The brief can be read. This is what a student is asked:" in text
    assert "The rubric can be read. This is what earns points:" in text


def test_a_text_with_mistakes_is_shown_again_with_each_problem_and_its_line(site: Site) -> None:
    client = site.signed_in("Tess Birch")
    wrong = RUBRIC.replace("threshold", "treshold", 1)
    answer = post(client, page(site), brief=BRIEF, rubric=wrong, do="check")
    assert answer.status_code == 422
    assert "treshold" in re.sub(r"<[^>]*>", "", answer.text)
    assert '<a href="#rubric" data-line="4" data-column="5">Line 4, column 5</a>' in answer.text
    assert "did you mean &#39;threshold&#39;?" in answer.text
    assert "The brief can be read." in answer.text


def test_checking_saves_nothing(site: Site) -> None:
    client = site.signed_in("Tess Birch")
    post(client, page(site), brief=BRIEF.replace("600 mm", "700 mm"), rubric=RUBRIC, do="check")
    assert "span: 600 mm" in client.get(page(site)).text


def test_what_is_typed_comes_back_as_it_was_and_is_no_markup(site: Site) -> None:
    client = site.signed_in("Tess Birch")
    answer = post(client, page(site), brief="\n<b>x</b>\r\n", rubric="</textarea><script>", do="check")
    assert "\n\n&lt;b&gt;x&lt;/b&gt;\n" in answer.text
    assert "<script>" not in answer.text


def test_one_may_start_from_a_ready_text_and_keep_the_other(site: Site) -> None:
    client = site.signed_in("Tess Birch")
    fields = {"brief-from": "market-bridge", "rubric-from": ""}
    text = post(client, page(site), brief="old", rubric="title: mine", do="start", **fields).text
    assert "title: Bridge for the market carts" in text
    assert "title: mine" in text


def test_the_script_gets_what_is_said_beside_the_two_texts(site: Site) -> None:
    client = site.signed_in("Tess Birch")
    text = post(client, "/staff/writing/check", brief=BRIEF, rubric="title: T").text
    assert 'id="said-brief" data-problems="0"' in text
    assert 'id="said-rubric" data-problems="1"' in text
    assert "<html" not in text


def test_a_remark_is_made_where_late_work_costs_points_and_nothing_is_ever_late() -> None:
    late = RUBRIC.replace("criteria:", "lateness: {per day: 10 %, most: 30 %}\ncriteria:", 1)
    assert check(BRIEF, RUBRIC).remarks == ()
    (said,) = check(BRIEF, late).remarks
    assert said.startswith("The rubric takes points for late work, but the brief has no due date")
    assert check(f"{BRIEF}dates: {{due: 2027-03-15 16:00}}\n", late).remarks == ()


def test_a_sum_that_is_not_written_down_is_told() -> None:
    assert check(BRIEF, RUBRIC.replace("out of: 100\n", "")).remarks[0].startswith("The points add up to 100.")


def test_line_ends_of_a_browser_move_no_problem() -> None:
    (line,) = check("title: a\r\nspam: 3\r\n" + BRIEF.split("\n", 1)[1], RUBRIC).brief.problems
    assert (line.problem.line, line.quote) == (2, "spam: 3")
