"""What is kept of contests."""

from __future__ import annotations

from rubric.language import later
from service.privacy.kept.entry import CONTEST, WITH_PUPIL, WITH_SCHOOL, kept

OF_CONTESTS = (
    kept(
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
    kept(
        CONTEST,
        "contest_entry_changes",
        "id entry_id at by_id what before after why",
        later("Late changes of an entry: who, when and why."),
        later("So that nobody is favoured unseen."),
        WITH_PUPIL,
    ),
    kept(
        CONTEST,
        "contest_readings",
        "id entry_id station_id rules_id kind key values flagged undoes_id why by_id taken_at at",
        later(
            "What was read off the scale and the rig for a bridge, and how it broke, as it was typed, by whom and when."
        ),
        later("The result is worked out from it. Nobody can alter it; it goes with the pupil."),
        WITH_PUPIL,
    ),
    kept(
        CONTEST,
        "contest_confirmations",
        "id entry_id readings by_id at",
        later("Who has looked at a reading a second time."),
        later("So that a slip of the pen decides no contest."),
        WITH_PUPIL,
    ),
    kept(
        CONTEST,
        "contest_rulings",
        "id entry_id what why by_id at",
        later("That a bridge was disqualified, or let in again, and why."),
        later("A contest has to be able to say so."),
        WITH_PUPIL,
    ),
    kept(
        CONTEST,
        "contest_protests",
        "id entry_id text by_id at answer answered_by_id answered_at",
        later("A protest about a bridge, and the answer."),
        later("So that it is answered before the list is published."),
        WITH_PUPIL,
    ),
    kept(
        CONTEST,
        "contest_publications",
        "id contest_id number rules_id lines notice by_id at",
        later("The official list as it was published: numbers, aliases and results, no names."),
        later("A published list stays as it was. When a pupil is deleted, 'withdrawn' stands in place of the alias."),
        WITH_SCHOOL,
    ),
    kept(
        CONTEST,
        "contest_prints",
        "id contest_id what list_number paper pdf printed_at",
        later(
            "Certificates and the booklet of results of a contest, as they were last printed. "
            "A certificate bears a name."
        ),
        later("To hand them out."),
        later("Until a pupil of the contest is deleted; then they can be printed again without them."),
    ),
    kept(
        CONTEST,
        "school_records",
        "id contest_id year contest_title division alias efficiency load_N mass_g",
        later("The winning results of earlier years, by alias."),
        later("For the list of records."),
        WITH_SCHOOL,
    ),
    kept(
        CONTEST,
        "contest_rules",
        "id contest_id number rules text why by_id made_at",
        later("The rules of a contest, every version, and who wrote it."),
        later("So that it can be said what a result was made by."),
        WITH_SCHOOL,
    ),
    kept(
        CONTEST,
        "contest_stations",
        "id contest_id kind name opened_at by_id confirmed testing closed_at",
        later("Which scales and rigs were open, and who confirmed that they were safe."),
        later("So that no reading is without its station."),
        WITH_SCHOOL,
    ),
    kept(
        CONTEST,
        "contests",
        "id title",
        later("The title of a contest."),
        later("For its board."),
        WITH_SCHOOL,
    ),
)
