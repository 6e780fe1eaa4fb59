"""A brief in plain words: what to build, as pairs of a name and a sentence with units."""

from __future__ import annotations

from rubric.brief import ALONG, TRAVELLING, Brief, Stick
from rubric.criteria.common import Criterion
from rubric.measures import CATALOGUE
from rubric.quantities import STANDARD_GRAVITY
from rubric.woods import WOODS
from rubric.wording import figure, listed, plural

Facts = tuple[tuple[str, tuple[str, ...]], ...]


def facts(brief: Brief) -> Facts:
    """Name and lines, in the order in which a student needs them."""
    rows = (
        ("The truss", _problem(brief)),
        ("Span", (f"{figure(brief.span_mm, 4)} mm from support to support.",)),
        ("Supports", _supports(brief)),
        ("Load to carry", _load(brief)),
        ("Side trusses", _sides(brief)),
        ("Your kit", _kit(brief)),
        ("Wood", _wood(brief)),
        ("Glue", _glue(brief)),
        ("How it is worked out", _method(brief)),
        ("Pushed members", _struts(brief)),
        ("Limits", _limits(brief)),
        ("Cross members and deck", _cross_members(brief)),
    )
    return tuple((name, lines) for name, lines in rows if lines)


def criterion_asks(criterion: Criterion) -> str:
    """What a criterion asks for, in one line, before anything is measured."""
    asked = criterion.asked
    measure = getattr(criterion, "measure", "")
    return f"{measure}: {asked}" if measure and measure not in asked else asked


def criterion_means(criterion: Criterion) -> str:
    """What the measure of a criterion is, in a sentence; nothing for a criterion without one."""
    measure = CATALOGUE.get(getattr(criterion, "measure", ""))
    return measure.meaning if measure else ""


def _problem(brief: Brief) -> tuple[str, ...]:
    """The truss that is given, where students hand in their working alone."""
    if brief.problem is None:
        return ()
    places = [f"{name} ({figure(x, 4)}, {figure(y, 4)})" for name, (x, y) in brief.problem.joints.items()]
    return (
        f"Joints, with x and y in mm: {', '.join(places)}.",
        f"Members: {', '.join(brief.problem.members)}.",
        "The truss is given. Hand in your working alone: a file with the block 'working'.",
    )


def _supports(brief: Brief) -> tuple[str, ...]:
    ends = (("left", brief.supports.left, "x = 0"), ("right", brief.supports.right, f"x = {figure(brief.span_mm, 4)}"))
    return tuple(f"On the {side}, at {x} mm, y = 0 mm: {_support_said(word)}." for side, word, x in ends)


def _support_said(word: str) -> str:
    if word == "pin":
        return "a pin. It holds the joint in place, but lets it turn"
    if word == "roller":
        return "a roller. It carries weight, but lets the joint slide sideways"
    if word == "roller y":
        return "a roller that lets the joint slide up and down"
    return f"a roller that slides along a line {word.removeprefix('roller ')} degrees up from x"


def _load(brief: Brief) -> tuple[str, ...]:
    target = brief.load.target_N
    weight = f"{figure(target)} N on the whole bridge, pulling down, as if {figure(target / STANDARD_GRAVITY)} kg hung."
    places = brief.load.places
    if places == "midspan":
        return weight, f"It hangs at midspan: put a joint at x = {figure(brief.span_mm / 2, 4)} mm, y = 0 mm."
    if places == ALONG:
        return weight, "It is spread along the deck, over all joints at y = 0 mm."
    if places == TRAVELLING:
        return weight, "It stands on each joint of the deck (y = 0 mm) in turn. The bridge must carry it everywhere."
    each = listed([f"x = {figure(place, 4)} mm" for place in places if not isinstance(place, str)])
    return weight, f"It hangs in equal parts at {each}, y = 0 mm: put a joint at each."


def _sides(brief: Brief) -> tuple[str, ...]:
    if brief.sides == 1:
        return ("One truss carries everything.",)
    drawn = f"The bridge has {brief.sides} side trusses, all alike. You draw one of them."
    return drawn, f"The most loaded one is checked with {figure(100 * brief.side_share)} % of the load."


