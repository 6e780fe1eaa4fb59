"""Three questions worth a lesson, made from what a class's work shows.  Pure: works in, sentences out."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from statistics import median

from rubric.language import _, counted, later
from rubric.wording import figure, localised, points
from service.classes.insight import Failing, Seen, failures, most_lost, spreads, standing

ASKED = 3

LITTLE, MOST = 0.25, 0.5
"""Utilisation below which a member does little, and the part of a bridge's members that is most of them."""

IDLE_WORTH, LAZY_WORTH, LOST_WORTH, BEST_WORTH = 0.9, 0.8, 0.6, 0.3
"""Beside what breaks or moves, these matter less: members that idle or do little, points lost, the best bridge."""

BY_MODE = {
    "buckling": later(
        "Why does a long thin stick that is pushed bend out sideways? What helps more: a thicker stick, or a "
        "shorter one?"
    ),
    "tension": later("A pulled stick breaks at the same force, long or short. Why? What does count?"),
    "crushing": later("Why is a short stick crushed before it can buckle? What does a second stick beside it change?"),
    "bending": later(
        "Glued joints are stiff, so members bend too. Where do they bend most, and what would make it less?"
    ),
    "joint": later(
        "The wood would hold, but the glued end does not. What would give the glue more face to hold on to?"
    ),
}
"""What to ask about each way of failing; ``_`` says it."""

HOW = {
    "buckling": later("it buckles"),
    "tension": later("it is pulled apart"),
    "crushing": later("it is crushed"),
    "joint": later("it comes unglued"),
}
"""What such a member does; ``_`` says it."""

BENT = later("it breaks where it is bent")
ANY_MODE = later("Why this member, and what would make it last?")


@dataclass(frozen=True)
class Question:
    """What was found, and what to ask about it."""

    found: str
    ask: str
    part: float
    """The part of the works that it concerns, which says how much it is worth."""


def questions(works: Sequence[Seen]) -> tuple[Question, ...]:
    """At most three, that which concerns most works first."""
    found = sorted(_all(works), key=lambda question: -question.part) if works else []
    return tuple(found[:ASKED])


def _all(works: Sequence[Seen]) -> Iterator[Question]:
    yield from _shape(works)
    yield from _strength(works)
    yield from _by_hand(works)
    yield from _lost(works)
    yield from _best(works)


def _shape(works: Sequence[Seen]) -> Iterator[Question]:
    """Files with mistakes, mechanisms, limits."""
    known = standing(works)
    if known.moving:
        yield Question(
            counted(
                "{bridges} can lean over.",
                "{bridges} can lean over.",
                known.moving,
                bridges=_bridges(known.moving, known.works),
            ),
            _("Which shape of sticks can lean over, and which cannot? Where does one more stick make triangles of it?"),
            known.moving / known.works,
        )
    if known.mistaken:
        yield Question(
            counted(
                "{count} file of {of} was not read to the end, because of mistakes.",
                "{count} files of {of} were not read to the end, because of mistakes.",
                known.mistaken,
                of=known.works,
            ),
            _("What does a computer need to know of a bridge? Find the mistake in one file together."),
            known.mistaken / known.works,
        )
    if known.outside:
        yield Question(
            counted(
                "{bridges} does not keep the limits.",
                "{bridges} do not keep the limits.",
                known.outside,
                bridges=_bridges(known.outside, known.works),
            ),
            _("Why does a brief set limits, and what would each of them save or spoil?"),
            known.outside / known.works,
        )


def _strength(works: Sequence[Seen]) -> Iterator[Question]:
    """What breaks first, what idles, what does little."""
    analyses = [work.outcome.analysis for work in works if work.outcome.analysis]
    stable = [analysis for analysis in analyses if analysis.state == "stable"]
    first = [failing for failing in failures(stable) if failing.first]
    if first:
        yield _breaks(first[0], len(stable), len(works))
    idle = sum(any(row.mode == "none" for row in analysis.members) for analysis in stable)
    if idle:
        yield Question(
            _("In {bridges} some member carries nothing.", bridges=_bridges(idle, len(stable))),
            _(
                "How can you see at a joint, with no numbers, that a member carries nothing? Why might you still keep "
                "it?"
            ),
            IDLE_WORTH * idle / len(works),
        )
    lazy = sum(_most_do_little([row.utilisation for row in analysis.members]) for analysis in stable)
    if lazy:
        yield Question(
            _(
                "In {bridges} most members bear less than {part} % of what they can.",
                bridges=_bridges(lazy, len(stable)),
                part=figure(100 * LITTLE),
            ),
            _("Which members could be lighter, and would the bridge still carry the load?"),
            LAZY_WORTH * lazy / len(works),
        )


def _breaks(failing: Failing, stable: int, works: int) -> Question:
    return Question(
        counted(
            "Of {bridges}, {count} breaks first at a {part}: {how}.",
            "Of {bridges}, {count} break first at a {part}: {how}.",
            failing.first,
            bridges=counted("{count} stable bridge", "{count} stable bridges", stable),
            part=_(failing.part),
            how=_(HOW.get(failing.mode, BENT)),
        ),
        _(BY_MODE.get(failing.mode, ANY_MODE)),
        failing.first / works,
    )


def _by_hand(works: Sequence[Seen]) -> Iterator[Question]:
    """Forces worked out by hand."""
    verdicts: Counter[str] = Counter()
    concerned = 0
    for work in works:
        own = Counter(answer.verdict for answers in work.outcome.working.values() for answer in answers)
        concerned += bool(own["wrong"] or own["sense"])
        verdicts += own
    if concerned:
        yield Question(
            counted(
                "{count} force by hand has the wrong direction or no right number, and {sense} the right direction "
                "and the wrong number.",
                "{count} forces by hand have the wrong direction or no right number, and {sense} the right direction "
                "and the wrong number.",
                verdicts["wrong"],
                sense=verdicts["sense"],
            ),
            _("Cut one joint free. Which members pull on it and which push? Do the arrows close?"),
            concerned / len(works),
        )


def _lost(works: Sequence[Seen]) -> Iterator[Question]:
    lost = most_lost(spreads(works))
    if lost is not None and lost.mean is not None and lost.marked:
        yield Question(
            _(
                "Most points were lost on '{criterion}': {lost} each on average, of {most}.",
                criterion=lost.name,
                lost=figure(lost.lost / lost.marked),
                most=points(lost.out_of),
            ),
            _("Look at one bridge that earned them and one that did not. What is different?"),
            LOST_WORTH,
        )


def _best(works: Sequence[Seen]) -> Iterator[Question]:
    """Something to ask of a class in which all is well."""
    known = [work.outcome.analysis.efficiency for work in works if work.outcome.analysis]
    values = [value for value in known if value]
    if len(values) > 1:
        yield Question(
            _(
                "The best bridge has an efficiency of {best}, the middle one of {middle}.",
                best=localised(f"{max(values):.1f}"),
                middle=localised(f"{median(values):.1f}"),
            ),
            _("Which bridge carries most for its weight? What does it do that others do not?"),
            BEST_WORTH,
        )


def _most_do_little(utilisations: Sequence[float]) -> bool:
    return sum(used < LITTLE for used in utilisations) > MOST * len(utilisations)


def _bridges(count: int, of: int) -> str:
    return counted("{part} of {count} bridge", "{part} of {count} bridges", of, part=count)
