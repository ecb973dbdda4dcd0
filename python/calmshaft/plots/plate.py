"""The plate's own curve, and the loop that a steady run draws on it."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
from matplotlib.axes import Axes

from calmshaft import _core
from calmshaft.line import Line
from calmshaft.plots.style import COOL, INK, PALE, WARM, axes_or_new, titled
from calmshaft.runs import Run
from calmshaft.wording import number

_WITHOUT_STOP = math.radians(20.0)
_EVERYWHERE = (-math.inf, math.inf)


def plate_curve(line: Line, ax: Axes | None = None, run: Run | None = None) -> Axes:
    """Torque of the plate over its twist, winding up and back, between its stops.

    run: also shade the twist that this steady condition uses. Raises ValueError for a rigid drive.
    """
    plate = _plate(line)
    ax = axes_or_new(ax, (6.4, 4.4))
    _static(ax, plate, {"color": COOL, "linewidth": 1.8})
    if run is not None:
        low, high = math.degrees(run.best("plate_twist_min")), math.degrees(run.best("plate_twist_max"))
        ax.axvspan(low, high, color=PALE, alpha=0.6, linewidth=0, label=f"used at {run.at.rpm:g} rpm")
    _finish(ax)
    return ax


def torque_angle_loop(run: Run, ax: Axes | None = None) -> Axes:
    """Torque over twist of the plate over the recorded cycles, on its static curve with corners and stops.

    The area of the loop is the work that the plate takes in a cycle [J], which ends as heat. Raises ValueError for a
    rigid drive and a run without signals.
    """
    plate = _plate(run.line)
    if run.signals is None:
        raise ValueError(f"there are no signals: {run.status}, {run.reason}")
    ax = axes_or_new(ax, (6.4, 4.6))
    twist, torque = (run.signals[name].sel(coupling="plate").values for name in ("twist", "torque"))
    across, up = _frame(plate, twist, torque)
    _static(ax, plate, {"color": COOL, "linewidth": 1.2}, across, up)
    _corners(ax, plate, across)
    cycles = (twist.size - 1) // run.steps_per_cycle
    words = "this run" if cycles == 1 else f"this run, last {cycles} cycles"
    ax.plot(np.degrees(twist), torque, color=WARM, linewidth=1.6 if cycles == 1 else 0.7, label=words)
    work = loop_work(twist, torque) / cycles
    seconds = float(np.ptp(run.signals["time"].values)) / cycles
    ax.annotate(f"loop area: {number(work)} J a cycle\n= {number(work / seconds)} W of heat", (0.97, 0.04),
                xycoords="axes fraction", ha="right", va="bottom", fontsize=9, color=INK,
                bbox={"facecolor": "white", "edgecolor": "none", "alpha": 0.85, "pad": 1.5})  # fmt: skip
    _finish(ax)
    ax.set_xlim(*across)
    ax.set_ylim(*up)
    titled(ax, _use_words(plate, twist))
    return ax


def loop_work(twist: np.ndarray, torque: np.ndarray) -> float:
    """Work [J] taken in over a record: the integral of torque [N m] over twist [rad], by trapezoids."""
    return float(np.trapezoid(torque, twist))


def _plate(line: Line) -> _core.Plate:
    if not line.has_plate:
        raise ValueError("without a plate there is no curve to draw")
    return line.core.plate


def _static(
    ax: Axes,
    plate: _core.Plate,
    look: dict[str, Any],
    across: tuple[float, float] = _EVERYWHERE,
    up: tuple[float, float] = _EVERYWHERE,
) -> None:
    """The curve both ways; stops and stated torque inside `across` [deg] and `up` [N m]."""
    drive, coast = (_reach(side) for side in (plate.drive, plate.coast))
    twist = np.linspace(-coast, drive, 801)
    elastic = np.array([_elastic(plate, angle) for angle in twist])
    friction = plate.hysteresis_full_width / 2
    ax.plot(np.degrees(twist), elastic + friction, label="winding up", **look)
    ax.plot(np.degrees(twist), elastic - friction, linestyle="--", label="unwinding", **look)
    for stop, side in ((plate.drive.stop_angle, 1), (plate.coast.stop_angle, -1)):
        if math.isfinite(stop) and across[0] <= side * math.degrees(stop) <= across[1]:
            ax.axvline(side * math.degrees(stop), color=INK, linewidth=2.0, label="stop" if side > 0 else None)
    if plate.rated_torque and up[0] <= plate.rated_torque <= up[1]:
        ax.axhline(plate.rated_torque, color=WARM, linewidth=1.0, linestyle=":", label="stated torque")


def corners(plate: _core.Plate) -> list[float]:
    """Twists [rad] where the curve bends: the ends of the free play and of every stage but the last."""
    found = []
    for side, sign in ((plate.drive, 1.0), (plate.coast, -1.0)):
        found += [sign * corner for corner in (plate.free_play / 2, *(stage.until for stage in side.stages[:-1]))]
    return sorted(set(found))


def _corners(ax: Axes, plate: _core.Plate, across: tuple[float, float]) -> None:
    twist = [angle for angle in corners(plate) if across[0] <= math.degrees(angle) <= across[1]]
    torque = [_elastic(plate, angle) for angle in twist]
    ax.plot(
        np.degrees(twist), torque, "o", markersize=4.5, markerfacecolor="white", color=INK, label="corner", zorder=3
    )


def _finish(ax: Axes) -> None:
    ax.axhline(0.0, color=INK, linewidth=0.8)
    ax.set_xlabel("twist from the middle of the free play [deg], positive: drive")
    ax.set_ylabel("torque through the plate [N m]")
    ax.legend(loc="upper left", bbox_to_anchor=(0.06, 1.0), fontsize=9, labelcolor=INK, facecolor="white",
              edgecolor="none", framealpha=0.85)  # fmt: skip


def _frame(
    plate: _core.Plate, twist: np.ndarray, torque: np.ndarray
) -> tuple[tuple[float, float], tuple[float, float]]:
    """Limits [deg] and [N m] with room for the loop, the free play and a stop that is not far."""
    low, high = min(float(twist.min()), -plate.free_play / 2), max(float(twist.max()), plate.free_play / 2)
    room = 0.25 * (high - low)
    for stop in (plate.drive.stop_angle, -plate.coast.stop_angle):
        if low - room <= stop <= high + room:
            low, high = min(low, stop), max(high, stop)
    least, most = min(float(torque.min()), 0.0), max(float(torque.max()), 0.0)
    margin, height = 0.12 * (high - low), 0.3 * (most - least)
    return (math.degrees(low - margin), math.degrees(high + margin)), (least - height, most + height)


def _use_words(plate: _core.Plate, twist: np.ndarray) -> str:
    """What the plate does: its range, and how far the stop still is."""
    low, high = math.degrees(twist.min()), math.degrees(twist.max())
    if high >= math.degrees(plate.drive.stop_angle) or low <= -math.degrees(plate.coast.stop_angle):
        return f"the plate reaches its stop: twist from {number(low)} to {number(high)} deg"
    stop = (
        f", stop at {number(math.degrees(plate.drive.stop_angle))} deg" if math.isfinite(plate.drive.stop_angle) else ""
    )
    return f"the plate works from {number(low)} to {number(high)} deg{stop}"


def _reach(side: _core.PlateSide) -> float:
    return side.stop_angle if math.isfinite(side.stop_angle) else _WITHOUT_STOP


def _elastic(plate: _core.Plate, twist: float) -> float:
    side = plate.drive if twist >= 0 else plate.coast
    return math.copysign(_core.elastic_torque(side, plate.free_play, abs(twist)), twist)
