"""Taking the alias of a pupil who is deleted out of contest lists that were published; the figures stay.

A list was public as it stood, so its places stay as they were.  Who stood there is told no more.
"""

from __future__ import annotations

from collections.abc import Collection

from sqlalchemy import delete, insert, select, update
from sqlalchemy.orm import Session

from service.records.acts import UnderDeletion
from service.records.contest_models import Entry, Publication, SchoolRecord
from service.records.models import Person

WITHDRAWN = "withdrawn"
"""What stands in place of an alias."""


def withdraw_from_lists(session: Session, entry_ids: Collection[int]) -> None:
    """Put :data:`WITHDRAWN` in place of the aliases of these entries, in lists, their notices and records."""
    by_contest: dict[int, dict[int, str]] = {}
    chosen = select(Entry.contest_id, Entry.number, Person.alias).join(Person, Person.id == Entry.student_id)
    for contest_id, number, alias in session.execute(chosen.where(Entry.id.in_(entry_ids))):
        by_contest.setdefault(contest_id, {})[number] = alias or ""
    for contest_id, numbers in by_contest.items():
        aliases = {alias for alias in numbers.values() if alias}
        for kept in session.scalars(select(Publication).where(Publication.contest_id == contest_id)):
            aliases |= {line["alias"] for line in kept.lines if line["number"] in numbers and line["alias"]}
            _rewrite(session, kept, set(numbers), aliases)
        own = (SchoolRecord.contest_id == contest_id) & SchoolRecord.alias.in_(aliases - {WITHDRAWN})
        session.execute(update(SchoolRecord).where(own).values(alias=WITHDRAWN))


def _rewrite(session: Session, kept: Publication, numbers: set[int], aliases: set[str]) -> None:
    lines = [line | {"alias": WITHDRAWN} if line["number"] in numbers else line for line in kept.lines]
    notice = kept.notice
    for alias in aliases:
        notice = notice.replace(alias, WITHDRAWN)
    if (lines, notice) == (kept.lines, kept.notice):
        return
    session.execute(insert(UnderDeletion).values(table_name=Publication.__tablename__, row_id=kept.id))
    session.execute(update(Publication).where(Publication.id == kept.id).values(lines=lines, notice=notice))
    session.execute(delete(UnderDeletion))
