"""Critical speeds: where an order of the engine meets a natural frequency."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from calmshaft import _core
from calmshaft.condition import Condition, line_fault
from calmshaft.line import Line
from calmshaft.linear.chains import Chain
from calmshaft.linear.modal import Modes, modes
from calmshaft.results import ORDERS
from calmshaft.runs import cylinders, prepared, usual_gear

EXCITED = 1e-3  # [-] of the largest order's torque: below it an order is rounding, or too small to matter; ours
HIGHEST_ORDER = 12.0  # [-] of those looked for; higher ones carry little
_SPEEDS = 49  # at which a line is linearised: stages narrower than a fiftieth of the range are missed
_SAME = 1e-9  # [-] frequencies of one stage


@dataclass(frozen=True, slots=True)
class CriticalSpeed:
    """One crossing: mode (its index in Modes, 0 is the rigid body), order [per crank turn], mean crank speed [rpm],
    natural frequency [Hz] there, and the mode in words."""

    mode: int
    order: float
    rpm: float
    frequency_hz: float
    words: str


def critical_speeds(
    subject: Line | Chain,
    at: Condition | None = None,
    orders: Iterable[float] | None = None,
    rpm_range: tuple[float, float] | None = None,
) -> list[CriticalSpeed]:
    """Where orders meet natural frequencies, by mode and then by falling speed.

    at: gear, load and misfiring of a line (its rpm does not matter; idle in its usual gear where none is given).
    The plate's stage is that of the mean torque at each critical speed itself. orders: those that the engine excites
    at that condition, up to 12, where none are given: multiples of half the cylinders for a healthy even-firing
    four-stroke, every half order with a cylinder misfiring. rpm_range [rpm]: idle to rated speed of a line, any
    speed of a chain. Raises LineError; a chain, which has no engine, needs its orders.
    """
    wanted = sorted(float(order) for order in orders) if orders is not None else None
    if wanted is not None and not all(0 < order < math.inf for order in wanted):
        raise line_fault("orders", wanted, "must be more than zero", "write events per crank turn, for instance [2, 4]")
    low, high = rpm_range if rpm_range is not None else running_range(subject)
    if not 0 <= low < high:
        raise line_fault("rpm_range", rpm_range, "must rise from zero or more", "write for instance (600, 2600)")
    if isinstance(subject, Chain):
        if wanted is None:
            raise line_fault("orders", None, "a chain has no engine", "write the orders to look for")
        found = modes(subject, at)
        rows = [_row(found, mode, order) for mode in _elastic(found) for order in wanted]
        return [row for row in rows if low <= row.rpm <= high]
    at = at or idle(subject)
    return _of_line(subject, at, wanted or excited_orders(subject, at), low, high)


def running_range(subject: Line | Chain) -> tuple[float, float]:
    """Idle and rated speed [rpm]; without bounds for a chain."""
    if isinstance(subject, Chain):
        return 0.0, math.inf
    return idle(subject).rpm, subject.quantities["engine.rated_rpm"].value * 30 / math.pi


def idle(line: Line) -> Condition:
    """Idle in the line's usual gear."""
    return Condition(line.quantities["engine.idle_rpm"].value * 30 / math.pi, usual_gear(line))


def excited_orders(line: Line, at: Condition) -> list[float]:
    """Orders up to 12 that the engine's torque has at a condition."""
    torque = np.abs(_core.excitation(prepared(line), at.core(cylinders(line)))["torque"])
    if not np.isfinite(torque).all():
        raise line_fault("misfiring", at.misfiring, "no cylinder is left to fire", "let one fire")
    return [float(order) for order in ORDERS[(torque > EXCITED * torque.max()) & (ORDERS <= HIGHEST_ORDER)]]


def frequency_curves(line: Line, at: Condition, rpm: np.ndarray) -> np.ndarray:
    """Natural frequencies [Hz] (rpm, mode) at the mean torque of each speed: steps where the plate's stage changes."""
    return np.array([modes(line, at.with_(rpm=float(speed))).frequency_hz for speed in rpm])


def _of_line(line: Line, at: Condition, orders: list[float], low: float, high: float) -> list[CriticalSpeed]:
    """A frequency is constant within a stage, so each of its values gives one candidate, kept where it holds."""
    curves = frequency_curves(line, at, np.linspace(low, high, _SPEEDS))
    rows = []
    for mode in range(1, curves.shape[1]):
        for frequency in _distinct(curves[:, mode]):
            for order in orders:
                rpm = 60 * frequency / order
                if not low <= rpm <= high:
                    continue
                found = modes(line, at.with_(rpm=rpm))
                if abs(found.frequency_hz[mode] / frequency - 1) < _SAME:
                    rows.append(_row(found, mode, order))
    return sorted(rows, key=lambda row: (row.mode, -row.rpm))


def _distinct(values: np.ndarray) -> list[float]:
    kept: list[float] = []
    for value in np.sort(values):
        if value > 0 and (not kept or value / kept[-1] - 1 > _SAME):
            kept.append(float(value))
    return kept


def _elastic(found: Modes) -> list[int]:
    return [int(mode) for mode in np.flatnonzero(found.angular_frequency > 0)]


def _row(found: Modes, mode: int, order: float) -> CriticalSpeed:
    frequency = float(found.frequency_hz[mode])
    return CriticalSpeed(mode, order, 60 * frequency / order, frequency, found.words[mode])
