"""The member that breaks first, worked through: its stress, and what it can carry, as deep as the brief asks.

Formulas: worker/strength/columns.py and worker/strength/joints.py name their sources.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from rubric.brief import Brief
from rubric.language import _
from rubric.messages.outcomes import Analysis, MemberRow
from rubric.wording import amount, figure
from worker.feedback.text import isolated
from worker.strength.columns import instability_factor, le_over_d, relative_slenderness, transition_slenderness
from worker.strength.joints import GUSSETS, lap_width_mm
from worker.strength.wood import Wood, at_level, scatter, wood


def failure(analysis: Analysis, brief: Brief) -> tuple[str, ...]:
    """Sentences with numbers; nothing where no member fails."""
    first = analysis.first_failure
    row = next((row for row in analysis.members if first and row.name == first.member), None)
    if first is None or row is None or row.capacity_N is None:
        return ()
    return tuple(_worked(analysis, row, brief))


def _worked(analysis: Analysis, row: MemberRow, brief: Brief) -> Iterator[str]:
    material, name = wood(brief.wood), isolated(row.name, 20)
    force_N = abs(row.hardest_N)
    force, capacity, target = figure(force_N, 4), figure(row.capacity_N or 0.0, 4), amount(brief.load.target_N, "N")
    if row.hardest_N > 0:
        acting = _("{member} is pulled with {force} N.", member=name, force=force)
    else:
        acting = _("{member} is pushed with {force} N.", member=name, force=force)
    stress = _(
        "Its section is {area} mm². Stress = force / area = {force} / {area} = {stress} MPa (N/mm²).",
        force=force,
        area=figure(row.area_mm2, 4),
        stress=figure(force_N / row.area_mm2, 4),
    )
    yield f"{acting} {stress}"
    if row.bending_MPa:
        yield _(
            "Its stiff joints bend it as well: up to {stress} MPa more, of the {most} MPa that bent wood takes.",
            stress=figure(row.bending_MPa, 4),
            most=figure(material.bending_MPa, 4),
        )
    yield from _capacity(row, brief, material)
    yield _(
        "It uses {force} / {capacity} = {part} of that at the target load of {load}.",
        force=force,
        capacity=capacity,
        part=amount(force_N / (row.capacity_N or math.inf), "%"),
        load=target,
    )
    if analysis.travel is None and brief.self_weight == "left out" and not row.bending_MPa:
        yield _(
            "Twice the load, twice the force. So it fails when the load is {load} × {capacity} / {force} = {most}.",
            load=target,
            capacity=capacity,
            force=force,
            most=amount(brief.load.target_N * (row.capacity_N or 0.0) / force_N, "N"),
        )


def _capacity(row: MemberRow, brief: Brief, material: Wood) -> Iterator[str]:
    """What it can carry in the mode in which it fails."""
    can = figure(row.capacity_N or 0.0, 4)
    if row.mode == "joint":
        yield _glued(row, brief, material, can)
    elif row.hardest_N > 0:
        yield _(
            "This wood tears at about {strength} MPa. It can take {strength} × {area} = {can} N.",
            strength=figure(material.tension_MPa, 4),
            area=figure(row.area_mm2, 4),
            can=can,
        )
    else:
        yield from _strut(row, brief, material, can)


def _glued(row: MemberRow, brief: Brief, material: Wood, can: str) -> str:
    glue = brief.glue
    assert glue is not None
    width_mm = lap_width_mm(brief.stock[row.stick].section)
    faces = GUSSETS if glue.gusset else row.count
    glue_MPa = at_level(brief.wood, glue.strength_MPa, scatter(brief.wood).glue)
    holds_MPa = min(glue_MPa, material.shear_MPa)
    sides = f"{figure(glue.lap_mm, 4)} × {figure(width_mm, 4)}"
    area = _("{area} × {count} faces", area=sides, count=faces) if faces > 1 else sides
    whole_N = glue.lap_mm * width_mm * faces * holds_MPa
    if row.capacity_N is not None and whole_N > row.capacity_N * (1 + 1e-6):
        return _("At its ends the gussets tear first. They can take {can} N.", can=can)
    whole = figure(glue.lap_mm * width_mm * faces, 4)
    values = {"whole": whole, "strength": figure(holds_MPa, 4), "can": can}
    glued = _("At each end it is glued over {area} = {whole} mm².", area=area, whole=whole)
    if glue_MPa <= material.shear_MPa:
        shears = _(
            "There the glue shears at {strength} MPa, so an end can take {whole} × {strength} = {can} N.", **values
        )
    else:
        shears = _(
            "There the wood beside the glue shears at {strength} MPa, so an end can take "
            "{whole} × {strength} = {can} N.",
            **values,
        )
    return f"{glued} {shears}"


def _strut(row: MemberRow, brief: Brief, material: Wood, can: str) -> Iterator[str]:
    """Crushing and buckling, in words, as a ratio or by the formula of the brief's column curve."""
    crushing_N = material.compression_MPa * row.area_mm2
    crushed = _(
        "If it only crushed, it would take {strength} × {area} = {crushing} N.",
        strength=figure(material.compression_MPa, 4),
        area=figure(row.area_mm2, 4),
        crushing=figure(crushing_N, 4),
    )
    part = amount((row.capacity_N or 0.0) / crushing_N, "%")
    if brief.buckling_shown == "in words":
        buckles = _(
            "But a long thin strut bends out sideways first, like a ruler pushed at its ends. So it can take only "
            "{can} N. Twice as long, it would take about a quarter of that.",
            can=can,
        )
        yield f"{crushed} {buckles}"
        return
    slender = _(
        "Its slenderness is {slenderness}: its length between joints over a number that says how stiff its section "
        "is, its radius of gyration. At that slenderness {part} of the crushing force is left: {can} N.",
        slenderness=figure(row.slenderness, 4),
        part=part,
        can=can,
    )
    yield f"{crushed} {slender}"
    if brief.buckling_shown == "by formula":
        yield _FORMULAS[brief.column_curve](row, material, can)


