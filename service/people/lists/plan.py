"""A list beside the students who are here: what bringing it in would change.  Pure; nothing is written."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from service.people.lists.pupils import Pupil


@dataclass(frozen=True)
class Known:
    """A student who is here: ``number`` is the school's own, ``gone`` whether he has left the class."""

    id: int
    name: str
    number: str = ""
    gone: bool = False


@dataclass(frozen=True)
class Plan:
    """Who is new, who is here already, who is spelt anew, who comes back, and who is not on the list any more."""

    new: tuple[Pupil, ...] = ()
    same: tuple[Known, ...] = ()
    renamed: tuple[tuple[Known, Pupil], ...] = ()
    numbered: tuple[tuple[Known, Pupil], ...] = ()
    """Here by name, without a number so far."""
    back: tuple[tuple[Known, Pupil], ...] = ()
    leavers: tuple[Known, ...] = ()

    @property
    def changes(self) -> int:
        """How many rows would be written."""
        return sum(map(len, (self.new, self.renamed, self.numbered, self.back, self.leavers)))


def plan(listed: Sequence[Pupil], here: Sequence[Known]) -> Plan:
    """Lay one class of a list beside its students.

    A pupil is found again by number, else by name, whatever its capitals and accents are; nobody is
    found twice, so that the same list brought in again changes nothing.
    """
    left = {known.id: known for known in here}
    pairs: list[tuple[Known, Pupil]] = []
    new: list[Pupil] = []
    for pupil, known in _matched(listed, left):
        if known is None:
            new.append(pupil)
        else:
            pairs.append((known, pupil))
    return Plan(
        new=tuple(new),
        same=tuple(known for known, pupil in pairs if not known.gone and _alike(known, pupil)),
        renamed=tuple(pair for pair in pairs if not pair[0].gone and pair[0].name != pair[1].name),
        numbered=tuple(
            (known, pupil)
            for known, pupil in pairs
            if not known.gone and known.name == pupil.name and pupil.number and known.number != pupil.number
        ),
        back=tuple(pair for pair in pairs if pair[0].gone),
        leavers=tuple(known for known in left.values() if not known.gone),
    )


def _matched(listed: Sequence[Pupil], left: dict[int, Known]) -> list[tuple[Pupil, Known | None]]:
    """Each pupil with whoever it is; ``left`` keeps those who were not found."""
    found: dict[int, Known] = {}
    for by in (_number, _name):
        index = {by(known): known for known in reversed(left.values()) if by(known)}
        for place, pupil in enumerate(listed):
            known = index.pop(by(pupil), None) if place not in found else None
            if known is not None and known.id in left and _may_be(known, pupil):
                found[place] = left.pop(known.id)
    return [(pupil, found.get(place)) for place, pupil in enumerate(listed)]


def _may_be(known: Known, pupil: Pupil) -> bool:
    """Two numbers that differ are two people, however alike their names are."""
    return not (known.number and pupil.number and known.number != pupil.number)


def _number(person: Known | Pupil) -> str:
    return person.number


def _name(person: Known | Pupil) -> str:
    return " ".join(person.name.casefold().split())


def _alike(known: Known, pupil: Pupil) -> bool:
    return known.name == pupil.name and (not pupil.number or known.number == pupil.number)
