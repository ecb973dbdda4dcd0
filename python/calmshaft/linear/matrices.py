"""The three matrices of a linear line."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from calmshaft import _core


class Matrices(NamedTuple):
    """inertia q'' + damping q' + stiffness q = expansion^T torque, station angles = expansion q.

    inertia [kg m^2], damping [N m s/rad], stiffness [N m/rad], each (coordinate, coordinate). A coordinate is the own
    angle of a free station, or of the first of those that rigid gears join. expansion (station, coordinate) [-].
    """

    inertia: np.ndarray
    damping: np.ndarray
    stiffness: np.ndarray
    expansion: np.ndarray


def matrices(line: _core.LinearLine) -> Matrices:
    """The matrices of a linear line."""
    return Matrices(**line.matrices())
