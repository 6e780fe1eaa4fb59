"""In which language a page is said: a student's in that of the class, one of the staff's in that of the account.

Who is not signed in reads what the browser asks for, until somebody chooses.
"""

from __future__ import annotations

from flask import g, request, session

from rubric.language import ENGLISH, LANGUAGES, Language, as_language, speak
from service import web
from service.records.models import STUDENT

CHOSEN = "language"
"""In the address, where somebody chooses, and in the session, which keeps it."""


def choose() -> None:
    """Before each request: speak the language of whoever asks."""
    speak(_asked_for() if "person" in g else ENGLISH)  # programs and files have nobody who reads


def forget(_: BaseException | None = None) -> None:
    """After each request: a thread that serves the next one must not go on in the language of this one."""
    speak(ENGLISH)


def _asked_for() -> Language:
    person = web.person_or_none()
    if person is not None:
        reads = person.school_class if person.role == STUDENT else person
        return as_language(reads.language) if reads else ENGLISH
    if CHOSEN in request.args:
        session[CHOSEN] = as_language(request.args[CHOSEN])
    if CHOSEN in session:
        return as_language(str(session[CHOSEN]))
    return as_language(request.accept_languages.best_match(list(LANGUAGES)))
