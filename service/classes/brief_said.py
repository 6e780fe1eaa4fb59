"""A brief in plain words: what to build, as pairs of a name and a sentence with units."""

from __future__ import annotations

from rubric.brief import ALONG, TRAVELLING, Brief, Stick
from rubric.criteria.common import Criterion
from rubric.language import _, counted, later
from rubric.measures import CATALOGUE
from rubric.quantities import STANDARD_GRAVITY
from rubric.woods import WOODS
from rubric.wording import figure, listed

_NAMES = {
    "balsa": later("Balsa"),
    "basswood": later("Basswood"),
    "spruce": later("Spruce"),
    "pine": later("Pine"),
    "birch": later("Birch"),
}
"""Woods that the tables know; others are called as the brief calls them."""

Facts = tuple[tuple[str, tuple[str, ...]], ...]


def facts(brief: Brief) -> Facts:
    """Name and lines, in the order in which a student needs them."""
    rows = (
        (_("The truss"), _problem(brief)),
        (_("Span"), (_("{span} mm from support to support.", span=figure(brief.span_mm, 4)),)),
        (_("Supports"), _supports(brief)),
        (_("Load to carry"), _load(brief)),
        (_("Side trusses"), _sides(brief)),
        (_("Your kit"), _kit(brief)),
        (_("Wood"), _wood(brief)),
        (_("Glue"), _glue(brief)),
        (_("How it is worked out"), _method(brief)),
        (_("Pushed members"), _struts(brief)),
        (_("Limits"), _limits(brief)),
        (_("Cross members and deck"), _cross_members(brief)),
    )
    return tuple((name, lines) for name, lines in rows if lines)


def criterion_asks(criterion: Criterion) -> str:
    """What a criterion asks for, in one line, before anything is measured."""
    asked = criterion.asked
    measure = CATALOGUE.get(getattr(criterion, "measure", ""))
    return f"{measure.said}: {asked}" if measure and measure.said not in asked else asked


def criterion_means(criterion: Criterion) -> str:
    """What the measure of a criterion is, in a sentence; nothing for a criterion without one."""
    measure = CATALOGUE.get(getattr(criterion, "measure", ""))
    return _(measure.meaning) if measure else ""


def _problem(brief: Brief) -> tuple[str, ...]:
    """The truss that is given, where students hand in their working alone."""
    if brief.problem is None:
        return ()
    places = [f"{name} ({figure(x, 4)}, {figure(y, 4)})" for name, (x, y) in brief.problem.joints.items()]
    return (
        _("Joints, with x and y in mm: {joints}.", joints=", ".join(places)),
        _("Members: {members}.", members=", ".join(brief.problem.members)),
        _("The truss is given. Hand in your working alone: a file with the block 'working'."),
    )


def _supports(brief: Brief) -> tuple[str, ...]:
    left, right = _support_said(brief.supports.left), _support_said(brief.supports.right)
    return (
        _("On the left, at x = 0 mm, y = 0 mm: {support}.", support=left),
        _("On the right, at x = {x} mm, y = 0 mm: {support}.", x=figure(brief.span_mm, 4), support=right),
    )


def _support_said(word: str) -> str:
    if word == "pin":
        return _("a pin. It holds the joint in place, but lets it turn")
    if word == "roller":
        return _("a roller. It carries weight, but lets the joint slide sideways")
    if word == "roller y":
        return _("a roller that lets the joint slide up and down")
    return _("a roller that slides along a line {angle} degrees up from x", angle=word.removeprefix("roller "))


def _load(brief: Brief) -> tuple[str, ...]:
    target = brief.load.target_N
    weight = _(
        "{load} N on the whole bridge, pulling down, as if {mass} kg hung.",
        load=figure(target),
        mass=figure(target / STANDARD_GRAVITY),
    )
    places = brief.load.places
    if places == "midspan":
        return weight, _("It hangs at midspan: put a joint at x = {x} mm, y = 0 mm.", x=figure(brief.span_mm / 2, 4))
    if places == ALONG:
        return weight, _("It is spread along the deck, over all joints at y = 0 mm.")
    if places == TRAVELLING:
        return weight, _("It stands on each joint of the deck (y = 0 mm) in turn. The bridge must carry it everywhere.")
    each = listed([f"x = {figure(place, 4)} mm" for place in places if not isinstance(place, str)])
    return weight, _("It hangs in equal parts at {places}, y = 0 mm: put a joint at each.", places=each)


def _sides(brief: Brief) -> tuple[str, ...]:
    if brief.sides == 1:
        return (_("One truss carries everything."),)
    drawn = _("The bridge has {count} side trusses, all alike. You draw one of them.", count=brief.sides)
    return drawn, _("The most loaded one is checked with {part} % of the load.", part=figure(100 * brief.side_share))


def _kit(brief: Brief) -> tuple[str, ...]:
    lines = [_stick(name, stick) for name, stick in brief.stock.items()]
    if brief.kerf_mm:
        lines.append(_("Each saw cut takes {width} mm away.", width=figure(brief.kerf_mm)))
    return tuple(lines)


