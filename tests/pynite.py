"""The same truss in PyNite, a general structural library: frame members with released ends.

PyNite is a space frame program, so every joint is held against rotation, and that of a plane
truss out of its plane; every member is released against bending.  Its axial force is positive in compression.
It holds joints along the axes only: turn a truss until its rollers stand along x or y first.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np
from numpy.typing import NDArray
from Pynite import FEModel3D

from worker.truss.model import Truss

COMBINATION = "Combo 1"


def model(truss: Truss) -> FEModel3D:
    """The truss as a PyNite model, not yet analysed."""
    frame = FEModel3D()
    for name, (x, y, *z) in truss.joints.items():
        frame.add_node(name, x, y, *(z or [0.0]))
        support = truss.supports.get(name)
        held = support.held if support else ()
        dx, dy, dz = (len(held) == 2 + len(z) or any(abs(h[k]) > 0.5 for h in held) for k in (0, 1, 1 + len(z)))
        frame.def_support(name, dx, dy, dz if z else True, True, True, True)
        along = zip((dx, dy, dz), ("DX", "DY", "DZ"), truss.settlements.get(name, ()), strict=False)
        for held_here, direction, value in along:
            if held_here:
                frame.def_node_disp(name, direction, value)
    for index, m in enumerate(truss.members):
        assert m.modulus_MPa is not None
        frame.add_material(f"material {index}", m.modulus_MPa, m.modulus_MPa / 2, 0.3, 0.0)
        frame.add_section(f"section {index}", m.area_mm2, 1.0, 1.0, 1.0)
        frame.add_member(m.name, m.start, m.end, f"material {index}", f"section {index}")
        frame.def_releases(m.name, Ryi=True, Rzi=True, Ryj=True, Rzj=True)
    for name, load in truss.loads.items():
        for direction, part in zip(("FX", "FY", "FZ"), load, strict=False):
            frame.add_node_load(name, direction, part)
    return frame


def analysed(truss: Truss) -> FEModel3D:
    """The truss as a PyNite model, solved."""
    frame = model(truss)
    frame.analyze_linear(check_stability=False, sparse=False)
    return frame


def force(frame: FEModel3D, name: str) -> float:
    """Force in a member, N, tension positive."""
    return -float(frame.members[name].axial(0.0, COMBINATION))


def reaction(frame: FEModel3D, joint: str) -> tuple[float, float]:
    """Reaction at a supported joint, N."""
    node = frame.nodes[joint]
    return float(node.RxnFX[COMBINATION]), float(node.RxnFY[COMBINATION])


def displacement_in_space(frame: FEModel3D, joint: str) -> tuple[float, float, float]:
    """Movement of a joint of a space truss, mm."""
    node = frame.nodes[joint]
    return (*displacement(frame, joint), float(node.DZ[COMBINATION]))


def displacement(frame: FEModel3D, joint: str) -> tuple[float, float]:
    """Movement of a joint, mm."""
    node = frame.nodes[joint]
    return float(node.DX[COMBINATION]), float(node.DY[COMBINATION])


def rigid(truss: Truss, second_moments_mm4: Mapping[str, float]) -> FEModel3D:
    """The truss with rigid joints as a PyNite model, solved; supports along the axes, joints free to turn."""
    frame = model(truss)
    for index, m in enumerate(truss.members):
        section = frame.sections[f"section {index}"]
        section.Iy = section.Iz = second_moments_mm4[m.name]
        frame.def_releases(m.name)
    for joint in truss.joints:
        frame.nodes[joint].support_RZ = False
    frame.analyze_linear(check_stability=False, sparse=False)
    return frame


def end_moments(frame: FEModel3D, name: str) -> tuple[float, float]:
    """Moments on both ends of a member of a rigid frame, N mm, anticlockwise positive."""
    (piece,) = frame.members[name].sub_members.values()
    F = piece.F(COMBINATION).ravel()
    return float(F[5]), float(F[11])


def tangents(truss: Truss, forces: Mapping[str, float]) -> tuple[NDArray[Any], NDArray[Any]]:
    """Stiffness of all joints without supports, and its change by the forces; plane or space, both N/mm.

    Assembled from PyNite's matrices for members with released ends.  The axial term of its geometric
    stiffness belongs to another measure of strain (it is to the stiffness as stress to modulus), and is left out.
    """
    frame = FEModel3D()
    d = len(next(iter(truss.joints.values())))
    row = {joint: index for index, joint in enumerate(truss.joints)}
    for name, at in truss.joints.items():
        frame.add_node(name, *at, *(0.0,) * (3 - d))
    K, G = np.zeros((2, d * len(row), d * len(row)))
    for index, m in enumerate(truss.members):
        frame.add_material(f"material {index}", m.modulus_MPa, 1.0, 0.3, 0.0)
        frame.add_section(f"section {index}", m.area_mm2, 1.0, 1.0, 1.0)
        frame.add_member(m.name, m.start, m.end, f"material {index}", f"section {index}")
        frame.def_releases(m.name, Ryi=True, Rzi=True, Ryj=True, Rzj=True)
        bar = frame.members[m.name]
        kg = bar.kg(forces[m.name])
        kg[[0, 6]] = kg[:, [0, 6]] = 0.0
        places = [d * row[joint] + k for joint in (m.start, m.end) for k in range(d)]
        local = [6 * end + k for end in range(2) for k in range(d)]
        for whole, matrix in ((K, bar.ke()), (G, kg)):
            whole[np.ix_(places, places)] += (bar.T().T @ matrix @ bar.T())[np.ix_(local, local)]
    return K, G
