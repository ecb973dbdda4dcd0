"""Natural frequencies, mode shapes and damped poles of a chain or a line, each mode named in words."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from calmshaft.condition import Condition
from calmshaft.line import Line
from calmshaft.linear.chains import Chain
from calmshaft.linear.matrices import Matrices, matrices
from calmshaft.linear.views import LinearView, linear_view
from calmshaft.linear.words import Node, in_words, nodes, strain_shares


@dataclass(frozen=True, eq=False)
class Modes:
    """Modes by ascending undamped frequency, the rigid body first.

    angular_frequency [rad/s] (mode,). shapes [rad/rad] (mode, station): own-shaft angles, the largest = 1.
    poles [rad/s] complex, by |imaginary part|; a negative real part dies away. A rigid body's angle has no pole, its
    speed has one. stations: names. words: each mode in words, from its strain energy and what moves most.
    nodes: where each mode stays still, (joint, share of its twist from the first station).
    """

    angular_frequency: np.ndarray
    shapes: np.ndarray
    poles: np.ndarray
    stations: tuple[str, ...]
    words: tuple[str, ...]
    nodes: tuple[tuple[Node, ...], ...]
    _view: LinearView = field(repr=False)

    @property
    def frequency_hz(self) -> np.ndarray:
        """Undamped natural frequencies [Hz] (mode,)."""
        return self.angular_frequency / math.tau

    @cached_property
    def damping_ratio(self) -> np.ndarray:
        """Damping over critical damping [-] (mode,) of the pole nearest in frequency.

        1 where no swinging pole is left for the mode: it creeps back. NaN for a rigid body, which does not swing.
        """
        return _damping_ratio(self.angular_frequency, self.poles)

    @cached_property
    def strain_energy(self) -> tuple[dict[str, float], ...]:
        """Share [-] of each mode's strain energy by spring; nothing for a rigid body."""
        pairs = zip(self.shapes, self.angular_frequency, strict=True)
        return tuple(strain_shares(self._view, shape) if frequency > 0 else {} for shape, frequency in pairs)

    def matrices(self) -> Matrices:
        """Inertia, damping and stiffness of the free coordinates, and the expansion to stations."""
        return matrices(self._view.core)


def modes(subject: Chain | Line, at: Condition | None = None) -> Modes:
    """Modes of a chain, or of a line at a condition.

    A line is linearised at the condition's mean torque: the plate's stage of that torque, teeth in contact, no dry
    friction. Raises LineError where the condition does not fit the line or is missing, SolveError where the
    eigenvalues fail.
    """
    return modes_of(linear_view(subject, at))


def modes_of(view: LinearView) -> Modes:
    """Modes of a linear view."""
    found = view.core.modes()
    pairs = list(zip(found["shapes"], found["angular_frequency"], strict=True))
    return Modes(
        angular_frequency=found["angular_frequency"],
        shapes=found["shapes"],
        poles=found["poles"],
        stations=view.stations,
        words=tuple(in_words(view, shape, frequency) for shape, frequency in pairs),
        nodes=tuple(nodes(view, shape) if frequency > 0 else () for shape, frequency in pairs),
        _view=view,
    )


def _damping_ratio(frequency: np.ndarray, poles: np.ndarray) -> np.ndarray:
    """|Re s| / |s| of the swinging poles, each given to the mode nearest to |s|, nearest pairs first."""
    ratio = np.where(frequency > 0, 1.0, np.nan)
    swinging = poles[poles.imag > 0]
    distance = {
        (mode, pole): abs(math.log(abs(swinging[pole]) / frequency[mode]))
        for mode in np.flatnonzero(frequency > 0)
        for pole in range(swinging.size)
    }
    taken_modes: set[int] = set()
    taken_poles: set[int] = set()
    for mode, pole in sorted(distance, key=lambda pair: distance[pair]):
        if mode not in taken_modes and pole not in taken_poles:
            ratio[mode] = abs(swinging[pole].real / swinging[pole])
            taken_modes.add(mode)
            taken_poles.add(pole)
    return ratio
