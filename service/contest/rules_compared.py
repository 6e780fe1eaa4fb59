"""What new rules would change, before they are saved: sentence by sentence, and place by place.  Nothing is written."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sqlalchemy.orm import Session

from rubric.contest.official import Result, official
from rubric.contest.rules import ContestRules
from rubric.wording import figure, listed, plural
from service.contest import rulebook
from service.contest.entering import entered
from service.contest.measuring import readings_of
from service.contest.standings import bridges

MOST_MOVES = 30
"""Bridges that a preview lists."""


@dataclass(frozen=True)
class Move:
    """A bridge that would stand elsewhere."""

    number: int
    alias: str
    before: str
    after: str


@dataclass(frozen=True)
class Change:
    """What is said no more, what is said anew, and who would stand elsewhere."""

    gone: tuple[str, ...] = ()
    new: tuple[str, ...] = ()
    moves: tuple[Move, ...] = ()
    stranded: str = ""
    """Entries in divisions that there would be no more."""

    @property
    def nothing(self) -> bool:
        """Whether the rules mean the same."""
        return not (self.gone or self.new or self.moves or self.stranded)


def compared(session: Session, contest_id: int, new: ContestRules) -> Change | None:
    """Set rules that were typed beside those in force; None where there are none yet."""
    version = rulebook.newest(session, contest_id)
    if version is None:
        return None
    old = rulebook.rules_of(version)
    before, after = in_words(old), in_words(new)
    entries = entered(session, contest_id)
    rows = readings_of(session, [entry.id for entry in entries])
    seen = bridges(session, contest_id, entries, rows)
    names = {division.name for division in new.divisions}
    lost = [entry.number for entry in entries if entry.division not in names]
    return Change(
        tuple(line for line in before if line not in after),
        tuple(line for line in after if line not in before),
        tuple(_moves(official(old, seen), official(new, seen))),
        f"{plural(len(lost), 'entry', 'entries')} would stand in a division that is gone: "
        f"number {listed([str(number) for number in lost[:MOST_MOVES]])}. Enter them anew."
        if lost
        else "",
    )


def in_words(rules: ContestRules) -> list[str]:
    """All that the rules say, in sentences."""
    said = [f"It is called {rules.title}."]
    named = {
        "opens": "Entries open",
        "freeze": "Entries are locked",
        "day": "Tests begin",
        "publish": "The list is out",
    }
    for key, words in named.items():
        moment = getattr(rules.dates, key)
        said += [f"{words}: {moment:%d.%m.%Y, %H:%M}."] if moment else []
    for one in rules.divisions:
        who = f"ages {one.ages}" if one.ages else f"classes {listed(list(one.classes))}" if one.classes else "free"
        said.append(f"Division {one.name}: {who}.")
    said += rules.said
    said += [f"Checked at the weigh-in: {check}." for check in rules.weigh_in.checks]
    said.append(
        f"A mass that is {figure(100 * rules.weigh_in.differs)} % off the prediction is asked about at the weigh-in."
    )
    rig = rules.rig
    said.append(
        f"The rig: {rig.name}, shows {rig.unit}, {figure(rig.tare)} {rig.unit} with nothing on the bridge, "
        f"{figure(rig.gear_g)} g of gear not shown."
    )
    if rig.points:
        line = rig.line
        points = f"The rig has {plural(len(rig.points), 'calibration point')} of {rig.calibrated:%d.%m.%Y}"
        said.append(f"{points}: true value = {figure(line.start)} + {figure(line.slope)} x reading less tare.")
    return said


def _moves(old: list[Result], new: list[Result]) -> Iterator[Move]:
    after = {result.bridge.number: result for result in new}
    for one in old:
        other = after[one.bridge.number]
        before, then = _stands(one), _stands(other)
        if before != then:
            yield Move(one.bridge.number, one.bridge.alias, before, then)


def _stands(result: Result) -> str:
    """``place 3, counts 412.5``, or why it is not ranked."""
    if result.place is None or result.score is None:
        return result.why_not
    return f"place {result.place}, counts {result.score:.1f}"
