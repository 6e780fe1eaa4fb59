"""What a teacher and a second one do with a class full of work, step by step, and the pages they read meanwhile."""

from __future__ import annotations

from collections.abc import Iterator
from io import BytesIO
from typing import Any

from flask.testing import FlaskClient
from werkzeug.datastructures import FileStorage
from werkzeug.test import TestResponse

from rubric import library
from rubric.language import Language
from service.records.models import Job, Notice, Person, SchoolClass
from tests.service.classes.test_alike import NUDGED, OWN
from tests.service.classes.test_bundle import zipped
from tests.service.site import GIRDER, HEAVY_GIRDER, MECHANISM, MISTAKEN, TOO_DEEP, Site, post, token

ADA, BEN, TESS, OWEN = "Ada Fern", "Ben Holt", "Tess Birch", "Owen Reed"
BRIEF, RUBRIC = library.brief_text("footbridge").decode(), library.rubric_text("footbridge").decode()
HARDER = RUBRIC.replace("earns: {100: 0, 600: 25}", "earns: {400: 0, 4000: 25}")
NARROW = BRIEF.replace("span: 600 mm", "span: 590 mm")
HELD = RUBRIC.replace("title:", "release: by hand\ntitle:", 1)


def pages(site: Site, language: Language) -> Iterator[tuple[str, str]]:
    """Every step's address with the page it ends on, staff, class and sheets in ``language``."""
    _speak(site, language)
    ada, ben, tess, owen = (site.signed_in(name) for name in (ADA, BEN, TESS, OWEN))
    works = [site.hand_in(ada, text) for text in (MECHANISM, MISTAKEN, TOO_DEEP, OWN)] + [site.hand_in(ben, NUDGED)]
    desk, pupil = f"/staff/assignments/{site.assignment}", f"/staff/students/{site.ids[ADA]}"
    with_own = f"{desk}/students/{site.ids[ADA]}/hand-in"
    yield from _seen(site, tess, "/staff", desk, f"{desk}/insight", f"{desk}/release", f"{desk}/second", "/second")
    site.work()
    _notice(site, works[0])
    yield from _seen(site, tess, f"{desk}?name=zzz&state=failed", f"{desk}?name=a", f"{desk}?state=marked", with_own)
    yield from _asked(site, tess, works[3], desk)
    yield from _changed(site, tess, works[3], desk)
    yield from _second(site, tess, owen, works[3], desk)
    yield from _dates(site, tess, desk)
    yield from _versions(site, tess, desk)
    yield from _written(site, tess, desk)
    yield from _in_zips(site, tess, desk)
    yield from _handed_in_for(site, tess, with_own)
    everything = ("", "/marks", "/release", "/second", "/insight", "/alike", "/versions", "/writing", "/dates", "/copy")
    yield from _seen(site, tess, *(f"{desk}{one}" for one in everything), pupil, "/staff/classes/1", "/staff")
    yield from _seen(site, tess, *(f"/attempts/{one}" for one in works), f"/attempts/{works[3]}/beside")
    yield from _class_list(site, ada, tess)


def _speak(site: Site, language: Language) -> None:
    with site.records.write() as session:
        for one in [*session.query(SchoolClass), *session.query(Person)]:
            one.language = language


def _notice(site: Site, submission: int) -> None:
    with site.records.write() as session:
        session.add(Notice(class_id=1, submission_id=submission, text="look at this"))


def _seen(site: Site, client: FlaskClient, *addresses: str) -> Iterator[tuple[str, str]]:
    for address in addresses:
        yield address, client.get(address).text


def _sent(client: FlaskClient, address: str, **fields: Any) -> tuple[str, str]:
    """A form sent, and the page that follows."""
    answer: TestResponse = post(client, address, **fields)
    if answer.location:
        answer = client.get(answer.location)
    return f"POST {address} {fields.get('do', '')}".strip(), answer.text