def _kit(brief: Brief) -> tuple[str, ...]:
    lines = [_stick(name, stick) for name, stick in brief.stock.items()]
    if brief.kerf_mm:
        lines.append(f"Each saw cut takes {figure(brief.kerf_mm)} mm away.")
    return tuple(lines)


def _stick(name: str, stick: Stick) -> str:
    return f"{plural(stick.count, 'stick')} called {name}: {stick.section.said}, {figure(stick.length_mm, 4)} mm long."


def _wood(brief: Brief) -> tuple[str, ...]:
    wood, table = brief.wood, WOODS.get(brief.wood.material)
    named = (
        ("density", wood.density_kg_m3 or (table and table.density_kg_m3), "kg/m\N{SUPERSCRIPT THREE}"),
        ("Young's modulus", wood.modulus_MPa or (table and table.modulus_MPa), "MPa"),
        ("strength in tension", wood.tension_MPa or (table and table.tension_MPa), "MPa"),
        ("in compression", wood.compression_MPa or (table and table.compression_MPa), "MPa"),
        ("in shear", wood.shear_MPa or (table and table.shear_MPa), "MPa"),
    )
    values = [f"{name} {figure(value, 4)} {unit}" for name, value, unit in named if value]
    together = "along their whole length" if brief.glued == "along" else "at their ends only: each buckles alone"
    lines = [
        f"{wood.material.capitalize()}: {', '.join(values)}.",
        f"At most {plural(brief.most_sticks, 'stick')} may be side by side in a member, glued {together}.",
    ]
    if wood.strengths == "by density":
        lines.append("Strengths that the brief does not give follow the density of the wood.")
    if wood.strength_level != "mean":
        lines.append(f"Strengths count at their {wood.strength_level}: so many sticks are weaker than that.")
    return tuple(lines)


def _method(brief: Brief) -> tuple[str, ...]:
    """What a student cannot guess of the computing, where the brief asks for more than usual."""
    lines = []
    if brief.self_weight == "counted":
        lines.append("The bridge carries its own weight too.")
    if brief.joints == "rigid":
        lines.append("Glued joints count as stiff, so that members are bent as well as pulled and pushed.")
    return tuple(lines)


def _struts(brief: Brief) -> tuple[str, ...]:
    """How pushed members are checked, where a student should know more than that they buckle."""
    lines = []
    if brief.column_curve != "Euler and Johnson":
        lines.append(f"Pushed members are checked by the column curve of {brief.column_curve}.")
    if brief.bracing_mm is not None:
        lines.append(f"Cross members hold the sides every {figure(brief.bracing_mm, 4)} mm against bending sideways.")
    if brief.effective_length != 1:
        lines.append(f"Buckling counts {figure(brief.effective_length)} times the length between joints.")
    return tuple(lines)


def _glue(brief: Brief) -> tuple[str, ...]:
    if brief.glue is None:
        return ()
    return (
        f"Each stick is glued over {figure(brief.glue.lap_mm)} mm at each end; "
        f"the glue holds {figure(brief.glue.strength_MPa)} MPa in shear.",
        "A glued end shears off in the glue or in the wood beside it, whichever is weaker.",
        *(("Gussets are glued on both faces of each joint.",) if brief.glue.gusset else ()),
    )


def _limits(brief: Brief) -> tuple[str, ...]:
    limits = brief.limits
    said = (
        (limits.depth_above_mm, "No joint higher than {} mm above the deck."),
        (limits.depth_below_mm, "No joint deeper than {} mm below the deck."),
        (limits.mass_g, "The whole bridge has at most {} g."),
        (limits.joints, "At most {} joints in a side truss."),
        (limits.longest_member_mm, "No member longer than {} mm."),
        (limits.shortest_member_mm, "No member shorter than {} mm."),
        (limits.slenderness, "No pushed member with a slenderness over {}."),
    )
    lines = [text.format(figure(value, 4)) for value, text in said if value is not None]
    if limits.depth_below_mm == 0:
        lines = ["No joint below the deck." if line.startswith("No joint deeper than 0 ") else line for line in lines]
    return tuple(lines)


def _cross_members(brief: Brief) -> tuple[str, ...]:
    if brief.cross_members is None:
        return ()
    return (f"They tie the sides together. You do not design them. They add {figure(brief.cross_members.mass_g)} g.",)
