"""The contest of a season over HTTP: entries, freeze, two stations, slips, complaints, the list, what is set as PDF."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from sqlalchemy import select

from service.contest.measuring import safety_list
from service.contest.rulebook import rules_of
from service.contest.standings import standings
from service.demo.season.truth import Truth
from service.demo.visitor import Refused, Visitor
from service.records.contest_models import LOAD_TEST, WEIGH_IN, Entry, Publication, RawReading, RulesVersion, Station
from service.records.engine import Records
from service.records.models import Submission

SLIPS, OUT, AWAY = 5, 2, 2
"""Typing slips, disqualifications, and how often the network goes away."""


@dataclass
class Table:
    """A station and the browser at it, which keeps what was typed until the service has taken it."""

    visitor: Visitor
    station: int
    kept: list[dict[str, str]] = field(default_factory=list)

    def type(self, key: str, number: int, value: float, **more: str) -> None:
        """Keep a reading in the browser."""
        self.kept.append({"key": key, "number": str(number), "value": f"{value:g}", **more})

    def send(self, twice: bool = False) -> None:
        """Send what is kept, in order, and all of it once more where an answer was lost on the way."""
        for reading in self.kept * (2 if twice else 1):
            status, said = self._post(reading)
            if status == 422 and said.get("ask"):  # asked about once: it is meant
                status, said = self._post({**reading, "sure": "yes"})
            if status != 200:
                raise Refused(f"number {reading['number']} was not kept: {said.get('said')}")
        self.kept = []

    def _post(self, reading: dict[str, str]) -> tuple[int, dict[str, object]]:
        return self.visitor.ask(f"/staff/stations/{self.station}/readings", reading)


@dataclass(frozen=True)
class Day:
    """Who plays it."""

    records: Records
    contest: int
    office: Visitor
    scale: Visitor
    rig: Visitor

    def enter(self, bridges: int) -> int:
        """Enter the best attempt of each pupil that may be entered, so many of them; how many there are."""
        with self.records.read() as session:
            query = select(Submission).where(Submission.on_board).order_by(Submission.efficiency.desc())
            best: dict[int, int] = {}
            for row in session.scalars(query):
                best.setdefault(row.student_id, row.id)
        for submission in sorted(best.values())[:bridges]:
            self.office.post(f"/attempts/{submission}/entry", {})
        self.office.post(f"/staff/contests/{self.contest}/freeze", {})
        self.office.post(f"/staff/contests/{self.contest}/order", {})
        return len(self.entries())

    def entries(self) -> list[Entry]:
        """All bridges in their running order."""
        with self.records.read() as session:
            return list(session.scalars(select(Entry).where(Entry.contest_id == self.contest).order_by(Entry.running)))

    def open(self) -> tuple[Table, Table]:
        """A weigh-in and, with the whole safety list confirmed, a load test."""
        with self.records.read() as session:
            version = session.scalars(select(RulesVersion).where(RulesVersion.contest_id == self.contest)).all()[-1]
        path = f"/staff/contests/{self.contest}/stations"
        self.scale.post(path, {"kind": WEIGH_IN, "name": "Scale"})
        self.rig.post(path, {"kind": LOAD_TEST, "name": "Rig"}, safe=safety_list(rules_of(version)))
        with self.records.read() as session:
            numbers = {row.kind: row.id for row in session.scalars(select(Station))}
        return Table(self.scale, numbers[WEIGH_IN]), Table(self.rig, numbers[LOAD_TEST])

    def test_all(self, found: Sequence[Truth], scale: Table, rig: Table) -> list[int]:
        """Every bridge to the scale and to the rig; the numbers whose mass was typed with its point slipped."""
        length = max(2, len(found) // 10)
        away = [range(start, start + length) for start in (len(found) // 4, 3 * len(found) // 5)][:AWAY]
        slips = [one.number for one in found[1 : 1 + SLIPS]]
        for place, one in enumerate(found):
            mass = one.mass_g * 10 if one.number in slips else one.mass_g
            scale.type(f"mass-{one.number:05}", one.number, round(mass, 1), check="The span is free")
            noted = {"unit": "kg", "broke": one.broke, "how": one.how, "where": "as in the brief"}
            rig.type(f"load-{one.number:05}", one.number, one.shown_kg, **noted)
            if not any(place in gap for gap in away):
                back = any(place == gap.stop for gap in away)
                scale.send(twice=back)
                rig.send(twice=back)
        scale.send()
        rig.send()
        return slips

    def mend(self, found: Sequence[Truth], slips: Sequence[int], scale: Table) -> None:
        """Take each slip back with its reason, and type the right mass."""
        for one in found:
            if one.number in slips:
                with self.records.read() as session:
                    query = select(RawReading.id).where(RawReading.key == f"mass-{one.number:05}")
                    reading = session.scalars(query).one()
                self.scale.post(f"/staff/readings/{reading}/undo", {"why": "The decimal point slipped."})
                scale.type(f"right-{one.number:05}", one.number, one.mass_g, check="The span is free")
        scale.send()

    def settle(self, out: Sequence[int], about: int) -> None:
        """Disqualifications, a protest and its answer, a second pair of eyes, and the list is public."""
        ids = {entry.number: entry.id for entry in self.entries()}
        for number in out:
            why = {"what": "disqualified", "why": "Metal in a joint."}
            self.office.post(f"/staff/entries/{ids[number]}/ruling", why)
        self.scale.post(f"/staff/entries/{ids[about]}/protest", {"text": "It was loaded too fast."})
        self.office.post("/staff/protests/1", {"answer": "The film shows 12 s of slow loading. The result stands."})
        with self.records.read() as session:
            unconfirmed = sorted(standings(session, self.contest).unconfirmed)
        for number in unconfirmed:
            self.office.post(f"/staff/entries/{ids[number]}/confirm", {})
        self.office.post(f"/staff/contests/{self.contest}/publish", {})

    def published(self) -> Publication:
        """The list as it went out.

        Raises
        ------
        Refused
            It did not.
        """
        with self.records.read() as session:
            found = session.scalars(select(Publication).where(Publication.contest_id == self.contest)).first()
        if found is None:
            raise Refused("the list was not published")
        return found