def _stick(name: str, stick: Stick) -> str:
    return counted(
        "{count} stick called {name}: {section}, {length} mm long.",
        "{count} sticks called {name}: {section}, {length} mm long.",
        stick.count,
        name=name,
        section=stick.section.said,
        length=figure(stick.length_mm, 4),
    )


def _wood(brief: Brief) -> tuple[str, ...]:
    wood, table = brief.wood, WOODS.get(brief.wood.material)
    named = (
        (_("density"), wood.density_kg_m3 or (table and table.density_kg_m3), "kg/m\N{SUPERSCRIPT THREE}"),
        (_("Young's modulus"), wood.modulus_MPa or (table and table.modulus_MPa), "MPa"),
        (_("strength in tension"), wood.tension_MPa or (table and table.tension_MPa), "MPa"),
        (_("in compression"), wood.compression_MPa or (table and table.compression_MPa), "MPa"),
        (_("in shear"), wood.shear_MPa or (table and table.shear_MPa), "MPa"),
    )
    values = [f"{name} {figure(value, 4)} {unit}" for name, value, unit in named if value]
    lines = [f"{_(_NAMES.get(wood.material, wood.material.capitalize()))}: {', '.join(values)}.", _side_by_side(brief)]
    if wood.strengths == "by density":
        lines.append(_("Strengths that the brief does not give follow the density of the wood."))
    if wood.strength_level != "mean":
        lines.append(
            _(
                "Strengths count at their {level}: so many sticks are weaker than that.",
                level=_level_said(wood.strength_level),
            )
        )
    return tuple(lines)


def _level_said(level: str) -> str:
    return _("{part} fractile", part=level.removesuffix(" fractile"))


def _side_by_side(brief: Brief) -> str:
    if brief.glued == "along":
        return counted(
            "At most {count} stick may be side by side in a member, glued along their whole length.",
            "At most {count} sticks may be side by side in a member, glued along their whole length.",
            brief.most_sticks,
        )
    return counted(
        "At most {count} stick may be side by side in a member, glued at their ends only: each buckles alone.",
        "At most {count} sticks may be side by side in a member, glued at their ends only: each buckles alone.",
        brief.most_sticks,
    )


def _method(brief: Brief) -> tuple[str, ...]:
    """What a student cannot guess of the computing, where the brief asks for more than usual."""
    lines = []
    if brief.self_weight == "counted":
        lines.append(_("The bridge carries its own weight too."))
    if brief.joints == "rigid":
        lines.append(_("Glued joints count as stiff, so that members are bent as well as pulled and pushed."))
    return tuple(lines)


def _struts(brief: Brief) -> tuple[str, ...]:
    """How pushed members are checked, where a student should know more than that they buckle."""
    lines = []
    if brief.column_curve != "Euler and Johnson":
        lines.append(_("Pushed members are checked by the column curve of {name}.", name=brief.column_curve))
    if brief.bracing_mm is not None:
        lines.append(
            _(
                "Cross members hold the sides every {length} mm against bending sideways.",
                length=figure(brief.bracing_mm, 4),
            )
        )
    if brief.effective_length != 1:
        lines.append(
            _("Buckling counts {times} times the length between joints.", times=figure(brief.effective_length))
        )
    return tuple(lines)


def _glue(brief: Brief) -> tuple[str, ...]:
    if brief.glue is None:
        return ()
    return (
        _(
            "Each stick is glued over {lap} mm at each end; the glue holds {strength} MPa in shear.",
            lap=figure(brief.glue.lap_mm),
            strength=figure(brief.glue.strength_MPa),
        ),
        _("A glued end shears off in the glue or in the wood beside it, whichever is weaker."),
        *((_("Gussets are glued on both faces of each joint."),) if brief.glue.gusset else ()),
    )


def _limits(brief: Brief) -> tuple[str, ...]:
    limits = brief.limits
    said = (
        (limits.depth_above_mm, _("No joint higher than {limit} mm above the deck.")),
        (limits.depth_below_mm, _("No joint deeper than {limit} mm below the deck.")),
        (limits.mass_g, _("The whole bridge has at most {limit} g.")),
        (limits.joints, _("At most {limit} joints in a side truss.")),
        (limits.longest_member_mm, _("No member longer than {limit} mm.")),
        (limits.shortest_member_mm, _("No member shorter than {limit} mm.")),
        (limits.slenderness, _("No pushed member with a slenderness over {limit}.")),
    )
    lines = [text.format(limit=figure(value, 4)) for value, text in said if value is not None]
    if limits.depth_below_mm == 0:
        deep = said[1][1].format(limit=figure(0, 4))
        lines = [_("No joint below the deck.") if line == deep else line for line in lines]
    return tuple(lines)


def _cross_members(brief: Brief) -> tuple[str, ...]:
    if brief.cross_members is None:
        return ()
    return (
        _(
            "They tie the sides together. You do not design them. They add {mass} g.",
            mass=figure(brief.cross_members.mass_g),
        ),
    )