def _asked(site: Site, tess: FlaskClient, work: int, desk: str) -> Iterator[tuple[str, str]]:
    """Marks given, refused, corrected, held and released."""
    attempt = f"/attempts/{work}"
    yield _sent(tess, f"{attempt}/judgement", **{"comment-4": "Neat."})
    yield _sent(tess, f"{attempt}/judgement", **{"points-4": "4", "comment-4": "x" * 700})
    yield _sent(tess, f"{attempt}/judgement", **{"points-4": "88"})
    yield _sent(tess, f"{attempt}/judgement", **{"points-4": "7.25", "comment-4": "Neat."})
    for fields in (
        {"points-1": "3"}, {"why-1": "so"}, {"points-1": "x", "why-1": "so"}, {"comment": "x" * 700},
        {"points-1": "3", "why-1": "x" * 700}, {"comment-1": "x" * 700}, {"points-1": "21.25", "why-1": "Measured."},
        {}, {"points-1": "", "comment-1": "Bold."}, {"points-1": "", "why-1": "Rightly so."},
    ):  # fmt: skip
        yield _sent(tess, f"{attempt}/corrections", **fields)
    yield from _seen(site, tess, f"{attempt}/corrections")
    yield _sent(tess, f"{attempt}/again")


def _changed(site: Site, tess: FlaskClient, work: int, desk: str) -> Iterator[tuple[str, str]]:
    yield _sent(tess, f"{desk}/release", do="hold")
    yield _sent(tess, f"{desk}/release", do="hold", attempt=str(work), why="I measure it.")
    yield _sent(tess, f"{desk}/release", do="hold", attempt=str(work))
    yield from _seen(site, tess, f"/attempts/{work}", f"{desk}/marks", f"/attempts/{work}/corrections")
    yield _sent(tess, f"{desk}/release", do="release", which="all")
    yield _sent(tess, f"{desk}/release", do="release", which="all")
    yield _sent(tess, f"{desk}/release/setting", release="by hand")
    yield _sent(tess, f"{desk}/release/setting", release="at once")
    site.work()
    yield _sent(tess, f"{desk}/alike")
    yield from _seen(site, tess, f"{desk}/alike")
    site.work()
    yield from _seen(site, tess, f"{desk}/alike")
    yield _sent(tess, "/notices/1/settle")


def _second(site: Site, tess: FlaskClient, owen: FlaskClient, work: int, desk: str) -> Iterator[tuple[str, str]]:
    marker = str(site.ids[OWEN])
    yield from _seen(site, owen, "/second")
    yield _sent(tess, f"{desk}/second", marker=marker)
    yield _sent(tess, f"{desk}/second", marker="x", attempt=str(work))
    yield _sent(tess, f"{desk}/second", marker=marker, sample="5")
    yield _sent(tess, f"{desk}/second", marker=marker, attempt=str(work))
    yield from _seen(site, owen, "/staff", "/second", "/second/1")
    yield from _seen(site, tess, "/second/1/settle")
    for number in (1, 2):
        yield _sent(owen, f"/second/{number}", **{"comment-4": ""})
        yield _sent(owen, f"/second/{number}", **{"points-4": "4", "comment-4": "No reason."})
    yield _sent(owen, "/second/1", **{"points-4": "4"})
    yield _sent(tess, "/second/1/withdraw")
    yield from _seen(site, owen, "/second", "/second/1", "/second/2")
    for number in (1, 2):
        yield from _seen(site, tess, f"/second/{number}/settle")
    for fields in (
        {},
        {"points-4": "5"},
        {"points-4": "5", "why-4": "x" * 700},
        {"points-4": "5", "why-4": "Between."},
    ):
        for number in (1, 2):
            yield _sent(tess, f"/second/{number}/settle", **fields)
    yield from _seen(site, tess, f"{desk}/second")
    site.work()


