"""Scatter: what a bridge carries when no two sticks are alike.

``likeness``    how the properties of sticks hang together
``sampling``    random numbers from a file's content; strengths, stiffness and density from them
``columns``     the column curves for many struts at once
``capacities``  what each member carries in each sample
``design``      what is the same in every bridge of one design
``bridge``      failure loads, the chance of carrying the target, and which member fails how often
"""

from worker.chance.bridge import FailureLoads, failure_loads
from worker.chance.sampling import seed

__all__ = ["FailureLoads", "failure_loads", "seed"]
