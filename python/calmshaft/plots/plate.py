"""The plate's own curve: torque over twist, both ways, with corners, stops and stated torque."""

from __future__ import annotations

import math

import numpy as np
from matplotlib.axes import Axes

from calmshaft import _core
from calmshaft.line import Line
from calmshaft.plots.style import COOL, INK, PALE, WARM, axes_or_new
from calmshaft.runs import Run

_WITHOUT_STOP = math.radians(20.0)


def plate_curve(line: Line, ax: Axes | None = None, run: Run | None = None) -> Axes:
    """Torque of the plate over its twist, winding up and back, between its stops.

    run: also shade the twist that this steady condition uses. Raises ValueError for a rigid drive.
    """
    plate = line.core.plate
    if not line.has_plate:
        raise ValueError("a rigid drive has no curve to draw")
    ax = axes_or_new(ax, (6.4, 4.4))
    drive, coast = (_reach(side) for side in (plate.drive, plate.coast))
    twist = np.linspace(-coast, drive, 801)
    elastic = np.array([_elastic(plate, angle) for angle in twist])
    friction = plate.hysteresis_full_width / 2
    ax.plot(np.degrees(twist), elastic + friction, color=COOL, linewidth=1.8, label="winding up")
    ax.plot(np.degrees(twist), elastic - friction, color=COOL, linewidth=1.8, linestyle="--", label="unwinding")
    for stop, side in ((plate.drive.stop_angle, 1), (plate.coast.stop_angle, -1)):
        if math.isfinite(stop):
            ax.axvline(side * math.degrees(stop), color=INK, linewidth=2.0, label="stop" if side > 0 else None)
    if plate.rated_torque:
        ax.axhline(plate.rated_torque, color=WARM, linewidth=1.0, linestyle=":", label="stated torque")
    if run is not None:
        low, high = math.degrees(run.best("plate_twist_min")), math.degrees(run.best("plate_twist_max"))
        ax.axvspan(low, high, color=PALE, alpha=0.6, linewidth=0, label=f"used at {run.at.rpm:g} rpm")
    ax.axhline(0.0, color=INK, linewidth=0.8)
    ax.set_xlabel("twist from the middle of the free play [deg], positive: drive")
    ax.set_ylabel("torque through the plate [N m]")
    ax.legend(loc="upper left", bbox_to_anchor=(0.06, 1.0), frameon=False, fontsize=9, labelcolor=INK)
    return ax


def _reach(side: _core.PlateSide) -> float:
    return side.stop_angle if math.isfinite(side.stop_angle) else _WITHOUT_STOP


def _elastic(plate: _core.Plate, twist: float) -> float:
    side = plate.drive if twist >= 0 else plate.coast
    return math.copysign(_core.elastic_torque(side, plate.free_play, abs(twist)), twist)