def _dates(site: Site, tess: FlaskClient, desk: str) -> Iterator[tuple[str, str]]:
    ada = str(site.ids[ADA])
    for opens, due in (
        ("x", ""),
        ("2026-03-29T01:30", ""),
        ("", "2026-10-25T01:30"),
        ("2027-03-02T10:00", "2027-03-01T10:00"),
    ):
        yield _sent(tess, f"{desk}/dates", opens=opens, due=due)
    yield _sent(tess, f"{desk}/extensions", student=ada, **{"own-due": "2027-03-01T10:00"})
    yield _sent(tess, f"{desk}/dates", opens="2020-03-01T10:00", due="2021-03-01T10:00")
    for fields in ({}, {"student": ada}, {"student": ada, "own-due": "2020-01-01T10:00"},
                   {"student": ada, "own-due": "2090-01-01T10:00", "why": "x" * 400},
                   {"student": ada, "own-due": "2090-01-01T10:00", "why": "Ill."}):  # fmt: skip
        yield _sent(tess, f"{desk}/extensions", **fields)
    yield from _seen(site, tess, f"{desk}/dates", f"/staff/students/{ada}")
    yield _sent(tess, f"{desk}/extensions", student=ada, do="take")
    yield _sent(tess, f"{desk}/extra-attempts", student=ada, more="1")
    site.ask(attempts={"most": 5, "counts": "best"})
    for fields in ({}, {"student": ada}, {"student": ada, "more": "99"}, {"student": ada, "more": "1", "why": "x" * 400},
                   {"student": ada, "more": "2"}):  # fmt: skip
        yield _sent(tess, f"{desk}/extra-attempts", **fields)
    yield from _seen(site, tess, f"{desk}/dates", f"/staff/students/{ada}")
    yield _sent(tess, f"{desk}/extra-attempts", student=ada, do="take")
    site.work()


def _versions(site: Site, tess: FlaskClient, desk: str) -> Iterator[tuple[str, str]]:
    yield _sent(tess, f"{desk}/undo", why="so")
    for number, (brief, rubric) in enumerate(((BRIEF, HARDER), (NARROW, HARDER)), start=1):
        answer = post(tess, f"{desk}/writing", brief=brief, rubric=rubric, do="try")
        trial = answer.location
        yield from _seen(site, tess, trial)
        for do, why in (("x", ""), ("save", ""), ("save", "x" * 700), ("again", "so"), ("both", "It was too easy.")):
            yield _sent(tess, f"{trial}/save", do=do, why=why)
        site.work()
        yield from _seen(site, tess, trial)
        for do in ("both", "again", "again", "save"):
            yield _sent(tess, f"{trial}/save", do=do, why=f"It was too easy, {number}.")
        site.work()
        yield from _seen(site, tess, trial, f"{desk}/versions", desk)
    answer = post(tess, "/staff/versions/1/trial")
    site.work()
    yield from _seen(site, tess, answer.location)
    yield _sent(tess, f"{desk}/undo", why="")
    yield _sent(tess, f"{desk}/undo", why="so", trial="99")
    yield _sent(tess, f"{desk}/undo", why="It was right before.")
    yield from _seen(site, tess, answer.location)
    site.work()


def _written(site: Site, tess: FlaskClient, desk: str) -> Iterator[tuple[str, str]]:
    wrong = {"brief": BRIEF.replace("span:", "spam:"), "rubric": RUBRIC.replace("kind: scale", "kind: scales")}
    right = {"brief": BRIEF, "rubric": RUBRIC}
    late = {"brief": BRIEF, "rubric": HELD.replace("out of: 100\n", "lateness: {per day: 10 %, most: 50 %}\n")}
    for fields in (wrong | {"do": "check"}, late | {"do": "check"}, {"do": "start", "brief-from": "own"}):
        yield _sent(tess, f"{desk}/writing", **fields)
    yield _sent(tess, "/staff/writing/check", **wrong)
    yield _sent(tess, "/staff/writing/check", **late)
    begin = "/staff/classes/1/set"
    yield from _seen(site, tess, begin, f"{begin}?from={site.assignment}")
    late |= {"opens": "2027-03-01T10:00", "due": "2027-03-09T10:00"}
    for fields in (wrong | {"do": "set"}, right | {"do": "check"}, right | {"do": "look"}, late | {"do": "look"},
                   right | {"do": "start", "brief-from": "ready/footbridge"},
                   right | {"do": "set", "due": "x"}, right | {"do": "set", "new_contest": "Spring bridges"},
                   right | {"do": "set", "title": "Weir", "new_contest": "Weirs"}):  # fmt: skip
        yield _sent(tess, begin, **fields)
    site.work()


