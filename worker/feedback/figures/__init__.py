"""Drawings as SVG text: the envelope of a brief, the forces in a truss, the way a mechanism moves.

Each module takes values and returns markup: ``svg`` writes elements, ``frame`` maps millimetres
to the page, ``boxes`` knows what is occupied, ``labels`` finds room for words, ``parts`` draws
joints, members, supports and arrows.
"""

from worker.feedback.figures.envelope import envelope
from worker.feedback.figures.forces import forces
from worker.feedback.figures.mechanism import mechanism

__all__ = ["envelope", "forces", "mechanism"]
