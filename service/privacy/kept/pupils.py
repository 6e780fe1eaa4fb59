"""What is kept about pupils and their work."""

from __future__ import annotations

from rubric.language import later
from service.privacy.kept.entry import PUPIL, SHORT_SKETCH, WITH_PUPIL, WORK, kept

OF_PUPILS = (
    kept(
        PUPIL,
        "people",
        "id role name class_id roster_number left_at",
        later("Name, class, the school's own number if the class list has one, and since when somebody has left."),
        later("So that a teacher knows whose work it is, and a class list brought in again finds the same people."),
        WITH_PUPIL,
    ),
    kept(
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
    kept(
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
    kept(
        PUPIL,
        "browsers",
        "token_hash person_id failed_tries locked_until seen_at",
        later("A hash of a random number in a cookie of a browser in which somebody has signed in, and when that was."),
        later("So that a stranger who guesses cannot lock somebody out of the browser they use."),
        WITH_PUPIL,
    ),
    kept(
        PUPIL,
        "extensions",
        "assignment_id student_id due why by_id made_at",
        later("A due date of a pupil's own, why, and who gave it. Only staff read why."),
        later("So that nobody with more time is marked as late."),
        WITH_PUPIL,
    ),
    kept(
        PUPIL,
        "extra_attempts",
        "assignment_id student_id more why by_id made_at",
        later("Attempts that a pupil has beyond those of the class, why, and who gave them. Only staff read why."),
        later("So that the next file is taken."),
        WITH_PUPIL,
    ),
    kept(
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
    kept(
        WORK,
        "submissions",
        "id assignment_id version_id student_id by_id number file_name file file_sha256 handed_in state",
        later("Each file that was handed in, its name, when it came, and who handed it in if that was not the pupil."),
        later("It is the work that is marked."),
        WITH_PUPIL,
    ),
    kept(
        WORK,
        "submissions",
        "marked_at outcome total total_without_places out_of waiting_points efficiency on_board has_mistakes stable",
        later("What was worked out for the truss: forces, what breaks first, mistakes in the file, points."),
        later("To explain the mark, and for the board."),
        WITH_PUPIL,
    ),
    kept(
        WORK,
        "submissions",
        "judgements corrections comments places held given_at",
        later("A teacher's own points, corrections and comments, the place, and whether the mark is given yet."),
        later("They are part of the mark."),
        WITH_PUPIL,
    ),
    kept(
        WORK,
        "submissions",
        "fingerprint",
        later("The shape of the truss in a form that can be compared with others."),
        later("A teacher may ask which works are alike. No mark depends on it."),
        WITH_PUPIL,
    ),
    kept(
        WORK,
        "sheets",
        "submission_id pdf printed_at",
        later("The feedback sheet."),
        later("To read and print it again."),
        WITH_PUPIL,
    ),
    kept(
        WORK,
        "plans",
        "submission_id paper pdf printed_at",
        later("The building plan, if somebody asked for one."),
        later("To build from it."),
        WITH_PUPIL,
    ),
    kept(
        WORK,
        "class_reports",
        "assignment_id by_id paper pdf printed_at",
        later("A report of a class for its teachers, as it was last made: names, marks and what was worked out."),
        later("So that a teacher can see on paper how the class stands."),
        later("Until a pupil of the class or the class is deleted; then it can be made again without them."),
    ),
    kept(
        WORK,
        "changes",
        "id submission_id person_id at what criterion before after why total_before total_after told",
        later("Every change of a mark: who, when, from what to what, and why."),
        later("So that a mark never changes silently. Nobody can alter this list; it goes with the pupil."),
        WITH_PUPIL,
    ),
    kept(
        WORK,
        "second_markings",
        "id submission_id marker_id asked_by_id asked_at done_at points settled",
        later("What a second teacher gave, who marks without seeing the name."),
        later("To check that marking is fair."),
        WITH_PUPIL,
    ),
    kept(
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
    kept(
        WORK,
        "sketches",
        "id student_id assignment_id attempt file asked_at outcome",
        later("What a pupil is typing on the page that draws it: the newest text and its drawing."),
        later("To draw it and mark mistakes by line while it is written."),
        SHORT_SKETCH,
    ),
)
