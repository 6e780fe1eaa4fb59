"""A student's pages: the brief, the attempts, the help."""

from __future__ import annotations

from rubric import library
from rubric.brief import read_brief
from service.classes import examples
from service.classes.brief_said import facts
from service.classes.setting import set_assignment
from service.records.models import Assignment
from tests.service.site import MISTAKEN, Site
from worker.truss.reader import read_truss


def lines(brief: bytes = b"") -> str:
    read = read_brief(brief) if brief else library.brief("footbridge")
    return "\n".join(f"{name}: {' '.join(said)}" for name, said in facts(read))


def test_the_brief_is_said_with_every_number_and_unit() -> None:
    said = lines()
    for line in (
        "Span: 600 mm from support to support.",
        "200 N on the whole bridge, pulling down, as if 20.4 kg hung.",
        "put a joint at x = 300 mm, y = 0 mm.",
        "14 sticks called square5: 5 × 5 mm, 900 mm long.",
        "Each stick is glued over 12 mm at each end; the glue holds 5 MPa in shear.",
        "No joint higher than 180 mm above the deck. No joint below the deck. The whole bridge has at most 75 g.",
        "They add 15 g.",
    ):
        assert line in said


def test_a_brief_with_places_and_a_share_says_them() -> None:
    text = library.brief_text("footbridge").replace(b"midspan", b"[200 mm, 400 mm]").replace(b"equal", b"60 %")
    assert "in equal parts at x = 200 mm and x = 400 mm" in lines(text)
    assert "The most loaded one is checked with 60 % of the load." in lines(text)


def test_one_assignment_opens_by_itself_and_two_are_listed(site: Site) -> None:
    client = site.signed_in("Ada Fern")
    assert client.get("/desk").location == f"/assignments/{site.assignment}"
    with site.records.write() as session:
        brief, rubric = library.brief_text("market-bridge"), library.rubric_text("market-bridge")
        set_assignment(session, "8B", brief, rubric, title="Second <task>")
    page = client.get("/desk").text
    assert "Second &lt;task&gt;" in page
    assert "Footbridge over the mill stream" in page


def test_before_a_worker_drew_the_brief_the_page_says_so(site: Site) -> None:
    client, page = site.signed_in("Ada Fern"), f"/assignments/{site.assignment}"
    assert "The drawing is on its way." in client.get(page).text
    site.work()
    shown = client.get(page).text
    assert "The drawing is on its way." not in shown
    assert "<svg" in shown


def test_the_page_shows_how_it_is_marked_before_anything_is_handed_in(site: Site) -> None:
    page = site.signed_in("Ada Fern").get(f"/assignments/{site.assignment}").text
    assert "reserve factor: 0.25 earns 0; 1 earns 30" in page
    assert "Failure load over the brief&#39;s target load" in page
    assert "You are not on the board yet." in page


def test_earlier_attempts_show_state_mark_and_efficiency_and_the_own_place(site: Site) -> None:
    client = site.signed_in("Ada Fern")
    site.hand_in(client, MISTAKEN)
    site.hand_in(client)
    site.work()
    page = client.get(f"/assignments/{site.assignment}").text
    assert "mistakes in the file" in page
    assert "90 of 100" in page
    assert "<strong>1st of 1</strong>" in page


def test_of_many_attempts_the_older_ones_are_folded_away(site: Site) -> None:
    client = site.signed_in("Ada Fern")
    for number in range(5):
        site.hand_in(client, b"%d" % number)
    page = client.get(f"/assignments/{site.assignment}").text
    assert "<summary>2 earlier attempts</summary>" in page
    assert page.index("Attempt 3<") < page.index("2 earlier attempts") < page.index("Attempt 2<")


def test_the_examples_of_the_help_page_are_files_that_the_reader_takes(site: Site) -> None:
    brief = library.brief("footbridge")
    yaml, csv = (read_truss(text.encode(), brief) for text in (examples.YAML, examples.CSV))
    assert (yaml.joints, yaml.members) == (csv.joints, csv.members)
    assert read_truss((examples.YAML + examples.WORKING).encode(), brief).working is not None
    page = site.visitor().get("/help/truss-file").text
    assert all(text.replace("'", "&#39;") in page for text in (examples.YAML, examples.CSV, examples.WORKING))


def test_a_title_that_a_teacher_gave_is_text_and_nothing_else(site: Site) -> None:
    with site.records.write() as session:
        session.get_one(Assignment, site.assignment).title = "</h1><script>x()</script>\u202e"
    page = site.signed_in("Ada Fern").get(f"/assignments/{site.assignment}").text
    assert "<script>x" not in page
    assert "<bdi>&lt;/h1&gt;&lt;script&gt;" in page
