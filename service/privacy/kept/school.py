"""What is kept of what is set, about staff, and for the house."""

from __future__ import annotations

from rubric.language import later
from service.privacy.kept.entry import (
    HOUSE,
    LASTING,
    SET,
    SHORT,
    STAFF,
    WITH_CLASS,
    WITH_PUPIL,
    WITH_SCHOOL,
    WITH_STAFF,
    kept,
)

OF_SCHOOL = (
    kept(
        SET,
        "classes",
        "id code name language sourced_id made_at warned_at archived_at",
        later(
            "Name, code and language of a class, what the school's own records call it, when it was made, put away, or "
            "told that it will be deleted."
        ),
        later("Pupils sign in with the code. Class lists that come in, and marks that go out, find the class."),
        WITH_CLASS,
    ),
    kept(
        SET,
        "assignments",
        "id class_id contest_id title opens due release_by_hand alike alike_at",
        later("What is set for a class, and when; which attempts were alike when it was last looked for, as numbers."),
        later("It is what pupils work on."),
        WITH_CLASS,
    ),
    kept(
        SET,
        "versions",
        "id assignment_id number brief rubric brief_text rubric_text why by_id made_at due drawing par_wood_g",
        later("Every version of a brief and a rubric, and who wrote it."),
        later("So that it can be said for years by what rules a mark was made."),
        WITH_CLASS,
    ),
    kept(
        SET,
        "trials",
        "id assignment_id version_id brief rubric brief_text rubric_text due by_id made_at why marked_again_at "
        "undone_at",
        later("A brief and a rubric that a teacher tried out."),
        later("To see what would change before it does."),
        WITH_CLASS,
    ),
    kept(
        STAFF,
        "teachings",
        "person_id class_id",
        later("Who teaches which class. Name, sign-in name and a hash of the password stand where those of pupils do."),
        later("A teacher sees only classes of their own."),
        WITH_CLASS,
    ),
    kept(
        STAFF,
        "people",
        "language",
        later("The language in which one of the staff reads."),
        later("So that their pages speak it."),
        WITH_STAFF,
    ),
    kept(
        STAFF,
        "acts",
        "id at by_id what about about_id word",
        later(
            "What was done in the office: new sign-ins, class lists, roles, deletions. "
            "Who, when, and about which number."
        ),
        later("So that the school can answer who did what. Nobody can alter this list."),
        LASTING,
    ),
    kept(
        HOUSE,
        "schools",
        "id name zone keep_months year_begins tidy_at",
        later("Name of the school, its clock, and how long it keeps classes."),
        later("Pages and sheets show them."),
        WITH_SCHOOL,
    ),
    kept(
        HOUSE,
        "tokens",
        "id class_id by_id name secret_sha256 scopes made_at revoked_at used_on",
        later("Programs that a teacher lets in to a class: what for, what they may do, and the day they last came."),
        later("So that a program of the school reaches no more than it was given."),
        WITH_CLASS,
    ),
    kept(
        HOUSE,
        "keyed_doings",
        "id token_id key body_sha256 submission_id assignment_id trial_id protest_id made_at",
        later("Which attempt, work, trial or protest a program sent in, under which key."),
        later("So that what is sent twice counts once."),
        WITH_PUPIL,
    ),
    kept(
        HOUSE,
        "jobs",
        "id kind subject_id state attempt sent started created_at sent_at came_sent_at next_send_at finished_at",
        later("What waits for a worker, and since when."),
        later("So that no file is lost."),
        WITH_PUPIL,
    ),
    kept(
        HOUSE,
        "under_deletion",
        "table_name row_id",
        later("Numbers of rows, while they are being deleted."),
        later("Without them the database refuses to delete a change of a mark."),
        later("For the moment of the deletion."),
    ),
    kept(
        HOUSE,
        "tries",
        "place failed_tries locked_until at",
        later(
            "How many wrong tries there were at first words and names that nobody has, and "
            "until when the next one waits."
        ),
        later("So that nobody can tell by the wait which words and names are real."),
        later("Until two weeks after the last try."),
    ),
    kept(
        HOUSE,
        "gone_orders",
        "job_id at",
        later("Numbers of orders whose pupil was deleted."),
        later("So that what is still under way is taken out too."),
        SHORT,
    ),
)
