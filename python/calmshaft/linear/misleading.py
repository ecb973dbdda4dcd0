"""Where a linear answer misleads: the swing it gives is held against the corners, gaps and friction it leaves out."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

import numpy as np

from calmshaft import _core
from calmshaft.linear.views import LinearView
from calmshaft.wording import number

SMALL_FRICTION = 0.05  # [-] of the plate's torque swing; its effect on an order is 4 / pi times as much; ours

_ROUNDING = 1e-9  # [rad]

Swings = Mapping[str, tuple[np.ndarray, np.ndarray]]  # torque [N m] and twist [rad] over a cycle, by joint


def misleading(plate: _core.Plate, view: LinearView, swings: Swings) -> tuple[str, ...]:
    """Sentences, worst first within the plate and then the teeth; empty where nothing left out is met."""
    found: list[str] = []
    for name, kind, mean_twist in zip(view.joints, view.kinds, view.mean_twist, strict=True):
        torque, twist = swings[name]
        if kind == "plate":
            found += _plate(plate, torque, twist, float(mean_twist))
        elif kind in ("loaded mesh", "unloaded mesh"):
            found += _teeth(name, torque)
    return tuple(found)


def _plate(plate: _core.Plate, torque: np.ndarray, twist: np.ndarray, mean: float) -> Iterator[str]:
    low, high = float(twist.min()), float(twist.max())
    swing = f"the plate swings from {_degrees(low)} to {_degrees(high)} deg"
    if high > plate.drive.stop_angle or -low > plate.coast.stop_angle:
        stop = plate.drive.stop_angle if high > plate.drive.stop_angle else -plate.coast.stop_angle
        yield f"{swing} and reaches its stop at {_degrees(stop)} deg, which the linear answer does not have"
    inner, outer = _stage(plate, mean)
    play = plate.free_play / 2
    if play > 0 and low < play and high > -play:
        yield f"{swing} and enters its free play of +-{_degrees(play)} deg, where it carries nothing"
        inner, outer = (-math.inf, outer) if mean >= 0 else (inner, math.inf)  # said already
    for corner, beyond in ((inner, low < inner - _ROUNDING), (outer, high > outer + _ROUNDING)):
        if beyond:
            yield f"{swing} and passes the corner at {_degrees(corner)} deg, so its stiffness and frequencies shift"
    friction, half = plate.hysteresis_full_width / 2, float(np.ptp(torque)) / 2
    if friction > SMALL_FRICTION * half:
        yield (
            f"dry friction of +-{number(friction)} N m is left out, beside a swing of +-{number(half)} N m "
            "through the plate: the real swing is smaller, or stuck"
        )


def _stage(plate: _core.Plate, mean: float) -> tuple[float, float]:
    """Twist [rad] at which the stiffness of the mean twist begins and ends; the last stage runs on without end."""
    here, other = (plate.drive, plate.coast) if mean >= 0 else (plate.coast, plate.drive)
    corners = [plate.free_play / 2, *(stage.until for stage in here.stages[:-1]), math.inf]
    index = next(i for i, end in enumerate(corners[1:]) if abs(mean) <= end)
    begin, end = corners[index], corners[index + 1]
    if begin == 0 and here.stages[0].stiffness == other.stages[0].stiffness:  # straight through the middle
        begin = -other.stages[0].until if len(other.stages) > 1 else -math.inf
    return (begin, end) if mean >= 0 else (-end, -begin)


def _teeth(name: str, torque: np.ndarray) -> Iterator[str]:
    mean = float(torque.mean())
    toward = math.copysign(1.0, mean)
    least = float((toward * torque).min())
    if least < 0:
        yield (
            f"the teeth of the {name} would part: their torque falls to {number(least)} N m beside a mean of "
            f"{number(abs(mean))} N m, and the linear answer lets them pull"
        )


def _degrees(angle: float) -> str:
    return number(math.degrees(angle))
