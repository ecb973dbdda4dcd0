"""One sheet about a plate: its front view, and its torque over twist with every corner named."""

from __future__ import annotations

import math

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from calmshaft.plots.labels import spread
from calmshaft.plots.plate_front import COLOURS, legend_words, plate_front
from calmshaft.plots.style import COOL, INK, PALE, WARM, axes_or_new, dressed, new_figure, plain
from calmshaft.wording import number
from calmshaft.workshop.plate_by_itself import Corner, PlateAlone

_WITHOUT_STOP = 1.4  # of the last corner, at least; where no stop is known
_NO_CORNER = math.radians(15.0)


def plate_sheet(plate: PlateAlone) -> Figure:
    """Front view (where the springs were measured) beside the curve."""
    if plate.springs is None:
        figure = new_figure((7.6, 4.8))
        named_curve(plate, dressed(figure.subplots()))
        return figure
    figure = new_figure((11.4, 5.8))
    lines = legend_words(plate.springs)
    grid = figure.add_gridspec(2, 2, width_ratios=(1.0, 1.35), height_ratios=(1.0, 0.055 * (len(lines) + 1)))
    plate_front(plate.springs, dressed(figure.add_subplot(grid[0, 0])))
    _write_legend(figure.add_subplot(grid[1, 0]), lines)
    named_curve(plate, dressed(figure.add_subplot(grid[:, 1])))
    figure.suptitle(plain(plate.title), x=0.01, ha="left", fontsize=11, color=INK)
    return figure


def _write_legend(ax: Axes, lines: list[str]) -> None:
    ax.set_axis_off()
    step = 1.0 / (len(lines) + 1)
    for row, (words, colour) in enumerate(zip(lines, COLOURS, strict=False)):
        ax.text(0.0, 1.0 - step * row, words, va="top", fontsize=8.5, color=colour)
    note = "Broken line: where the hub touches. Outline, hub and spacing are not measured."
    ax.text(0.0, 1.0 - step * len(lines), note, va="top", fontsize=8, color=INK)


def named_curve(plate: PlateAlone, ax: Axes | None = None) -> Axes:
    """Torque of the springs over twist between the stops, friction as a band, each corner with its name."""
    ax = axes_or_new(ax, (7.6, 4.8))
    drive, coast = (plate.corners(side) for side in ("drive", "coast"))
    reach = {side: _reach(plate, side) for side in ("drive", "coast")}
    twist = np.unique([*np.linspace(-reach["coast"], reach["drive"], 601), *(c.twist for c in (*drive, *coast))])
    torque = np.array([plate.torque(angle) for angle in twist])
    half = plate.core.hysteresis_full_width / 2
    if math.isfinite(half) and half > 0:
        label = f"friction: winding up {number(half)} N m more, unwinding as much less"
        ax.fill_between(
            np.degrees(twist), torque - half, torque + half, color=PALE, alpha=0.7, linewidth=0, label=label
        )
    ax.plot(np.degrees(twist), torque, color=COOL, linewidth=1.8, label="springs")
    if plate.core.rated_torque:
        ax.axhline(plate.core.rated_torque, color=WARM, linewidth=1.0, linestyle=":", label="stated torque")
    _frame(ax, torque, reach)
    _name(ax, drive, 1)
    _name(ax, coast, -1)
    return ax


def _reach(plate: PlateAlone, side: str) -> float:
    if math.isfinite(plate.stop(side)):
        return plate.stop(side)
    return max([_NO_CORNER, *(_WITHOUT_STOP * abs(corner.twist) for corner in plate.corners(side))])


def _frame(ax: Axes, torque: np.ndarray, reach: dict[str, float]) -> None:
    ax.axhline(0.0, color=INK, linewidth=0.8)
    room = 0.12 * math.degrees(reach["drive"] + reach["coast"])
    ax.set_xlim(-math.degrees(reach["coast"]) - room, math.degrees(reach["drive"]) + room)
    height = float(np.ptp(torque))
    ax.set_ylim(float(torque.min()) - 0.1 * height, float(torque.max()) + 0.22 * height)
    ax.set_xlabel("twist from the middle of the free play [deg], positive: drive")
    ax.set_ylabel("torque through the plate [N m]")
    ax.legend(loc="upper left", fontsize=8.5, labelcolor=INK, frameon=False)


def _name(ax: Axes, corners: list[Corner], sign: int) -> None:
    """Names stand in a column of their own: in drive to the left of the axis above, in coast to the right below."""
    low, high = ax.get_ylim()
    size = 0.085 * (high - low)
    bottom, top = (0.04 * high, high - 0.16 * (high - low)) if sign > 0 else (low, -0.04 * (high - low))
    heights = spread([corner.torque for corner in corners], [size] * len(corners), bottom, top)
    across = ax.get_xlim()[0] * 0.97 if sign > 0 else ax.get_xlim()[1] * 0.97
    side, from_end = ("left", (1.0, 0.5)) if sign > 0 else ("right", (0.0, 0.5))
    line = {"arrowstyle": "-", "color": INK, "linewidth": 0.5, "shrinkB": 3, "relpos": from_end}
    ground = {"facecolor": "white", "edgecolor": "none", "pad": 0.5, "alpha": 0.9}
    for corner, height in zip(corners, heights, strict=True):
        place = math.degrees(corner.twist), corner.torque
        words = plain(f"{corner.words}: {number(abs(place[0]))} deg, {number(abs(place[1]))} N m")
        ax.annotate(words, place, (across, height), fontsize=8, color=INK, va="center", ha=side,
                    bbox=ground, arrowprops=line)  # fmt: skip
        ax.plot(*place, "o", markersize=4.5, markerfacecolor="white", color=INK, zorder=3)