def _in_zips(site: Site, tess: FlaskClient, desk: str) -> Iterator[tuple[str, str]]:
    many = {f"{number}.yaml": b"x" for number in range(401)}
    some = {"Ada Fern.yaml": HEAVY_GIRDER, "Ben Holt.yaml": b" ", "Ben Holt 2.yaml": b"x" * 70_000, "Zoe.yaml": GIRDER,
            ".DS_Store": b"x", "Ada Fern/Ben Holt.yaml": NUDGED, "Ada Fern Ben Holt.yaml": GIRDER}  # fmt: skip
    twice = {"Ada Fern.yaml": GIRDER, "Ada Fern 2.yaml": HEAVY_GIRDER}
    large = {f"Ben Holt {number}.yaml": b"x" * 60_000 for number in range(80)}
    yield _sent(tess, f"{desk}/bundle")
    yield from _seen(site, tess, f"{desk}/bundle")
    for data in (b"no zip", zipped(many), zipped(large), zipped(twice), zipped({"Zoe.yaml": GIRDER}), zipped(some)):
        yield _sent(tess, f"{desk}/bundle", file=FileStorage(BytesIO(data), "all.zip"))
    page = tess.post(f"{desk}/bundle", data={"csrf_token": token(tess), "file": (BytesIO(zipped(some)), "a.zip")}).text
    files, shown = _between(page, '<textarea name="files" hidden>', "<"), _between(page, 'name="shown" value="', '"')
    yield _sent(tess, f"{desk}/bundle/take", files="x", shown=shown)
    yield _sent(tess, f"{desk}/bundle/take", files=files, shown="x")
    yield _sent(tess, f"{desk}/bundle/take", files=files, shown=shown)
    yield _sent(tess, f"{desk}/bundle/take", files=files, shown=shown)


def _handed_in_for(site: Site, tess: FlaskClient, address: str) -> Iterator[tuple[str, str]]:
    yield _sent(tess, address, text="")
    yield _sent(tess, address, text=HEAVY_GIRDER.decode() + "# of hers")
    with site.records.write() as session:
        failed = session.query(Job).order_by(Job.id.desc()).first()
        assert failed is not None
        number = failed.subject_id
        failed.state = "failed"
    yield from _seen(site, tess, f"/attempts/{number}")
    yield _sent(tess, f"/attempts/{number}/again")


def _class_list(site: Site, ada: FlaskClient, tess: FlaskClient) -> Iterator[tuple[str, str]]:
    pupil, address = site.ids[ADA], "/staff/classes/1"
    post(ada, "/alias", alias="brave otter", do="ask", own="zebra zoom")
    yield from _seen(site, tess, address)
    for do in ("allow", "another", "refuse"):
        yield _sent(tess, f"/staff/students/{pupil}/alias", do=do, alias="zebra zoom", why="No.")
    yield _sent(tess, f"/staff/students/{pupil}/leave")
    yield from _seen(site, tess, f"/staff/students/{pupil}", address)
    yield _sent(tess, f"{address}/archive", do="away")
    yield from _seen(site, tess, address, "/staff")


def _between(text: str, start: str, end: str) -> str:
    return text.partition(start)[2].partition(end)[0]
