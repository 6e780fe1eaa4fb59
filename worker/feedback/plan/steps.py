"""How to build it: short sentences, in the order things are done."""

from __future__ import annotations

from rubric.brief import Brief
from rubric.messages.outcomes import Analysis
from rubric.wording import amount
from worker.feedback.plan.laying import doubled


def steps(analysis: Analysis, brief: Brief, layers: int, pages: int) -> tuple[str, ...]:
    """What to do, a dozen steps at most; ``pages`` is how many the full-size plan has, 0 where there is none."""
    return (
        *_plan(pages),
        "Write each letter on the wood with a pencil. Then cut the pieces, the longest first.",
        "Lay each piece on the plan to check it. A piece that is too long can be cut again.",
        *_together(analysis, brief),
        *_laid(layers),
        *_glued(brief),
        "Hold the sticks down with pins beside the wood, never through it. Wipe off glue that runs out.",
        "Let it dry lying flat, as long as the glue needs. A night is best.",
        *_sides(brief.sides),
    )


def _plan(pages: int) -> tuple[str, ...]:
    if not pages:
        return ("Draw the joints at full size on a long sheet of paper: the list of joints says where each one is.",)
    joined = (
        ("Cut each page where it says 'cut here'. Lay it on the page it names so that the crosses meet, and tape it.",)
        if pages > 1
        else ()
    )
    return (
        "Print the plan at 100 %. Measure the bar on each page: it must be 100 mm long.",
        *joined,
        "Fix the plan to a flat board. Cover it with clear film or baking paper, so that no glue sticks to it.",
    )


def _together(analysis: Analysis, brief: Brief) -> tuple[str, ...]:
    if not any(doubled(analysis)):
        return ()
    where = "along their whole length" if brief.glued == "along" else "at both ends"
    return (f"Glue the sticks of doubled members to each other {where}, and let them dry.",)


def _laid(layers: int) -> tuple[str, ...]:
    if layers == 1:
        return ("Lay all sticks on the plan. Trim the ends so that they fit against each other without a gap.",)
    on_top = "Then glue on layer 2." if layers == 2 else f"Then glue on layer 2, and so on up to layer {layers}."
    packed = " Where a stick would hang in the air, put a scrap of wood under it." if layers > 2 else ""
    return (
        f"Lay the sticks of layer 1 on the plan. {on_top}",
        f"Trim ends that meet in one layer, so that they fit without a gap.{packed}",
    )


def _glued(brief: Brief) -> tuple[str, ...]:
    glue = brief.glue
    if glue is None:
        return ("Glue every joint. Where little wood overlaps, glue a scrap of stick over the joint.",)
    lap = amount(glue.lap_mm, "mm")
    if glue.gusset is not None:
        thick = amount(glue.gusset.thickness_mm, "mm")
        return (
            f"Glue a gusset over each joint, {thick} thick. It must cover {lap} of every stick that ends there.",
            "When it is dry, turn the truss over and glue gussets on the other face.",
        )
    halved = any(stick.section.kind == "round" for stick in brief.stock.values())
    flat = " Cut the ends of round sticks flat, to half their thickness." if halved else ""
    return (
        f"Each end should be glued over {lap}.{flat} Where less wood overlaps, glue a scrap of stick over the joint.",
    )


def _sides(sides: int) -> tuple[str, ...]:
    if sides == 1:
        return ()
    more = "Build the other side on the same plan." if sides == 2 else f"Build the other {sides - 1} sides likewise."
    return (
        f"{more} Compare the sides: lay one on the other.",
        "Stand the sides up and join them with cross members. Check with a set square that they stand upright.",
    )
