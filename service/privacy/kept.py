"""What is kept, why and for how long: the one table that the page of privacy shows.

A test holds it against the tables of the database: a new column without an entry fails.
"""

from __future__ import annotations

from dataclasses import dataclass

from rubric.language import later

PUPIL, WORK, CONTEST = later("About a pupil"), later("About a pupil's work"), later("Contests")
SET, STAFF, HOUSE = later("What is set"), later("About staff"), later("For the house")
GROUPS = (PUPIL, WORK, CONTEST, SET, STAFF, HOUSE)

WITH_PUPIL = later("Until the pupil or the class is deleted.")
WITH_CLASS = later("Until the class is deleted.")
WITH_STAFF = later("While the installation stands: marks have to say who gave them.")
SHORT_SKETCH = later("Some minutes, and never longer than the pupil or the class.")
WITH_SCHOOL = later("While the installation stands.")
LASTING = later("While the installation stands. It holds numbers and no name.")
SHORT = later("About ten minutes.")


@dataclass(frozen=True)
class Kept:
    """Some columns of a table that are kept for the same reason."""

    group: str
    table: str
    columns: tuple[str, ...]
    what: str
    why: str
    how_long: str


def _kept(group: str, table: str, columns: str, what: str, why: str, how_long: str) -> Kept:
    return Kept(group, table, tuple(columns.split()), what, why, how_long)


