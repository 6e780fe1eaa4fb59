"""The same truss with rigid joints: what glued joints add in bending.

stiffness (beams and their assembly) -> rigid (FrameSolution, compared with the hinged truss).
"""

from worker.frame.rigid import FrameSolution, frame

__all__ = ["FrameSolution", "frame"]
