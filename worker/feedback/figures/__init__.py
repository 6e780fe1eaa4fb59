"""Drawings as SVG text: the envelope of a brief, the forces in a truss, the way a mechanism moves.

Each module takes values and returns markup.  ``frame`` maps millimetres to the page, ``scene`` lays a truss out,
``parts`` draws joints, members, supports and arrows; lines, words and room for them are ``rubric.drawing``'s.
"""

from worker.feedback.figures.envelope import envelope
from worker.feedback.figures.forces import forces
from worker.feedback.figures.mechanism import mechanism

__all__ = ["envelope", "forces", "mechanism"]
