"""The member that breaks first, worked through: its stress, and what it can carry, as deep as the brief asks.

Formulas: worker/strength/columns.py and worker/strength/joints.py name their sources.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from rubric.brief import Brief
from rubric.messages.outcomes import Analysis, MemberRow
from rubric.wording import amount, figure
from worker.feedback.text import isolated
from worker.strength.columns import instability_factor, le_over_d, relative_slenderness, transition_slenderness
from worker.strength.joints import GUSSETS, lap_width_mm
from worker.strength.wood import Wood, at_level, scatter, wood

SQUARED = "\N{SUPERSCRIPT TWO}"
PI = "\N{GREEK SMALL LETTER PI}"
ROOT = "\N{SQUARE ROOT}"


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
    way = "pulled" if row.hardest_N > 0 else "pushed"
    yield (
        f"{name} is {way} with {figure(force_N, 4)} N. Its section is {figure(row.area_mm2, 4)} mm{SQUARED}. "
        f"Stress = force / area = {figure(force_N, 4)} / {figure(row.area_mm2, 4)} = "
        f"{figure(force_N / row.area_mm2, 4)} MPa (N/mm{SQUARED})."
    )
    if row.bending_MPa:
        yield (
            f"Its stiff joints bend it as well: up to {figure(row.bending_MPa, 4)} MPa more, of the "
            f"{figure(material.bending_MPa, 4)} MPa that bent wood takes."
        )
    yield from _capacity(row, brief, material)
    yield (
        f"It uses {figure(force_N, 4)} / {figure(row.capacity_N or 0.0, 4)} = "
        f"{amount(force_N / (row.capacity_N or math.inf), '%')} of that at the target load of "
        f"{amount(brief.load.target_N, 'N')}."
    )
    if analysis.travel is None and brief.self_weight == "left out" and not row.bending_MPa:
        load_N = brief.load.target_N * (row.capacity_N or 0.0) / force_N
        yield (
            "Twice the load, twice the force. So it fails when the load is "
            f"{amount(brief.load.target_N, 'N')} × {figure(row.capacity_N or 0.0, 4)} / {figure(force_N, 4)} = "
            f"{amount(load_N, 'N')}."
        )


def _capacity(row: MemberRow, brief: Brief, material: Wood) -> Iterator[str]:
    """What it can carry in the mode in which it fails."""
    can = figure(row.capacity_N or 0.0, 4)
    if row.mode == "joint":
        yield _glued(row, brief, material, can)
    elif row.hardest_N > 0:
        yield (
            f"This wood tears at about {figure(material.tension_MPa, 4)} MPa. It can take "
            f"{figure(material.tension_MPa, 4)} × {figure(row.area_mm2, 4)} = {can} N."
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
    weaker = "the glue" if glue_MPa <= material.shear_MPa else "the wood beside the glue"
    area = f"{figure(glue.lap_mm, 4)} × {figure(width_mm, 4)}" + (f" × {faces} faces" if faces > 1 else "")
    whole_N = glue.lap_mm * width_mm * faces * holds_MPa
    if row.capacity_N is not None and whole_N > row.capacity_N * (1 + 1e-6):
        return f"At its ends the gussets tear first. They can take {can} N."
    return (
        f"At each end it is glued over {area} = {figure(glue.lap_mm * width_mm * faces, 4)} mm{SQUARED}. "
        f"There {weaker} shears at {figure(holds_MPa, 4)} MPa, so an end can take "
        f"{figure(glue.lap_mm * width_mm * faces, 4)} × {figure(holds_MPa, 4)} = {can} N."
    )


def _strut(row: MemberRow, brief: Brief, material: Wood, can: str) -> Iterator[str]:
    """Crushing and buckling, in words, as a ratio or by the formula of the brief's column curve."""
    crushing_N = material.compression_MPa * row.area_mm2
    crushed = (
        f"If it only crushed, it would take {figure(material.compression_MPa, 4)} × {figure(row.area_mm2, 4)} = "
        f"{figure(crushing_N, 4)} N."
    )
    part = amount((row.capacity_N or 0.0) / crushing_N, "%")
    if brief.buckling_shown == "in words":
        yield (
            f"{crushed} But a long thin strut bends out sideways first, like a ruler pushed at its ends. So it can "
            f"take only {can} N. Twice as long, it would take about a quarter of that."
        )
        return
    yield (
        f"{crushed} Its slenderness is {figure(row.slenderness, 4)}: its length between joints over a number "
        "that says how stiff its section is, its radius of gyration. "
        f"At that slenderness {part} of the crushing force is left: {can} N."
    )
    if brief.buckling_shown == "by formula":
        yield _FORMULAS[brief.column_curve](row, material, can)


def _euler_and_johnson(row: MemberRow, material: Wood, can: str) -> str:
    E, fc, l = material.column_modulus_MPa, material.compression_MPa, row.slenderness  # noqa: E741
    limit = transition_slenderness(E, fc)
    if l >= limit:
        return (
            f"Euler's formula, for slenderness over {figure(limit, 4)}: {PI}{SQUARED} E A / slenderness{SQUARED} = "
            f"{PI}{SQUARED} × {figure(E, 4)} × {figure(row.area_mm2, 4)} / {figure(l, 4)}{SQUARED} = {can} N."
        )
    return (
        f"Johnson's formula, for slenderness up to {figure(limit, 4)}: f A (1 − f × slenderness{SQUARED} / "
        f"(4 {PI}{SQUARED} E)), with f = {figure(fc, 4)} MPa for crushing and E = {figure(E, 4)} MPa: "
        f"{figure(fc, 4)} × {figure(row.area_mm2, 4)} × {figure((row.capacity_N or 0.0) / (fc * row.area_mm2), 4)} = "
        f"{can} N."
    )


def _en_1995(row: MemberRow, material: Wood, can: str) -> str:
    E, fc = material.column_modulus_MPa, material.compression_MPa
    relative = relative_slenderness(E, fc, row.slenderness)
    return (
        f"EN 1995-1-1, 6.3.2: relative slenderness = slenderness / {PI} × {ROOT}(f / E) = "
        f"{figure(row.slenderness, 4)} / {PI} × {ROOT}({figure(fc, 4)} / {figure(E, 4)}) = {figure(relative, 4)}. "
        f"Its column curve gives the factor {figure(instability_factor(relative), 4)}: "
        f"{figure(instability_factor(relative), 4)} × {figure(fc, 4)} × {figure(row.area_mm2, 4)} = {can} N."
    )


def _nds(row: MemberRow, material: Wood, can: str) -> str:
    E, fc, ratio = material.column_modulus_MPa, material.compression_MPa, le_over_d(row.slenderness)
    critical_MPa = 0.822 * E / ratio**2
    factor = (row.capacity_N or 0.0) / (fc * row.area_mm2)
    return (
        f"NDS, 3.7.1: length over thickness = {figure(ratio, 4)}. "
        f"Critical stress = 0.822 E / {figure(ratio, 4)}{SQUARED} = "
        f"{figure(critical_MPa, 4)} MPa. Its column factor is {figure(factor, 4)}: "
        f"{figure(factor, 4)} × {figure(fc, 4)} × {figure(row.area_mm2, 4)} = {can} N."
    )


_FORMULAS = {"Euler and Johnson": _euler_and_johnson, "EN 1995-1-1": _en_1995, "NDS": _nds}
