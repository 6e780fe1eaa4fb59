"""What sheet and page tell of a truss, in the same words: from its numbers to sentences, sums and drawings."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rubric.brief import Brief
from rubric.language import _, later
from rubric.messages.outcomes import Analysis, Figure
from rubric.messages.told import CutFree, Part, Picture, Told
from rubric.quantities import STANDARD_GRAVITY
from rubric.wording import amount, figure
from worker.feedback import figures
from worker.feedback.figures.spoken import breaks_first_said
from worker.feedback.text import isolated
from worker.feedback.view import counting, moving, ways
from worker.feedback.worked.equilibrium import Balance, balances, with_stiff_joints
from worker.feedback.worked.failure import failure
from worker.feedback.worked.reactions import reactions

MOST_ON_A_PAGE = 72_000
"""Characters of all drawings; those beyond, the last ones first, are on the sheet alone."""

DIFFERS = later(
    "Wood grows, so one stick can be a fifth stronger than the next. Glue and straight cuts differ too. "
    "So take each load as a good guess, and test your bridge to find out."
)
HOW_TO_CHECK = later(
    "Nothing moves. So at each joint all forces add up to nothing, across and up. Cut a joint free, and add them with "
    "a calculator: part across = force × cos(angle), part up = force × sin(angle). To the right and up count +, to the "
    "left and down −."
)
SIGNS = later("T: tension, the member pulls the joint towards its other end. C: compression, it pushes the joint away.")
NOT_QUITE = later("A sum that is not quite nothing comes from rounding.")
CRITICAL = later(
    "A truss can have members enough and still move, when its joints stand just so. Think of three joints in one "
    "line, tied by two members: push the middle one sideways, and at first nothing holds it back."
)
NO_TRIANGLE = later(
    "A triangle keeps its shape as long as its three sides keep their length. A square does not: push its corner and "
    "it leans over. Somewhere in your truss there is a shape with four or more sides, or a joint that too little holds."
)


def told(analysis: Analysis, brief: Brief) -> Told:
    """All there is to tell."""
    return _stable(analysis, brief) if analysis.state == "stable" else _moves(analysis)


def for_a_page(whole: Told, drawn: Figure) -> Told:
    """The same without the drawings that would make a page too large beside the one that leads it."""
    left = MOST_ON_A_PAGE - len(drawn.svg) - sum(len(one.drawing.svg) for one in whole.joints)
    kept = []
    for one in ([whole.full] if whole.full else []) + list(whole.pictures):
        left -= len(one.drawing.svg) if one.drawing else 0
        kept.append(one if left >= 0 else one.model_copy(update={"drawing": None}))
    full, pictures = (kept[0], kept[1:]) if whole.full else (None, kept)
    return whole.model_copy(update={"full": full, "pictures": tuple(pictures)})


def _stable(analysis: Analysis, brief: Brief) -> Told:
    found, turning = balances(analysis), reactions(analysis)
    breaking = () if brief.problem else failure(analysis, brief)
    weakest = isolated(analysis.first_failure.member) if analysis.first_failure else ""
    failing = _("Why {member} breaks first", member=weakest) if weakest else ""
    full = None if brief.problem else figures.utilisation(analysis, brief)
    return Told(
        first=_given(brief) if brief.problem else _carries(analysis, brief),
        then=() if brief.problem else (_weight(analysis),),
        check=Part(title=_("Check it yourself"), says=(_(HOW_TO_CHECK),)),
        joints=tuple(_cut_free(analysis, one) for one in found),
        signs=_signs(found, brief),
        supports=Part(title=_("The supports"), says=turning) if turning else Part(),
        failing=Part(title=failing, says=breaking) if breaking else Part(),
        full=Picture(title=_("How hard each member works"), drawing=full) if full else None,
        pictures=tuple(_pictures(analysis, brief)),
    )


def _moves(analysis: Analysis) -> Told:
    lead = _(
        "This truss is a mechanism: it can change its shape although no member gets longer or shorter. {moving}",
        moving=moving(analysis),
    )
    also = ways(analysis)
    reason = CRITICAL if analysis.form == "critical form" else NO_TRIANGLE
    return Told(
        first=Part(title=_("How it moves"), says=(lead,)),
        then=(also,) if also else (),
        why=Part(title=_("Why it moves"), says=(_(reason), counting(analysis))),
    )


def _given(brief: Brief) -> Part:
    """What the numbers of a problem set are."""
    said = _(
        "The drawing shows what holds: the force in each member at a load of {load}.",
        load=amount(brief.load.target_N, "N"),
    )
    return Part(title=_("What holds"), says=(said,))


def _carries(analysis: Analysis, brief: Brief) -> Part:
    """What the whole bridge should carry, against what is asked, and what breaks first."""
    load_N, title = analysis.failure_load_N, _("What it carries")
    if load_N is None:
        none = _("No load of the brief reaches a member, so there is no failure load to tell.")
        return Part(title=title, says=(none,))
    asked_N = brief.load.target_N
    carried = _(
        "The whole bridge should carry about {load}, like {mass} hung on it.",
        load=amount(load_N, "N"),
        mass=_hung(load_N),
    )
    target = amount(asked_N, "N")
    if load_N >= asked_N:
        asked = _("That is enough: the brief asks for {load}.", load=target)
    else:
        asked = _("The brief asks for {load}.", load=target)
    return Part(title=title, says=tuple(filter(None, (f"{carried} {asked}", breaks_first_said(analysis)))))


def _hung(load_N: float) -> str:
    """The mass whose weight is this load."""
    mass_kg = load_N / STANDARD_GRAVITY
    return amount(mass_kg, "kg") if mass_kg >= 1 else amount(1000 * mass_kg, "g")


def _weight(analysis: Analysis) -> str:
    mass = amount(analysis.mass_g, "g")
    if analysis.efficiency is None:
        return _("It weighs about {mass}.", mass=mass)
    return _(
        "It weighs about {mass} and carries {times} times its own weight: that is its efficiency.",
        mass=mass,
        times=figure(analysis.efficiency),
    )


def _cut_free(analysis: Analysis, one: Balance) -> CutFree:
    drawing = figures.joint_body(analysis, one.key)
    return CutFree(joint=one.joint, role=one.role, pulls=one.pulls, across=one.across, up=one.up, drawing=drawing)


def _signs(found: Sequence[Balance], brief: Brief) -> str:
    rounded = _(NOT_QUITE) if not all(one.exact for one in found) else ""
    return " ".join(filter(None, (_(SIGNS), rounded, with_stiff_joints(brief))))


def _pictures(analysis: Analysis, brief: Brief) -> Iterator[Picture]:
    """Whatever else can be drawn of this truss."""
    every: list[tuple[str, str, Figure | None]] = [(_("How it bends"), "", figures.deflected(analysis, brief))]
    if not brief.problem:
        every += [
            (_("No two bridges break at the same load"), _(DIFFERS), figures.scatter(analysis.outlook, brief)),
            (_("As the load moves"), "", figures.influence(analysis, brief)),
            (_("How it comes down"), "", figures.collapse(analysis)),
        ]
    for title, text, drawing in every:
        if drawing is not None:
            yield Picture(title=title, text=text, drawing=drawing)
