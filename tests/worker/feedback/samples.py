"""Outcomes for tests of drawings and sheets: solved trusses dressed up as the marker would."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

from rubric import library
from rubric.criteria.common import CriterionMark
from rubric.marking import Marks
from rubric.messages.orders import SheetHead
from rubric.messages.outcomes import Analysis, Failure, JointRow, Marked, MemberRow, Mistake, NextStep
from tests import trusses
from worker.statics.solver import solve
from worker.truss.model import Member, Support, Truss

BRIEF = library.brief("footbridge")
HEAD = SheetHead(
    student="Ilka Tannhauser",
    school="Millbrook Upper School",
    class_name="9B",
    teacher="Mr Oakhill",
    attempt_number=2,
    handed_in="Tuesday 2 March 2027, 14:05",
    file_name="double-post.yaml",
    place="You are 4th of 27 in your class.",
    comment="A tidy drawing, and you said why you chose two posts. Look at the slender diagonals next.",
)


def analysis_of(truss: Truss, area: float = 25.0) -> Analysis:
    """The truss as solved, with plausible capacities: 10 MPa pulled, less the more slender when pushed."""
    solution = solve(truss)
    members = tuple(_row(truss, m, solution.forces.get(m.name, 0.0), area) for m in truss.members)
    worst = max(members, key=lambda m: m.utilisation)
    load = 2 * sum(-v[1] for v in truss.loads.values())
    stable = solution.state == "stable"
    failure = Failure(member=worst.name, mode=worst.mode, load_N=load / worst.utilisation) if stable else None
    mass = sum(m.length_mm for m in members) * area * 160e-6 * 2 + 15
    return Analysis(
        state=solution.state,
        joints=tuple(_joint(truss, solution, name) for name in truss.joints),
        members=members,
        degree=solution.degree,
        mechanisms=solution.mechanisms,
        moving=solution.moving,
        first_failure=failure,
        failure_load_N=failure.load_N if failure else None,
        mass_g=mass,
        efficiency=failure.load_N / (mass * 9.80665e-3) if failure else None,
        midspan_deflection_mm=1.83 if stable else None,
    )


def _row(truss: Truss, m: Member, force: float, area: float) -> MemberRow:
    length = truss.length_mm(m)
    slenderness = length / (5 / math.sqrt(12))
    strength = 10.0 if force > 0 else min(14.9, math.pi**2 * 3400 / slenderness**2)
    capacity = strength * area
    mode = "none" if force == 0 else "tension" if force > 0 else "crushing" if strength == 14.9 else "buckling"
    return MemberRow(
        name=m.name,
        start=m.start,
        end=m.end,
        stick="square5",
        count=1,
        length_mm=length,
        area_mm2=area,
        slenderness=slenderness,
        force_N=force,
        stress_MPa=force / area,
        capacity_N=capacity if force else None,
        utilisation=abs(force) / capacity,
        mode=mode,
    )


def _joint(truss: Truss, solution: object, name: str) -> JointRow:
    motions = getattr(solution, "motions", ())
    reaction = getattr(solution, "reactions", {}).get(name)
    shift = getattr(solution, "displacements", None)
    x, y = truss.joints[name]
    return JointRow(
        name=name,
        x_mm=x,
        y_mm=y,
        support=truss.supports[name].said if name in truss.supports else "",
        load_N=tuple(truss.loads.get(name, (0.0, 0.0))),
        reaction_N=None if reaction is None else tuple(reaction),
        displacement_mm=tuple(shift[name]) if shift else None,
        motion=tuple(motions[0][name]) if motions else None,
    )


def square() -> Truss:
    """Two square panels, one without a diagonal: it leans."""
    joints = {"a": (0, 0), "b": (300, 0), "c": (600, 0), "d": (0, 150), "e": (300, 150), "f": (600, 150)}
    pairs = ["a-b", "b-c", "d-e", "e-f", "a-d", "b-e", "c-f", "a-e"]
    members = tuple(Member(p, *p.split("-"), area_mm2=25.0, modulus_MPa=3400.0) for p in pairs)
    return Truss(joints, members, {"a": Support.pin(), "c": Support.roller()}, {"b": (0.0, -100.0)})


def triangle() -> Truss:
    """The smallest truss there is."""
    joints = {"a": (0, 0), "b": (600, 0), "c": (300, 160)}
    members = tuple(trusses.member(*pair) for pair in (("a", "b"), ("a", "c"), ("b", "c")))
    return Truss(joints, members, {"a": Support.pin(), "b": Support.roller()}, {"c": (0.0, -100.0)})


def renamed(truss: Truss, names: Mapping[str, str]) -> Truss:
    """The same truss with other names for its joints."""

    def new(name: str) -> str:
        return names.get(name, name)

    members = tuple(
        replace(m, name=f"{new(m.start)}-{new(m.end)}", start=new(m.start), end=new(m.end)) for m in truss.members
    )
    return replace(
        truss,
        joints={new(name): at for name, at in truss.joints.items()},
        members=members,
        supports={new(name): support for name, support in truss.supports.items()},
        loads={new(name): load for name, load in truss.loads.items()},
    )


def marks(waiting: bool = True) -> Marks:
    """Three criteria, the last of which waits for the teacher."""
    rows = (
        CriterionMark(
            name="It stands", kind="threshold", points=20, out_of=20, seen="mechanisms 0", asked="at most 0",
            why="It cannot move without a member stretching.",
        ),
        CriterionMark(
            name="It carries the target load", kind="scale", points=22.5, out_of=30, seen="reserve factor 0.813",
            asked="0.25 earns 0; 1 earns 30", why="It lies between 0.25 and 1.",
            earn_more="Get reserve factor up to 1 to earn all 30 points.",
        ),
        CriterionMark(
            name="Sketch and reasons", kind="judgement", points=None if waiting else 7, out_of=10,
            seen="not yet looked at", asked="a clear sketch, and a reason for the shape of the truss",
            why="Your teacher fills this in.",
        ),
    )  # fmt: skip
    points = sum(row.points or 0 for row in rows)
    return Marks(criteria=rows, total=points, out_of=60, waiting=10 if waiting else 0)


PRAISE = (
    "Your truss is stable: every joint is held in both directions.",
    "The pushed members at the top are short, so they resist buckling well.",
)
STEPS = (
    NextStep(
        title="Shorten the member that buckles",
        text="Member t1-t2 is 100 mm long. Buckling load goes with one over the length squared: at half the "
        "length it would take four times the push. A post to its middle would do it.",
    ),
    NextStep(
        title="Take wood where it is idle",
        text="Members b0-b1 and b5-b6 use 11 % of what they could take. A thinner stick there saves 1.4 g.",
    ),
    NextStep(
        title="Try the truss 20 mm deeper",
        text="The chord forces fall as the depth grows. At 100 mm the bridge should carry about 231 N.",
    ),
)


def marked(truss: Truss, title: str = "Double-post girder", area: float = 25.0) -> Marked:
    """A file read, solved and marked."""
    return Marked(
        job=1,
        attempt="t",
        title=title,
        analysis=analysis_of(truss, area),
        measures={},
        marks=marks(),
        praise=PRAISE,
        steps=STEPS,
    )


def mistaken() -> Marked:
    """A file with three mistakes."""
    mistakes = (
        Mistake(line=4, column=7, found="'1O0', which is no number", expected="a coordinate such as 150 or 12.5",
                mend="write the digit 0, not the letter O.", quote="  b: [1O0, 0]"),
        Mistake(line=9, column=3, found="a member to the joint 'e', which is not in 'joints'",
                expected="two joints of this file", mend="did you mean 'd'?", quote="  a-e: square5 x2"),
        Mistake(line=11, column=8, found="the stick 'sqare3'", expected="a stick of the kit: square5 or square3",
                mend="did you mean 'square3'?", quote="  b-d: sqare3"),
    )  # fmt: skip
    rows = tuple(
        CriterionMark(name=row.name, kind=row.kind, points=None if row.points is None else 0, out_of=row.out_of,
                      seen="nothing yet", asked=row.asked, why="The file could not be read to its end.")
        for row in marks().criteria
    )  # fmt: skip
    return Marked(job=1, attempt="t", title="", mistakes=mistakes, marks=Marks(criteria=rows, total=0, out_of=60))
