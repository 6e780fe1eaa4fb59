"""Outcomes: what a worker answers.  A sheet and a page are made from these alone.

Lengths are mm, forces N, stresses MPa (N/mm2), masses g.  Member forces are tension positive.
Forces, stresses and utilisations belong to the most loaded side truss at the target load;
``failure_load_N``, ``mass_g`` and ``efficiency`` belong to the whole bridge.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field

from rubric.evidence import Answer
from rubric.marking import Marks
from rubric.measures import Measures
from rubric.messages.likeness import MOST_PAIRS, Fingerprint, Pair, Shared
from rubric.messages.told import Figure as Figure
from rubric.messages.told import Told


class Message(BaseModel):
    """The common shape: immutable, and a key that is not known is refused."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class Mistake(Message):
    """One problem of the file, with the line it stands in quoted."""

    line: int
    column: int
    found: str
    expected: str
    mend: str
    quote: str = ""


class JointRow(Message):
    """One joint: where it is, what holds or loads it, how far it goes at the target load."""

    name: str
    x_mm: float
    y_mm: float
    support: str = ""
    """'pin', 'roller' and the like; nothing where the joint is free."""
    load_N: tuple[float, float] = (0.0, 0.0)
    own_weight_N: float = 0.0
    """What the truss itself weighs at this joint, downward; 0 where the brief leaves it out."""
    reaction_N: tuple[float, float] | None = None
    displacement_mm: tuple[float, float] | None = None
    motion: tuple[float, float] | None = None
    """In a mechanism: how this joint can move, the largest movement of all being 1."""


Mode = Literal["tension", "crushing", "buckling", "bending", "joint", "none"]
Axis = Literal["in plane", "out of plane", "either", "askew"]
"""The way in which a strut buckles first; ``askew`` for a section whose weak axis lies between the two."""


class MemberRow(Message):
    """One member: its stick, its force and how close it is to failing."""

    name: str
    start: str
    end: str
    stick: str
    count: int
    length_mm: float
    area_mm2: float
    slenderness: float
    force_N: float
    stress_MPa: float
    capacity_N: float | None
    """The force at which it fails in the mode that governs; None where it carries nothing."""
    utilisation: float
    mode: Mode
    axis: Axis | None = None
    """Which way it buckles; None where it fails in another mode."""
    bending_MPa: float = 0.0
    """Largest bending stress, without sign; 0 in a truss with hinges."""
    range_N: tuple[float, float] | None = None
    """Least and largest force as the load travels; None where it stands still."""
    worst_N: float | None = None
    """The force that fills it most as the load travels, to which stress, capacity and utilisation belong."""
    worst_at: str = ""
    """The joint at which the load then stands."""

    @property
    def hardest_N(self) -> float:
        """The force that fills it most, wherever the load stands: what a table shows."""
        return self.force_N if self.worst_N is None else self.worst_N


class Failure(Message):
    """What breaks first."""

    member: str
    mode: Mode
    load_N: float
    """Load on the whole bridge at which it happens."""
    axis: Axis | None = None
    """Which way it buckles; None for any other mode."""


class NextStep(Message):
    """One thing to try, computed from this truss."""

    title: str
    text: str
    bar: tuple[str, str] | None = None
    """The joints of a member that would stop a mechanism, where that is what to try."""


class Finding(Message):
    """One more thing that computing has shown, in words."""

    title: str
    text: str


class CutStick(Message):
    """One stick of the kit: the members cut from it, with their lengths in mm, and what is left over."""

    pieces: tuple[tuple[str, float], ...]
    left_mm: float


class StickNeed(Message):
    """How many sticks of one kind the whole bridge is cut from, and whether the kit holds them."""

    stick: str
    needed: int
    in_kit: int
    fits: bool | None
    """None where the search was ended before it was known."""
    layout: tuple[CutStick, ...] = ()
    """How to cut each stick; empty for a bridge of very many pieces."""


class Break(Message):
    """One stage of a collapse: what breaks, and the load on the whole bridge that then stands there, N."""

    members: tuple[str, ...]
    modes: tuple[Mode, ...]
    at_N: float
    at_once: bool
    """Whether it breaks without any more load than before."""


class Outlook(Message):
    """Beyond the first failure.  Loads are of the whole bridge, N; None: not to be told for this truss."""

    whole_load_N: float | None = None
    """Load at which a side truss gives way as a whole; None where that is far beyond the target."""
    peak_load_N: float | None = None
    kept_after_first: float | None = None
    """Load it can still take after its first failure, over the load of that failure."""
    breaks: tuple[Break, ...] = ()
    """How a redundant truss collapses under a load that only grows; empty for one that is not."""
    redundant: tuple[str, ...] = ()
    """Members of which any one may be taken away, and the truss still stands."""
    low_N: float | None = None
    median_N: float | None = None
    high_N: float | None = None
    """10, 50 and 90 of 100 bridges built like this fail at or below these loads."""
    twenty_N: tuple[float, ...] = ()
    """Failure loads of twenty such bridges, the weakest first, spread as those of all of them are."""
    chance: float | None = None
    """Part of such bridges that carry the target load."""
    fails_first: tuple[tuple[str, float], ...] = ()
    bending_share: float | None = None
    """Largest bending stress with rigid joints over the largest axial stress."""
    rigid_warning: str = ""
    sticks: tuple[StickNeed, ...] = ()
    par_efficiency: float | None = None
    """Efficiency of the lightest bridge there could be for the load that this one carries."""


