"""What new rules would change, before they are saved: sentence by sentence, and place by place.  Nothing is written."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sqlalchemy.orm import Session

from rubric.contest.official import Result, official
from rubric.contest.rules import ContestRules, Division
from rubric.language import _, counted
from rubric.wording import figure, listed, localised
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
        counted(
            "{count} entry would stand in a division that is gone: number {numbers}. Enter them anew.",
            "{count} entries would stand in a division that is gone: number {numbers}. Enter them anew.",
            len(lost),
            numbers=listed([str(number) for number in lost[:MOST_MOVES]]),
        )
        if lost
        else "",
    )


def in_words(rules: ContestRules) -> list[str]:
    """All that the rules say, in sentences."""
    said = [_("It is called {title}.", title=rules.title)]
    named = {
        "opens": _("Entries open: {when}."),
        "freeze": _("Entries are locked: {when}."),
        "day": _("Tests begin: {when}."),
        "publish": _("The list is out: {when}."),
    }
    for key, words in named.items():
        moment = getattr(rules.dates, key)
        said += [words.format(when=f"{moment:%d.%m.%Y, %H:%M}")] if moment else []
    for one in rules.divisions:
        said.append(_("Division {division}: {who}.", division=one.name, who=_who(one)))
    said += rules.said
    said += [_("Checked at the weigh-in: {check}.", check=check) for check in rules.weigh_in.checks]
    said.append(
        _(
            "A mass that is {part} % off the prediction is asked about at the weigh-in.",
            part=figure(100 * rules.weigh_in.differs),
        )
    )
    rig = rules.rig
    said.append(
        _(
            "The rig: {rig}, shows {unit}, {tare} {unit} with nothing on the bridge, {gear} g of gear not shown.",
            rig=_(rig.name),
            unit=rig.unit,
            tare=figure(rig.tare),
            gear=figure(rig.gear_g),
        )
    )
    if rig.points:
        line = rig.line
        said.append(
            counted(
                "The rig has {count} calibration point of {day}: true value = {start} + {slope} x reading less tare.",
                "The rig has {count} calibration points of {day}: true value = {start} + {slope} x reading less tare.",
                len(rig.points),
                day=f"{rig.calibrated:%d.%m.%Y}",
                start=figure(line.start),
                slope=figure(line.slope),
            )
        )
    return said


def _who(division: Division) -> str:
    """Who is in a division."""
    if division.ages:
        return _("ages {ages}", ages=division.ages)
    if division.classes:
        return _("classes {classes}", classes=listed(list(division.classes)))
    return _("free")


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
    return _("place {place}, counts {score}", place=result.place, score=localised(f"{result.score:.1f}"))
