"""``kingpost demo --season``: everything from the first hand-in to the certificates, with a table of what it took."""

from __future__ import annotations

import resource
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from subprocess import Popen

from sqlalchemy import select

from rubric import library
from service.classes.setting import add_contest, set_assignment
from service.commands.starting import CannotStart, opened_records
from service.contest import rulebook
from service.contest.recomputing import differences
from service.demo import filling
from service.demo.season.day import OUT, Day
from service.demo.season.papers import AWARDS, save_classes, save_contest
from service.demo.season.school import CONTEST, SCHOOL, STAFF, Size, attempts, classes
from service.demo.season.truth import RULES, Truth, official, truth, with_ties
from service.demo.serving import Memory, serving, wait_for
from service.demo.visitor import Refused, Visitor
from service.people.enrol import SignIn, add_class, add_staff, set_school
from service.records.contest_models import ContestPrint
from service.records.engine import Records
from service.records.models import COORDINATOR, TEACHER, Assignment, Contest, Job, SchoolClass
from service.sending import Sending
from service.settings import Settings

PATIENCE_S = 900
"""How long the season waits while not one mark or sheet more comes: a busy machine may be slow and still gets there."""

BROWSERS = 4
"""Pupils who hand in at the same time."""


@dataclass
class Clock:
    """How long each part of the season took, s."""

    rows: list[tuple[str, float]] = field(default_factory=list)

    @contextmanager
    def measured(self, what: str) -> Iterator[None]:
        """Note how long something took, and say so."""
        began = time.monotonic()
        yield
        self.rows.append((what, time.monotonic() - began))
        _say(f"{what}: {self.rows[-1][1]:.1f} s")


def show(settings: Settings, out: Path, size: Size | None = None) -> None:
    """Play the season on the real service and print the table.

    Raises
    ------
    CannotStart
        Something was not taken, or the official list is not the one that was worked out apart.
    """
    size, clock, memory = size or Size(), Clock(), Memory()
    records = opened_records(settings)
    site = f"http://127.0.0.1:{settings.port}"
    try:
        with clock.measured("school, classes and rules made"):
            known, jobs = make_school(records, size)
        for job in jobs:
            Sending(records, settings.broker).send(job)
        with serving(settings, "--parts", "web,recorder") as server:  # the workers begin when all is there
            wait_for(site, server)
            with memory.watched(server.pid), clock.measured("all files handed in, workers asleep"):
                hand_all_in(site, records, known, size)
        used = processor_s()
        with (
            serving(settings, "--parts", "web,recorder,sweep,marking") as server,
            memory.watched(server.pid),
            clock.measured("all files marked, workers started from cold"),
        ):
            _wait(server, records, lambda: (p := filling.progress(records)).marked == p.of, "marks")
        clock.rows.append(("  processor time of that, all processes", processor_s() - used))
        with serving(settings) as server, memory.watched(server.pid):
            wait_for(site, server)
            checked = _contest([staff(site, known, name) for name in STAFF], records, size, clock, server, out)
    except Refused as refused:
        raise CannotStart(f"the service did not take a step of the season: {refused}") from None
    print(table(clock, memory, checked), flush=True)  # noqa: T201
    _say(f"Everything printed is in {out}")


def _contest(
    visitors: Sequence[Visitor], records: Records, size: Size, clock: Clock, server: Popen[bytes], out: Path
) -> list[tuple[str, str]]:
    office, scale, rig = visitors
    with records.read() as session:
        contest = session.scalars(select(Contest.id)).one()
    day = Day(records, contest, office, scale, rig)
    with clock.measured("bridges entered, locked and put in order"):
        entered = day.enter(size.bridges)
    with clock.measured("the day: two stations, network away twice"):
        found, tied, out_of_it = play(day)
    checked = check(records, day, found, tied, out_of_it)
    with clock.measured("certificates and booklet set, and all sheets before them"):
        for what in AWARDS:
            office.post(f"/staff/contests/{contest}/awards", {"what": what})
        _wait(server, records, lambda: all_set(records), "certificates and booklet")
        _wait(server, records, lambda: (p := filling.progress(records)).printed == p.of, "sheets")
    with clock.measured("everything saved"):
        papers = save_contest(office, contest, out) + save_classes(office, records, out)
    handed_in = str(filling.progress(records).of)
    return [("hand-ins", handed_in), ("bridges entered", str(entered)), *checked, ("papers saved", str(len(papers)))]


def make_school(records: Records, size: Size) -> tuple[list[SignIn], list[Job]]:
    """Classes, staff, work set and the contest's rules; sign-ins and the jobs of drawing the briefs."""
    with records.write() as session:
        set_school(session, SCHOOL, "Europe/Lisbon")
        contest = add_contest(session, CONTEST)
        known, jobs = [], []
        for one in classes(size):
            known += add_class(session, one.code, one.code, one.pupils)
            brief, rubric = library.brief_text(one.ready), library.rubric_text(one.ready)
            jobs.append(set_assignment(session, one.code, brief, rubric, contest=CONTEST)[1])
        known.append(add_staff(session, COORDINATOR, STAFF[0]))
        codes = [one.code for one in classes(size)]
        known += [add_staff(session, TEACHER, name, codes) for name in STAFF[1:]]
        rulebook.save(session, contest, RULES.format(title=CONTEST, day=date.today()), "", None)
    return known, jobs


