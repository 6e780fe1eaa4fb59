"""How the scattering values hang together: within a stick, and between the sticks of a bridge."""

from __future__ import annotations

import numpy as np

from worker.statics.structure import Floats

PROPERTIES = ("tension", "compression", "modulus", "shear", "density", "glue")
"""What scatters from stick to stick, in the order of WITHIN_A_STICK."""

WITHIN_A_STICK: Floats = np.array(
    [
        [1.0, 0.5, 0.6, 0.6, 0.4, 0.0],
        [0.5, 1.0, 0.6, 0.4, 0.8, 0.0],
        [0.6, 0.6, 1.0, 0.4, 0.6, 0.0],
        [0.6, 0.4, 0.4, 1.0, 0.6, 0.0],
        [0.4, 0.8, 0.6, 0.6, 1.0, 0.0],
        [0.0, 0.0, 0.0, 0.0, 0.0, 1.0],
    ]
)
"""Correlation between the properties of one stick and its glue, (6, 6).

Wood: JCSS Probabilistic Model Code, part 3, "Properties of timber", correlation coefficient matrix,
R_t,0, R_c,0, E_m, R_v and density: set there by judgment for European softwood.  That it holds for
the other light woods is an assumption; so is glue that knows nothing of the wood.
"""

BETWEEN_STICKS = 0.5
"""Correlation between the same property of two sticks of one bridge: an assumption.

The sticks of a kit are cut from few boards and glued by the same hands, so part of their scatter is
common to the bridge.  0.5 is the middle between none (each stick for itself) and all (one quality
for the whole bridge).
"""
