"""A key that a program chose for what it does: the same request under the same key does nothing more.

What was done is kept under its key in the same commit, so that a request that was lost on the way may be sent again.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from typing import Literal

from flask import request
from sqlalchemy import select
from sqlalchemy.orm import Session

from service.api.asking import key_wanted, token
from service.api.problems import Refusal
from service.records.token_models import KeyedDoing, Token

Made = Literal["submission_id", "assignment_id", "trial_id", "protest_id"]
"""What a keyed request makes, by its column."""


@dataclass(frozen=True)
class Key:
    """The key of one request and what it stands for."""

    made: Made
    text: str
    body_sha256: str

    def done(self, session: Session) -> int | None:
        """The number of what was made under it before; None: it is new.

        Raises
        ------
        Refusal
            It stands for something else.
        """
        # Two requests under one key take turns, on PostgreSQL too.
        session.scalars(select(Token.id).where(Token.id == token().id).with_for_update()).one()
        wanted = select(KeyedDoing).where(KeyedDoing.token_id == token().id, KeyedDoing.key == self.text)
        before = session.scalar(wanted)
        number: int | None = getattr(before, self.made, None)
        if before is not None and (number is None or before.body_sha256 != self.body_sha256):
            raise Refusal(422, "The key was used before", "It belongs to another request. Choose a new key.")
        return number

    def keep(self, session: Session, number: int) -> None:
        """Note what is made under it."""
        row = KeyedDoing(token_id=token().id, key=self.text, body_sha256=self.body_sha256)
        setattr(row, self.made, number)
        session.add(row)


def key_for(made: Made, about: int) -> Key:
    """The key of this request, which is about the row with this number.

    Raises
    ------
    Refusal
        There is no key, or none of the form asked for.
    """
    return Key(made, key_wanted(), hashlib.sha256(f"{about}".encode() + request.get_data()).hexdigest())
