"""``kingpost solve``: one truss file, solved at the command line."""

from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path
from typing import Any

from rubric.brief import Brief
from rubric.located import MOST_BYTES
from rubric.problems import Problem, Refused
from worker import statics
from worker.commands import given
from worker.commands.bridge import bridge_of
from worker.statics import Solution, StiffnessMissing
from worker.truss.model import Member, Truss
from worker.truss.reader import read_truss

SOLVED, MECHANISM, WRONG = 0, 1, 2
"""Exit statuses."""

FIGURES = 12
"""Significant figures printed: what a double holds, less its last noise."""


def command(arguments: list[str]) -> int:
    """Solve one truss file: member forces, reactions, displacements.

    Exit status 0: solved; 1: the truss is a mechanism; 2: the file is wrong.
    """
    options = _options(arguments)
    try:
        brief = given.brief(options.brief) if options.brief else None
        data = sys.stdin.buffer.read(MOST_BYTES + 1) if options.file == "-" else given.read_bytes(Path(options.file))
        truss = read_truss(data, brief)
        solution, more = _solve(truss, brief)
    except given.GivenWrong as wrong:
        return _wrong(list(wrong.args))
    except OSError as error:
        return _wrong([f"{options.file}: cannot be read: {error.strerror or error}."])
    except Refused as refused:
        return _wrong([f"{options.file}: {problem}" for problem in refused.problems])
    answer = {**answer_of(truss, solution), **more}
    print(json.dumps(answer, ensure_ascii=False) if options.json else _table(truss, answer))  # noqa: T201
    return SOLVED if solution.state == "stable" else MECHANISM


def _options(arguments: list[str]) -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="kingpost solve", description="Solve one truss file (YAML or CSV).")
    parser.add_argument("file", metavar="FILE", help="the truss file; - reads standard input")
    parser.add_argument("--brief", help="a brief that sets supports and loads: a YAML file, or the name of a ready one")
    parser.add_argument("--json", action="store_true", help="print JSON in place of a table")
    return parser.parse_args(arguments)


def _solve(truss: Truss, brief: Brief | None) -> tuple[Solution, dict[str, Any]]:
    if brief is not None:
        return bridge_of(truss, brief)
    try:
        return statics.solve(truss), {}
    except StiffnessMissing:
        raise Refused(*(_no_stiffness(m) for m in truss.members if not (m.area_mm2 and m.modulus_MPa))) from None


def _no_stiffness(member: Member) -> Problem:
    return Problem(
        *member.place,
        f"the member '{member.name}' without area and modulus, in a redundant truss",
        "both, because in a redundant truss stiffness decides how the members share the load",
        f"write for example '{member.name}: {{area: 100 mm2, modulus: 3.4 GPa}}'.",
    )


def answer_of(truss: Truss, solution: Solution) -> dict[str, Any]:
    """The solution as JSON values, in the file's own units of force and length, tension positive."""
    answer: dict[str, Any] = {
        "state": solution.state,
        "determinate": solution.state == "stable" and solution.degree == 0,
        "degree": solution.degree,
        "units": {"force": truss.force_unit, "length": truss.length_unit},
    }
    if solution.state == "mechanism":
        answer |= {"mechanisms": solution.mechanisms, "moving": list(solution.moving), "form": solution.form}
    else:
        force, length = truss.newtons_per_force, truss.mm_per_length
        answer["members"] = {name: {"force": tidy(value / force)} for name, value in solution.forces.items()}
        answer["reactions"] = {n: [tidy(c / force) for c in vector] for n, vector in solution.reactions.items()}
        if solution.displacements is not None:
            answer["displacements"] = {
                n: [tidy(c / length) for c in vector] for n, vector in solution.displacements.items()
            }
        if solution.degree:
            answer["redundant"] = list(statics.redundant_members(truss))
        answer |= {"residual": solution.residual, "condition": tidy(solution.condition)}
    return answer | {"warnings": list(solution.warnings)}


def tidy(value: float) -> float:
    """The number without the noise of its last digits, and never -0.0."""
    return float(f"{value:.{FIGURES}g}") + 0.0


def _table(truss: Truss, answer: dict[str, Any]) -> str:
    force = truss.force_unit
    if answer["state"] == "mechanism":
        lines = [
            f"The truss is a mechanism: it can move in {answer['mechanisms']} way(s).",
            f"Joints that move: {', '.join(answer['moving'])}",
        ]
    else:
        degree = answer["degree"]
        kind = "statically determinate" if not degree else f"redundant to degree {degree}"
        lines = [f"The truss is stable and {kind}.", "", f"Member forces in {force} (T tension, C compression):"]
        lines += [f"  {name:<20} {_sense(row['force'])}" for name, row in answer["members"].items()]
        space = any(len(place) == 3 for place in truss.joints.values())
        axes = "x, y, z; z up" if space else "x to the right, y up"
        lines += ["", f"Reactions in {force} ({axes}):"]
        lines += [f"  {n:<20}" + "".join(f" {c:12.4f}" for c in v) for n, v in answer["reactions"].items()]
        if "displacements" in answer:
            lines += ["", f"Displacements in {truss.length_unit} ({axes}):"]
            lines += [f"  {n:<20}" + "".join(f" {c:12.6g}" for c in v) for n, v in answer["displacements"].items()]
        lines += answer.get("in words", [])
    return "\n".join([*lines, *(f"Note: {warning}" for warning in answer["warnings"])])


def _sense(force: float) -> str:
    return f"{abs(force):12.4f} {'T' if force > 0 else 'C' if force < 0 else ''}".rstrip()


def _wrong(lines: list[str]) -> int:
    print("\n".join(lines), file=sys.stderr)  # noqa: T201
    return WRONG
