"""Secrets: made, brought to one spelling, hashed and checked."""

from __future__ import annotations

import re
import secrets
from collections.abc import Collection

from argon2 import PasswordHasher
from argon2.exceptions import Argon2Error, InvalidHashError

from rubric.language import _
from service.words import PASSPHRASE_WORDS

WORDS_IN_PHRASE = 3
WORDS_IN_STAFF_PASSWORD = 5
LONGEST_SECRET = 200
"""Characters: a longer one is cut off before hashing costs anything."""

# 19 MiB and two passes, the smaller of OWASP's settings: thirty students sign in at once
# on a small machine, and each web thread needs this memory.
_HASHER = PasswordHasher(time_cost=2, memory_cost=19_456, parallelism=1)
_NOBODY = _HASHER.hash(secrets.token_hex(16))


class NoWordLeft(Exception):
    """Every first word is taken: the class is larger than the list of words."""


def hashed(secret: str) -> str:
    """The hash to keep of ``secret``."""
    return _HASHER.hash(secret)


def fits(secret_hash: str | None, secret: str) -> bool:
    """Whether ``secret`` belongs to the hash; takes as long where there is no account (None)."""
    try:
        return _HASHER.verify(secret_hash or _NOBODY, secret[:LONGEST_SECRET]) and secret_hash is not None
    except (Argon2Error, InvalidHashError):
        return False


def phrase_words(text: str) -> list[str]:
    """The words of a passphrase as typed: any case, with spaces, hyphens or dots between them."""
    return [word for word in re.split(r"[\W_]+", text[:LONGEST_SECRET].casefold()) if word]


def new_phrase(taken: Collection[str]) -> str:
    """Three different words, the first not yet ``taken`` within the class.

    Raises
    ------
    NoWordLeft
        Every word is the first word of somebody in the class.
    """
    free = [word for word in PASSPHRASE_WORDS if word not in taken]
    if not free:
        raise NoWordLeft(_("a class has at most {count} students", count=len(PASSPHRASE_WORDS)))
    first = secrets.choice(free)
    rest = [word for word in PASSPHRASE_WORDS if word != first]
    second = secrets.choice(rest)
    third = secrets.choice([word for word in rest if word != second])
    return f"{first}-{second}-{third}"


def new_staff_password() -> str:
    """Five words: 45 bits."""
    return "-".join(secrets.choice(PASSPHRASE_WORDS) for _ in range(WORDS_IN_STAFF_PASSWORD))


def new_key() -> str:
    """A session key."""
    return secrets.token_hex(16)
