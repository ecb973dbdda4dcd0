"""The linear answer of a line by engine orders, and where it misleads."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from calmshaft import _core
from calmshaft.condition import Condition, line_fault
from calmshaft.line import Line
from calmshaft.linear.forced import response_of
from calmshaft.linear.misleading import misleading
from calmshaft.linear.views import LinearView, linear_view
from calmshaft.results import ORDERS
from calmshaft.runs import cylinders, prepared

VIBRATORY_UP_TO = 12.0  # [-] highest order of the vibratory torque
_SAMPLES = 2880  # of the engine cycle: 60 for each period of order 24


@dataclass(frozen=True, eq=False)
class LinearResponse:
    """Swings of a line about its mean, by engine orders 0.5, 1, ... 24; complex amplitudes.

    excitation [N m] (order,): gas and inertia torque on the crank. angle [rad] (order, station) own-shaft angles.
    torque [N m] and twist [rad] (order, joint), mean_torque [N m] and mean_twist [rad] (joint,), all on the shaft of
    the joint's first station. fuelling: factor that keeps the speed. The real value at crank angle a is
    mean + Re[sum of amplitude exp(i order a)].
    """

    line: Line
    at: Condition
    orders: np.ndarray
    excitation: np.ndarray
    angle: np.ndarray
    torque: np.ndarray
    twist: np.ndarray
    mean_torque: np.ndarray
    mean_twist: np.ndarray
    fuelling: float
    stations: tuple[str, ...]
    joints: tuple[str, ...]
    _view: LinearView = field(repr=False)

    def joint(self, name: str) -> int:
        """Number of a joint by name. Raises LineError."""
        if name in self.joints:
            return self.joints.index(name)
        near = _core.near_matches(name, list(self.joints)) or list(self.joints)
        raise line_fault("joint", name, "is not a joint", f"write {' or '.join(near)}")

    @cached_property
    def vibratory_torque(self) -> dict[str, float]:
        """Half range [N m] of the synthesis of orders 0.5 to 12, by joint."""
        swing = synthesis(self.torque[self.orders <= VIBRATORY_UP_TO])
        return dict(zip(self.joints, (float(half) for half in np.ptp(swing, axis=0) / 2), strict=True))

    def synthesised(self, joint: str, quantity: str = "torque") -> np.ndarray:
        """Torque [N m] or twist [rad] of a joint over two turns from crank angle 0, with its mean."""
        column = self.joint(joint)
        mean = {"torque": self.mean_torque, "twist": self.mean_twist}[quantity]
        return mean[column] + synthesis(getattr(self, quantity)[:, [column]])[:, 0]

    @cached_property
    def misleading(self) -> tuple[str, ...]:
        """Sentences on what this answer leaves out and the line has: empty where a linear answer holds."""
        swings = {name: (self.synthesised(name), self.synthesised(name, "twist")) for name in self.joints}
        return misleading(self.line.core.plate, self._view, swings)


def linear_response(line: Line, at: Condition) -> LinearResponse:
    """The forced response of a line by orders, linearised at the condition's mean torque, teeth held together.

    Read `.misleading` first. Excited by the engine's own gas and inertia torque at constant speed; the crank's
    varying inertia counts by its mean. Raises LineError where the condition does not fit the line.
    """
    if at.fuelling == "fixed" and at.misfiring != "none":
        rule = "the linear answer holds the speed"
        raise line_fault("fuelling", at.fuelling, rule, 'write "governed", and the rpm that the line slows to')
    view = linear_view(line, at)
    excitation = _core.excitation(prepared(line), at.core(cylinders(line)))
    if not math.isfinite(excitation["fuelling"]):
        raise line_fault("misfiring", at.misfiring, "no cylinder is left to carry the load", "let one fire")
    omega = ORDERS * at.rpm * math.tau / 60
    applied = np.zeros((ORDERS.size, len(view.stations)), dtype=complex)
    applied[:, 0] = excitation["torque"]
    found = response_of(view, omega, applied)
    return LinearResponse(
        line=line, at=at, orders=ORDERS, excitation=excitation["torque"], angle=found.angle, torque=found.torque,
        twist=view.twist(found.angle), mean_torque=view.mean_torque, mean_twist=view.mean_twist,
        fuelling=excitation["fuelling"], stations=view.stations, joints=view.joints, _view=view,
    )  # fmt: skip


def synthesis(amplitudes: np.ndarray) -> np.ndarray:
    """Real values (crank angle, column) over two turns from amplitudes (order, column) of orders 0.5, 1, ..."""
    angle = np.arange(_SAMPLES) * 2 * math.tau / _SAMPLES
    turning = np.exp(1j * np.outer(angle, ORDERS[: len(amplitudes)]))
    return (turning @ amplitudes).real
