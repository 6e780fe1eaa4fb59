"""A truss that the brief gives, put under what a student hands in."""

from __future__ import annotations

from rubric.given import GivenTruss
from rubric.language import _
from rubric.located import Mapping, Place, Scalar, Sequence
from rubric.problems import Findings, quoted

GIVEN = ("units", "joints", "members")


def with_given(tree: Mapping, problem: GivenTruss, findings: Findings) -> Mapping:
    """The file with the joints and members of the problem; its own are a mistake that is told."""
    for key, __ in tree.items:
        if key.text in GIVEN:
            findings.add(
                key.place,
                _("a block {name}", name=quoted(key.text)),
                _("the truss as the brief gives it"),
                _("take the block {name} out: your working is enough.", name=quoted(key.text)),
            )
    if tree.get("working") is None:
        findings.add(
            tree.place,
            _("no working"),
            _("what you worked out by hand"),
            _("write 'working:' and below it lines such as '  {example}'.", example="forces: {a-b: 80 C}"),
        )
    own = tuple((key, value) for key, value in tree.items if key.text not in GIVEN)
    return Mapping((*own, *_written(problem, tree.place)), tree.place)


def _written(problem: GivenTruss, at: Place) -> tuple[tuple[Scalar, Mapping], ...]:
    joints = tuple(
        (Scalar(name, at), Sequence(tuple(Scalar(f"{value:.9g}", at) for value in place), at))
        for name, place in problem.joints.items()
    )
    members = tuple((Scalar(name, at), Scalar(stick, at)) for name, stick in problem.members.items())
    return (Scalar("joints", at), Mapping(joints, at)), (Scalar("members", at), Mapping(members, at))