class Travel(Message):
    """A load that stands on one deck joint after another; forces in N, tension positive, at the target load."""

    joints: tuple[str, ...]
    places_mm: tuple[float, ...]
    worst: str
    """The joint at which it breaks the bridge first, and where it is drawn."""
    member: str
    forces_N: tuple[float, ...]
    """Force in the member that breaks first, with the load on each of the joints: its influence line."""


class Analysis(Message):
    """The truss as solved."""

    state: Literal["stable", "mechanism"]
    joints: tuple[JointRow, ...]
    members: tuple[MemberRow, ...]
    degree: int
    """Degree of redundancy: independent states of self-stress."""
    mechanisms: int
    moving: tuple[str, ...] = ()
    form: Literal["", "missing bars", "critical form"] = ""
    """Why a mechanism moves: ``critical form`` where its members are enough; nothing for a stable truss."""
    missing_bars: int = 0
    """How many of the mechanisms only more members can stop."""
    critical: int = 0
    """How many of the mechanisms other places of the joints would stop."""
    ways: tuple[tuple[str, ...], ...] = ()
    """The joints that move in each mechanism, of the first three; ``JointRow.motion`` is that of the first."""
    first_failure: Failure | None = None
    failure_load_N: float | None = None
    mass_g: float
    efficiency: float | None = None
    midspan_deflection_mm: float | None = None
    limits_broken: tuple[str, ...] = ()
    """Each limit of the brief that is not kept, in a sentence."""
    warnings: tuple[str, ...] = ()
    outlook: Outlook | None = None
    travel: Travel | None = None
    """None where the load stands still."""


class Outcome(Message):
    """What every answer says."""

    job: int
    attempt: str


class Marked(Outcome):
    """A file was read and marked, or read and found to hold mistakes."""

    kind: Literal["marked"] = "marked"
    title: str = ""
    mistakes: tuple[Mistake, ...] = ()
    analysis: Analysis | None = None
    measures: Measures = Field(default_factory=dict)
    working: dict[str, tuple[Answer, ...]] = Field(default_factory=dict)
    """The student's own working beside what holds, by name of the criterion that asks for it."""
    marks: Marks
    on_board: bool = False
    """Whether the truss passes the brief's limits and may stand on a leaderboard."""
    praise: tuple[str, ...] = ()
    steps: tuple[NextStep, ...] = ()
    findings: tuple[Finding, ...] = ()
    drawing: Figure | None = None
    """The forces, or how it moves; each member in it links to ``#member-`` and its place in the analysis."""
    told: Told | None = None
    """What the page tells beside the numbers; a sheet tells it anew from the numbers."""
    fingerprint: Fingerprint | None = None
    """What the structure is compared by, where it is the student's own."""


class Drawn(Outcome):
    """The envelope of a brief was drawn."""

    kind: Literal["drawn"] = "drawn"
    drawing: Figure
    par_wood_g: float | None = None
    """Wood of the lightest bridge there could be at the target load, g; None where there is none."""


class Printed(Outcome):
    """A sheet was set."""

    kind: Literal["printed"] = "printed"
    pdf_base64: str = Field(max_length=8_000_000)


class Planned(Outcome):
    """A building plan was set."""

    kind: Literal["planned"] = "planned"
    pdf_base64: str = Field(max_length=8_000_000)


class Compared(Outcome):
    """Works were compared."""

    kind: Literal["compared"] = "compared"
    works: int
    """How many works were compared."""
    pairs: tuple[Pair, ...] = Field(max_length=MOST_PAIRS)
    """The strongest first."""
    left_out: int = 0
    """Pairs beyond so many."""
    shared: tuple[Shared, ...] = Field(default=(), max_length=MOST_PAIRS)


class Sketched(Outcome):
    """A file that is still being written was looked at: nothing that a mark is made of, beside the limits."""

    kind: Literal["sketched"] = "sketched"
    title: str = ""
    joints: int = 0
    members: int = 0
    answers: int = 0
    """Answers of the working by hand that were understood; whether they are right is not told."""
    mistakes: tuple[Mistake, ...] = ()
    remarks: tuple[str, ...] = ()
    """What can be solved and is hardly meant, in sentences."""
    limits_broken: tuple[str, ...] = ()
    """Limits of shape and kit that are not kept; mass and slenderness show only in solving."""
    stands: bool | None = None
    """None while there are mistakes."""
    moving: tuple[str, ...] = ()
    steps: tuple[NextStep, ...] = ()
    """What would make it stand, as far as the brief lets advice go."""
    drawing: Figure | None = None


AnyOutcome = Annotated[Marked | Drawn | Printed | Planned | Compared | Sketched, Field(discriminator="kind")]