def _euler_and_johnson(row: MemberRow, material: Wood, can: str) -> str:
    E, fc, l = material.column_modulus_MPa, material.compression_MPa, row.slenderness  # noqa: E741
    limit = transition_slenderness(E, fc)
    if l >= limit:
        return _(
            "Euler's formula, for slenderness over {limit}: π² E A / slenderness² = "
            "π² × {E} × {area} / {slenderness}² = {can} N.",
            limit=figure(limit, 4),
            E=figure(E, 4),
            area=figure(row.area_mm2, 4),
            slenderness=figure(l, 4),
            can=can,
        )
    return _(
        "Johnson's formula, for slenderness up to {limit}: f A (1 − f × slenderness² / (4 π² E)), "
        "with f = {f} MPa for crushing and E = {E} MPa: {f} × {area} × {factor} = {can} N.",
        limit=figure(limit, 4),
        f=figure(fc, 4),
        E=figure(E, 4),
        area=figure(row.area_mm2, 4),
        factor=figure((row.capacity_N or 0.0) / (fc * row.area_mm2), 4),
        can=can,
    )


def _en_1995(row: MemberRow, material: Wood, can: str) -> str:
    E, fc = material.column_modulus_MPa, material.compression_MPa
    relative = relative_slenderness(E, fc, row.slenderness)
    return _(
        "EN 1995-1-1, 6.3.2: relative slenderness = slenderness / π × √(f / E) = "
        "{slenderness} / π × √({f} / {E}) = {relative}. "
        "Its column curve gives the factor {factor}: {factor} × {f} × {area} = {can} N.",
        slenderness=figure(row.slenderness, 4),
        f=figure(fc, 4),
        E=figure(E, 4),
        relative=figure(relative, 4),
        factor=figure(instability_factor(relative), 4),
        area=figure(row.area_mm2, 4),
        can=can,
    )


def _nds(row: MemberRow, material: Wood, can: str) -> str:
    E, fc, ratio = material.column_modulus_MPa, material.compression_MPa, le_over_d(row.slenderness)
    critical_MPa = 0.822 * E / ratio**2
    factor = (row.capacity_N or 0.0) / (fc * row.area_mm2)
    return _(
        "NDS, 3.7.1: length over thickness = {ratio}. Critical stress = {number} E / {ratio}² = {critical} MPa. "
        "Its column factor is {factor}: {factor} × {f} × {area} = {can} N.",
        ratio=figure(ratio, 4),
        number=figure(0.822),
        critical=figure(critical_MPa, 4),
        factor=figure(factor, 4),
        f=figure(fc, 4),
        area=figure(row.area_mm2, 4),
        can=can,
    )


_FORMULAS = {"Euler and Johnson": _euler_and_johnson, "EN 1995-1-1": _en_1995, "NDS": _nds}
