"""Par: the least volume of wood that any truss could use for a load and an envelope.

``ground``   the joints and the possible bars of a ground structure
``layout``   the linear programme: the least volume on a ground structure
``bridge``   par of a whole brief: mass and efficiency
"""

from worker.advice.par.bridge import BridgePar, par_of
from worker.advice.par.layout import Par, par

__all__ = ["BridgePar", "Par", "par", "par_of"]
