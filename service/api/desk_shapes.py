"""Shapes of a class beside its work: sign-ins, leavers, aliases, language, notices, tokens."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from rubric.language import Language
from service.api.shapes import ID, Line, Moment, Shape

Why = Annotated[str, Field(max_length=200)]


class ClassLanguage(Shape):
    """The language of a class's pages and sheets."""

    language: Language


class Away(Shape):
    """Whether a class is put away; all its work is kept."""

    away: bool


class Left(Shape):
    """Whether a student is with the leavers, who cannot sign in; all work is kept."""

    left: bool


class SignInWords(Shape):
    """What a student signs in with from now on; told this once.  The name only with the scope 'read names'."""

    student_id: ID
    name: str | None
    class_code: str
    passphrase: str


class SignIns(Shape):
    """Those of a whole class."""

    items: tuple[SignInWords, ...]


class AliasAsked(Shape):
    """An alias that a student would like, in own words, or one that was refused."""

    student_id: ID
    alias: str | None = Field(description="what stands on boards")
    asked: str | None = Field(description="what waits for somebody to look at it")
    refused: str | None
    why: str = Field(description="why it was refused, as the student reads it")


class AliasesAsked(Shape):
    """Students of a class whose alias waits or was refused."""

    items: tuple[AliasAsked, ...]


class AliasSettled(Shape):
    """Allow the alias that waits, refuse it, or have another one drawn in place of any."""

    do: Literal["allow", "refuse", "another"]
    asked: Line = Field("", description="the alias that was looked at; if it is another by now, nothing is done")
    why: Why = Field("", description="for the student to read, where it is refused")


class ClassNotice(Shape):
    """Something that staff should know."""

    id: ID
    at: Moment
    attempt_id: ID | None
    text: str


class Notices(Shape):
    """A page of notices of the class that are not settled."""

    items: tuple[ClassNotice, ...]
    next: str | None


class Settled(Shape):
    """A notice that is put away."""

    id: ID
    settled: bool


class Token(Shape):
    """A token of the class; what it is, is told to nobody again."""

    id: ID
    name: str
    by_id: ID
    scopes: tuple[str, ...]
    made_at: Moment
    used_on: Moment | None
    revoked_at: Moment | None


class Tokens(Shape):
    """All of the class, those that were revoked too."""

    items: tuple[Token, ...]
    next: str | None