KEPT = (
    _kept(
        PUPIL,
        "people",
        "id role name class_id roster_number left_at",
        later("Name, class, the school's own number if the class list has one, and since when somebody has left."),
        later("So that a teacher knows whose work it is, and a class list brought in again finds the same people."),
        WITH_PUPIL,
    ),
    _kept(
        PUPIL,
        "people",
        "handle secret_hash session_key failed_tries locked_until sign_in_name",
        later(
            "The first word of the passphrase, and a hash of all three, from which they cannot be read. "
            "How many wrong tries there were, and until when the next one waits. For staff the name they sign in with."
        ),
        later("To let the right person in and to slow down whoever guesses."),
        WITH_PUPIL,
    ),
    _kept(
        PUPIL,
        "people",
        "alias alias_asked alias_refused alias_why",
        later(
            "The alias, one that was asked for and waits for a teacher, and one that was not allowed, with the reason, "
            "until the pupil has chosen again."
        ),
        later("Boards show it in place of the name."),
        WITH_PUPIL,
    ),
    _kept(
        PUPIL,
        "browsers",
        "token_hash person_id failed_tries locked_until seen_at",
        later("A hash of a random number in a cookie of a browser in which somebody has signed in, and when that was."),
        later("So that a stranger who guesses cannot lock somebody out of the browser they use."),
        WITH_PUPIL,
    ),
    _kept(
        PUPIL,
        "extensions",
        "assignment_id student_id due why by_id made_at",
        later("A due date of a pupil's own, why, and who gave it. Only staff read why."),
        later("So that nobody with more time is marked as late."),
        WITH_PUPIL,
    ),
    _kept(
        PUPIL,
        "extra_attempts",
        "assignment_id student_id more why by_id made_at",
        later("Attempts that a pupil has beyond those of the class, why, and who gave them. Only staff read why."),
        later("So that the next file is taken."),
        WITH_PUPIL,
    ),
    _kept(
        PUPIL,
        "notices",
        "id class_id submission_id person_id text values created_at settled",
        later(
            "Notices for teachers: a file that could not be marked, many wrong passphrases, a "
            "class that will be deleted."
        ),
        later("So that a teacher can help."),
        WITH_PUPIL,
    ),
    _kept(
        WORK,
        "submissions",
        "id assignment_id version_id student_id by_id number file_name file file_sha256 handed_in state",
        later("Each file that was handed in, its name, when it came, and who handed it in if that was not the pupil."),
        later("It is the work that is marked."),
        WITH_PUPIL,
    ),
    _kept(
        WORK,
        "submissions",
        "marked_at outcome total total_without_places out_of waiting_points efficiency on_board has_mistakes stable",
        later("What was worked out for the truss: forces, what breaks first, mistakes in the file, points."),
        later("To explain the mark, and for the board."),
        WITH_PUPIL,
    ),
    _kept(
        WORK,
        "submissions",
        "judgements corrections comments places held given_at",
        later("A teacher's own points, corrections and comments, the place, and whether the mark is given yet."),
        later("They are part of the mark."),
        WITH_PUPIL,
    ),
    _kept(
        WORK,
        "submissions",
        "fingerprint",
        later("The shape of the truss in a form that can be compared with others."),
        later("A teacher may ask which works are alike. No mark depends on it."),
        WITH_PUPIL,
    ),
    _kept(
        WORK,
        "sheets",
        "submission_id pdf printed_at",
        later("The feedback sheet."),
        later("To read and print it again."),
        WITH_PUPIL,
    ),
    _kept(
        WORK,
        "plans",
        "submission_id paper pdf printed_at",
        later("The building plan, if somebody asked for one."),
        later("To build from it."),
        WITH_PUPIL,
    ),
    _kept(
        WORK,
        "class_reports",
        "assignment_id by_id paper pdf printed_at",
        later("A report of a class for its teachers, as it was last made: names, marks and what was worked out."),
        later("So that a teacher can see on paper how the class stands."),
        later("Until a pupil of the class or the class is deleted; then it can be made again without them."),
    ),
    _kept(
        WORK,
        "changes",
        "id submission_id person_id at what criterion before after why total_before total_after told",
        later("Every change of a mark: who, when, from what to what, and why."),
        later("So that a mark never changes silently. Nobody can alter this list; it goes with the pupil."),
        WITH_PUPIL,
    ),
    _kept(
        WORK,
        "second_markings",
        "id submission_id marker_id asked_by_id asked_at done_at points settled",
        later("What a second teacher gave, who marks without seeing the name."),
        later("To check that marking is fair."),
        WITH_PUPIL,
    ),
    _kept(
        WORK,
        "trial_works",
        "id trial_id submission_id name file for_worker outcome version_before_id outcome_before",
        later(
            "What an attempt would get, and got before, where a teacher tries out other rules; "
            "samples of a teacher's own."
        ),
        later("So that a class is not marked again by mistake, and marking again can be taken back."),
        WITH_PUPIL,
    ),
    _kept(
        WORK,
        "sketches",
        "id student_id assignment_id attempt file asked_at outcome",
        later("What a pupil is typing on the page that draws it: the newest text and its drawing."),
        later("To draw it and mark mistakes by line while it is written."),
        SHORT_SKETCH,
    ),
    _kept(
        CONTEST,
        "contest_entries",
        "id contest_id student_id submission_id number division age predicted running named_at by_id frozen_at "
        "withdrawn_at",
        later(
            "Which attempt was built for a contest, its number, division and place in the running order, and what was "
            "reckoned for it. The age on the day, only where a division goes by age."
        ),
        later("To run the contest."),
        WITH_PUPIL,
    ),
    _kept(
        CONTEST,
        "contest_entry_changes",
        "id entry_id at by_id what before after why",
        later("Late changes of an entry: who, when and why."),
        later("So that nobody is favoured unseen."),
        WITH_PUPIL,
    ),
    _kept(
        CONTEST,
        "contest_readings",
        "id entry_id station_id rules_id kind key values flagged undoes_id why by_id taken_at at",
        later(
            "What was read off the scale and the rig for a bridge, and how it broke, as it was typed, by whom and when."
        ),
        later("The result is worked out from it. Nobody can alter it; it goes with the pupil."),
        WITH_PUPIL,
    ),
    _kept(
        CONTEST,
        "contest_confirmations",
        "id entry_id readings by_id at",
        later("Who has looked at a reading a second time."),
        later("So that a slip of the pen decides no contest."),
        WITH_PUPIL,
    ),
    _kept(
        CONTEST,
        "contest_rulings",
        "id entry_id what why by_id at",
        later("That a bridge was disqualified, or let in again, and why."),
        later("A contest has to be able to say so."),
        WITH_PUPIL,
    ),
    _kept(
        CONTEST,
        "contest_protests",
        "id entry_id text by_id at answer answered_by_id answered_at",
        later("A protest about a bridge, and the answer."),
        later("So that it is answered before the list is published."),
        WITH_PUPIL,
    ),
    _kept(
        CONTEST,
        "contest_publications",
        "id contest_id number rules_id lines notice by_id at",
        later("The official list as it was published: numbers, aliases and results, no names."),
        later("A published list stays as it was. When a pupil is deleted, 'withdrawn' stands in place of the alias."),
        WITH_SCHOOL,
    ),
    _kept(
        CONTEST,
        "contest_prints",
        "id contest_id what list_number pdf printed_at",
        later(
            "Certificates and the booklet of results of a contest, as they were last printed. "
            "A certificate bears a name."
        ),
        later("To hand them out."),
        later("Until a pupil of the contest is deleted; then they can be printed again without them."),
    ),
    _kept(
        CONTEST,
        "school_records",
        "id contest_id year contest_title division alias efficiency load_N mass_g",
        later("The winning results of earlier years, by alias."),
        later("For the list of records."),
        WITH_SCHOOL,
    ),
    _kept(
        CONTEST,
        "contest_rules",
        "id contest_id number rules text why by_id made_at",
        later("The rules of a contest, every version, and who wrote it."),
        later("So that it can be said what a result was made by."),
        WITH_SCHOOL,
    ),
    _kept(
        CONTEST,
        "contest_stations",
        "id contest_id kind name opened_at by_id confirmed testing closed_at",
        later("Which scales and rigs were open, and who confirmed that they were safe."),
        later("So that no reading is without its station."),
        WITH_SCHOOL,
    ),
    _kept(
        CONTEST,
        "contests",
        "id title",
        later("The title of a contest."),
        later("For its board."),
        WITH_SCHOOL,
    ),
    _kept(
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
    _kept(
        SET,
        "assignments",
        "id class_id contest_id title opens due release_by_hand alike alike_at",
        later("What is set for a class, and when; which attempts were alike when it was last looked for, as numbers."),
        later("It is what pupils work on."),
        WITH_CLASS,
    ),
    _kept(
        SET,
        "versions",
        "id assignment_id number brief rubric brief_text rubric_text why by_id made_at due drawing par_wood_g",
        later("Every version of a brief and a rubric, and who wrote it."),
        later("So that it can be said for years by what rules a mark was made."),
        WITH_CLASS,
    ),
    _kept(
        SET,
        "trials",
        "id assignment_id version_id brief rubric brief_text rubric_text due by_id made_at why marked_again_at "
        "undone_at",
        later("A brief and a rubric that a teacher tried out."),
        later("To see what would change before it does."),
        WITH_CLASS,
    ),
    _kept(
        STAFF,
        "teachings",
        "person_id class_id",
        later("Who teaches which class. Name, sign-in name and a hash of the password stand where those of pupils do."),
        later("A teacher sees only classes of their own."),
        WITH_CLASS,
    ),
    _kept(
        STAFF,
        "people",
        "language",
        later("The language in which one of the staff reads."),
        later("So that their pages speak it."),
        WITH_STAFF,
    ),
    _kept(
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
    _kept(
        HOUSE,
        "schools",
        "id name zone keep_months year_begins tidy_at",
        later("Name of the school, its clock, and how long it keeps classes."),
        later("Pages and sheets show them."),
        WITH_SCHOOL,
    ),
    _kept(
        HOUSE,
        "tokens",
        "id class_id by_id name secret_sha256 scopes made_at revoked_at used_on",
        later("Programs that a teacher lets in to a class: what for, what they may do, and the day they last came."),
        later("So that a program of the school reaches no more than it was given."),
        WITH_CLASS,
    ),
    _kept(
        HOUSE,
        "keyed_hand_ins",
        "id token_id key body_sha256 submission_id made_at",
        later("Which attempt a program handed in, under which key."),
        later("So that the same file sent twice counts once."),
        WITH_PUPIL,
    ),
    _kept(
        HOUSE,
        "jobs",
        "id kind subject_id state attempt sent started created_at sent_at came_sent_at next_send_at finished_at",
        later("What waits for a worker, and since when."),
        later("So that no file is lost."),
        WITH_PUPIL,
    ),
    _kept(
        HOUSE,
        "under_deletion",
        "table_name row_id",
        later("Numbers of rows, while they are being deleted."),
        later("Without them the database refuses to delete a change of a mark."),
        later("For the moment of the deletion."),
    ),
    _kept(
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
    _kept(
        HOUSE,
        "gone_orders",
        "job_id at",
        later("Numbers of orders whose pupil was deleted."),
        later("So that what is still under way is taken out too."),
        SHORT,
    ),
)
"""The whole table."""