def hand_all_in(site: str, records: Records, known: Sequence[SignIn], size: Size) -> None:
    """Every pupil signs in and hands in each attempt, a few of them at the same time."""
    secrets = {(row.class_code, row.name): row.secret for row in known}
    with records.read() as session:
        query = select(SchoolClass.code, Assignment.id).join(Assignment, Assignment.class_id == SchoolClass.id)
        work = {code: f"/assignments/{number}" for code, number in session.execute(query)}
    todo = [(one, pupil) for one in classes(size) for pupil in one.pupils]

    def hand_in(number: int) -> None:
        one, pupil = todo[number]
        visitor = Visitor(site)
        visitor.sign_in(one.code, secrets[one.code, pupil])
        for name, data in attempts(size, one, pupil):
            visitor.upload(f"{work[one.code]}/attempts", work[one.code], name, data, follow=False)

    with ThreadPoolExecutor(BROWSERS) as pool:
        list(pool.map(hand_in, range(len(todo))))


def staff(site: str, known: Sequence[SignIn], name: str) -> Visitor:
    """One of the staff, signed in."""
    visitor = Visitor(site)
    visitor.sign_in_staff(name, next(row.secret for row in known if row.name == name))
    visitor.token("/staff")
    return visitor


def play(day: Day) -> tuple[list[Truth], list[tuple[int, int]], list[int]]:
    """The day; what the instruments showed, the ties in it, and who was disqualified."""
    entries = day.entries()
    lower = {entry.id: entry.division == "Lower" for entry in entries}
    real = [truth(entry.number, lower[entry.id], entry.predicted) for entry in entries]
    found, tied = with_ties(real, 3)
    scale, rig = day.open()
    slips = day.test_all(found, scale, rig)
    day.mend(found, slips, scale)
    free = [one.number for one in found if not any(one.number in pair for pair in tied)]
    out_of_it = free[:OUT]
    day.settle(out_of_it, free[OUT])
    return found, tied, out_of_it


def check(
    records: Records, day: Day, found: Sequence[Truth], tied: Sequence[tuple[int, int]], out: Sequence[int]
) -> list[tuple[str, str]]:
    """Hold the published list against the one worked out apart, and against its own raw readings.

    Raises
    ------
    Refused
        They differ.
    """
    public, expected = day.published(), official(found, out)
    places = {line["number"]: line["place"] for line in public.lines if line["place"]}
    if places != expected:
        wrong = sorted(n for n in places.keys() | expected.keys() if places.get(n) != expected.get(n))
        raise Refused(f"the official list differs from the one worked out apart at numbers {wrong}")
    with records.read() as session:
        again = differences(session, public)
    if again:
        raise Refused(f"{len(again)} figures do not come out again from raw readings")
    parted = {line["number"] for line in public.lines if line["decided by"]}
    return [
        ("ties decided by the rules", str(sum(set(pair) <= parted for pair in tied))),
        ("places that equal the list worked out apart", f"{len(places)} of {len(expected)}"),
        ("figures that differ from raw readings", str(len(again))),
    ]


def all_set(records: Records) -> bool:
    """Whether certificates and booklet are there."""
    with records.read() as session:
        return all(row.printed_at for row in session.scalars(select(ContestPrint)))


def table(clock: Clock, memory: Memory, checked: Sequence[tuple[str, str]]) -> str:
    """What the season took, line by line."""
    rows = [*checked, *((what, f"{seconds:.1f} s") for what, seconds in clock.rows)]
    rows += [
        ("the whole season", f"{sum(seconds for what, seconds in clock.rows if what[0] != ' '):.1f} s"),
        ("most memory of all processes together", f"{memory.peak_MB:.0f} MB"),
    ]
    wide = max(len(what) for what, _ in rows)
    return "\n".join(f"{what.ljust(wide)}  {value}" for what, value in rows)


def processor_s() -> float:
    """Processor time of all processes that were begun here and are over, s."""
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def _wait(server: Popen[bytes], records: Records, done: Callable[[], bool], what: str) -> None:
    last, deadline = None, 0.0
    while not done():
        if (now_at := filling.progress(records)) != last:
            last, deadline = now_at, time.monotonic() + PATIENCE_S
        if server.poll() is not None or time.monotonic() > deadline:
            raise CannotStart(f"the season waited in vain for {what}; serve.log in its folder says why")
        time.sleep(0.25)


def _say(text: str) -> None:
    print(text, file=sys.stderr, flush=True)  # noqa: T201
