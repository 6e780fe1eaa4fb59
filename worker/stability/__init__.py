"""Stability of the whole truss, its joints taken as hinges.

freedoms (how joints may move) -> geometric (stiffness of pushed bars) -> buckling (linear factor)
                               -> bars (large movements) -> path (to the first limit point)
"""

from worker.stability.buckling import WholeBuckling, buckling
from worker.stability.path import LimitLoad, limit_load
from worker.stability.shallow import is_shallow, snap_estimate

__all__ = ["LimitLoad", "WholeBuckling", "buckling", "is_shallow", "limit_load", "snap_estimate"]
