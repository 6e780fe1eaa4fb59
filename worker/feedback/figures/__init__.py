"""Drawings as SVG text: what a brief allows, and what a truss does.

Each module takes values and returns markup.  ``frame`` maps millimetres to the page, ``scene`` lays a truss out,
``parts`` draws joints, members, supports and arrows, ``captions`` finds room for numbers and names; lines, words
and boxes are ``rubric.drawing``'s.
"""

from worker.feedback.figures.collapse import collapse
from worker.feedback.figures.deflected import deflected
from worker.feedback.figures.envelope import envelope
from worker.feedback.figures.forces import forces
from worker.feedback.figures.influence import influence
from worker.feedback.figures.joint_body import joint_body
from worker.feedback.figures.mechanism import mechanism
from worker.feedback.figures.scatter import scatter
from worker.feedback.figures.sketched import sketched
from worker.feedback.figures.utilisation import utilisation

__all__ = [
    "collapse",
    "deflected",
    "envelope",
    "forces",
    "influence",
    "joint_body",
    "mechanism",
    "scatter",
    "sketched",
    "utilisation",
]
