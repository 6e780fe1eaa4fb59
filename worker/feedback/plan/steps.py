"""How to build it: short sentences, in the order things are done."""

from __future__ import annotations

from rubric.brief import Brief
from rubric.language import _
from rubric.messages.outcomes import Analysis
from rubric.wording import amount
from worker.feedback.plan.laying import doubled


def steps(analysis: Analysis, brief: Brief, layers: int, pages: int) -> tuple[str, ...]:
    """What to do, a dozen steps at most; ``pages`` is how many the full-size plan has, 0 where there is none."""
    return (
        *_plan(pages),
        _("Write each letter on the wood with a pencil. Then cut the pieces, the longest first."),
        _("Lay each piece on the plan to check it. A piece that is too long can be cut again."),
        *_together(analysis, brief),
        *_laid(layers),
        *_glued(brief),
        _("Hold the sticks down with pins beside the wood, never through it. Wipe off glue that runs out."),
        _("Let it dry lying flat, as long as the glue needs. A night is best."),
        *_sides(brief.sides),
    )


def _plan(pages: int) -> tuple[str, ...]:
    if not pages:
        return (_("Draw the joints at full size on a long sheet of paper: the list of joints says where each one is."),)
    joined = _(
        "Cut each page where it says 'cut here'. Lay it on the page it names so that the crosses meet, and tape it."
    )
    return (
        _("Print the plan at 100 %. Measure the bar on each page: it must be 100 mm long."),
        *((joined,) if pages > 1 else ()),
        _("Fix the plan to a flat board. Cover it with clear film or baking paper, so that no glue sticks to it."),
    )


def _together(analysis: Analysis, brief: Brief) -> tuple[str, ...]:
    if not any(doubled(analysis)):
        return ()
    if brief.glued == "along":
        return (_("Glue the sticks of doubled members to each other along their whole length, and let them dry."),)
    return (_("Glue the sticks of doubled members to each other at both ends, and let them dry."),)


def _laid(layers: int) -> tuple[str, ...]:
    if layers == 1:
        return (_("Lay all sticks on the plan. Trim the ends so that they fit against each other without a gap."),)
    first = _("Lay the sticks of layer 1 on the plan.")
    trimmed = _("Trim ends that meet in one layer, so that they fit without a gap.")
    if layers == 2:
        second = _("Then glue on layer 2.")
        return (f"{first} {second}", trimmed)
    packed = _("Where a stick would hang in the air, put a scrap of wood under it.")
    on_top = _("Then glue on layer 2, and so on up to layer {last}.", last=layers)
    return (f"{first} {on_top}", f"{trimmed} {packed}")


def _glued(brief: Brief) -> tuple[str, ...]:
    glue = brief.glue
    if glue is None:
        return (_("Glue every joint. Where little wood overlaps, glue a scrap of stick over the joint."),)
    lap = amount(glue.lap_mm, "mm")
    if glue.gusset is not None:
        thick = amount(glue.gusset.thickness_mm, "mm")
        return (
            _(
                "Glue a gusset over each joint, {thickness} thick. It must cover {lap} of every stick that ends there.",
                thickness=thick,
                lap=lap,
            ),
            _("When it is dry, turn the truss over and glue gussets on the other face."),
        )
    said = [_("Each end should be glued over {lap}.", lap=lap)]
    if any(stick.section.kind == "round" for stick in brief.stock.values()):
        said.append(_("Cut the ends of round sticks flat, to half their thickness."))
    said.append(_("Where less wood overlaps, glue a scrap of stick over the joint."))
    return (" ".join(said),)


def _sides(sides: int) -> tuple[str, ...]:
    if sides == 1:
        return ()
    if sides == 2:
        more = _("Build the other side on the same plan.")
    else:
        more = _("Build the other {count} sides likewise.", count=sides - 1)
    compare = _("Compare the sides: lay one on the other.")
    return (
        f"{more} {compare}",
        _("Stand the sides up and join them with cross members. Check with a set square that they stand upright."),
    )
