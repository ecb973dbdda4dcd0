"""A chain or a line shaken by swinging torques, frequency by frequency."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from calmshaft.condition import Condition, line_fault
from calmshaft.line import Line
from calmshaft.linear.chains import Chain
from calmshaft.linear.views import LinearView, linear_view


@dataclass(frozen=True, eq=False)
class Response:
    """Complex amplitudes; the real value is Re[amplitude exp(i omega t)].

    angular_frequency [rad/s] (omega,). angle [rad] (omega, station) own-shaft angles. torque [N m] (omega, joint) on
    the shaft of the joint's first station, at a gear pair the driving side. power_in and power_dissipated [W]
    (omega,), means over a swing; they are equal but for rounding. stations, joints: names.
    """

    angular_frequency: np.ndarray
    angle: np.ndarray
    torque: np.ndarray
    power_in: np.ndarray
    power_dissipated: np.ndarray
    stations: tuple[str, ...]
    joints: tuple[str, ...]


def response(
    subject: Chain | Line,
    torque: Mapping[int | str, ArrayLike],
    omega: float | Sequence[float] | np.ndarray,
    at: Condition | None = None,
) -> Response:
    """The steady answer to swinging torques.

    torque: amplitude [N m] by station (number or name), real or complex, one value or one for each omega.
    omega [rad/s]: one or several, zero or more. at: the condition that a line is linearised at; none for a chain.
    Raises LineError for input that does not fit, and SolveError at a resonance that nothing damps.
    """
    view = linear_view(subject, at)
    frequencies = np.atleast_1d(np.asarray(omega, dtype=float))
    if frequencies.ndim != 1 or not (np.isfinite(frequencies).all() and (frequencies >= 0).all()):
        raise line_fault("omega", omega, "must be zero or more, and finite", "write angular frequencies in rad/s")
    return response_of(view, frequencies, _applied(view, torque, frequencies))


def response_of(view: LinearView, omega: np.ndarray, applied: np.ndarray) -> Response:
    """The answer of a view to torques [N m] (omega, station)."""
    found = view.core.response(omega, applied)
    return Response(omega, stations=view.stations, joints=view.joints, **found)


def _applied(view: LinearView, torque: Mapping[int | str, ArrayLike], omega: np.ndarray) -> np.ndarray:
    applied = np.zeros((omega.size, len(view.stations)), dtype=complex)
    for name, amplitude in torque.items():
        values = np.asarray(amplitude, dtype=complex)
        if values.shape not in ((), omega.shape) or not np.isfinite(values).all():
            raise line_fault(
                "torque", amplitude, "must be finite, one value or one for each omega", "write amplitudes in N m"
            )
        applied[:, view.station(name)] += values
    return applied
