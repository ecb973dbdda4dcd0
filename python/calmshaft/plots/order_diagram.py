"""Natural frequencies and the engine's orders over speed: where they cross, the line resonates."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Iterable

import numpy as np
from matplotlib.axes import Axes
from matplotlib.patheffects import withStroke
from matplotlib.transforms import ScaledTranslation

from calmshaft.condition import Condition
from calmshaft.line import Line
from calmshaft.linear.chains import Chain
from calmshaft.linear.critical import (
    CriticalSpeed,
    critical_speeds,
    excited_orders,
    frequency_curves,
    idle,
    running_range,
)
from calmshaft.linear.modal import modes
from calmshaft.plots.style import INK, LINES, PALE, axes_or_new

_BESIDE = 0.25  # [-] of the running range shown on either side of it
_SPEEDS = 121
_BELOW = 0.48  # [inch] from the axes down to their key
_WIDEST = 72  # letters of a line of the key


def order_diagram(
    subject: Line | Chain,
    at: Condition | None = None,
    orders: Iterable[float] | None = None,
    rpm_range: tuple[float, float] | None = None,
    ax: Axes | None = None,
) -> Axes:
    """Frequency [Hz] over mean crank speed [rpm]: order rays, natural frequencies in words, critical speeds marked.

    at, orders, rpm_range: as for critical_speeds(); the range is shaded, and needed for a chain. Raises LineError.
    """
    ax = axes_or_new(ax, (7.6, 4.8))
    found = critical_speeds(subject, at, orders, rpm_range)
    low, high = rpm_range or running_range(subject)
    if not math.isfinite(high):
        high = 1.2 * max((row.rpm for row in found), default=1000.0)
    shown = (max(0.0, low - _BESIDE * (high - low)), high + _BESIDE * (high - low))
    rays = sorted(orders) if orders is not None else excited_orders(subject, at or idle(subject))
    top = _top(subject, at, found)
    ax.axvspan(low, high, color=PALE, alpha=0.35, linewidth=0)
    ax.text(high, 0.0, "running range ", color=INK, fontsize=8, va="bottom", ha="right")
    _rays(ax, [order for order in rays if order * low / 60 < top], {row.order for row in found}, shown, top)
    _frequencies(ax, subject, at, found, (low, high), top)
    _criticals(ax, found)
    ax.set_xlim(*shown)
    ax.set_ylim(0.0, top)
    ax.set_xlabel("mean crank speed [rpm]")
    ax.set_ylabel("frequency [Hz]")
    return ax


def _top(subject: Line | Chain, at: Condition | None, found: list[CriticalSpeed]) -> float:
    """Highest frequency shown [Hz]: above the highest one that is met, or the lowest there is."""
    if found:
        return 1.3 * max(row.frequency_hz for row in found)
    natural = modes(subject, at or (idle(subject) if isinstance(subject, Line) else None)).frequency_hz
    return 1.3 * float(min(natural[natural > 0], default=100.0))


def _rays(ax: Axes, orders: list[float], met: set[float], shown: tuple[float, float], top: float) -> None:
    """A ray for each order, pale where it meets nothing, its number where it leaves the picture."""
    for order in orders:
        colour, width = (INK, 1.0) if order in met else ("#8d98a1", 0.6)
        end = min(shown[1], 60 * top / order)
        ax.plot([0, end], [0, order * end / 60], color=colour, linewidth=width, linestyle=(0, (4, 2)))
        at_top = end < shown[1]
        ax.annotate(f"{order:g}", (end, order * end / 60), xytext=(0, 2) if at_top else (3, 0), fontsize=8,
                    textcoords="offset points", ha="center" if at_top else "left",
                    va="bottom" if at_top else "center", color=colour, annotation_clip=False)  # fmt: skip


def _frequencies(
    ax: Axes,
    subject: Line | Chain,
    at: Condition | None,
    found: list[CriticalSpeed],
    inside: tuple[float, float],
    top: float,
) -> None:
    """Natural frequencies over the running range, each with its words at its right end."""
    speeds = np.linspace(*inside, _SPEEDS)
    if isinstance(subject, Line):
        at = at or idle(subject)
        curves = frequency_curves(subject, at, speeds)
        words = modes(subject, at.with_(rpm=inside[1])).words
    else:
        one = modes(subject)
        curves, words = np.tile(one.frequency_hz, (speeds.size, 1)), one.words
    visible = [mode for mode in range(curves.shape[1]) if 0 < curves[:, mode].min() < top]
    for place, mode in enumerate(visible):
        look = {**LINES[place % len(LINES)], "linewidth": 2.0}
        ax.plot(speeds, curves[:, mode], drawstyle="steps-mid", label=textwrap.fill(words[mode], _WIDEST), **look)
    if visible:
        below = ax.transAxes + ScaledTranslation(0.0, -_BELOW, ax.get_figure().dpi_scale_trans)
        ax.legend(loc="upper left", bbox_to_anchor=(0.0, 0.0), bbox_transform=below, frameon=False, fontsize=9,
                  labelcolor=INK, borderaxespad=0.0, title="orders at the ends of dashed rays; natural frequencies:",
                  title_fontsize=8.5, alignment="left")  # fmt: skip


def _criticals(ax: Axes, found: list[CriticalSpeed]) -> None:
    """A ring at each crossing with its speed."""
    for row in found:
        ax.plot(row.rpm, row.frequency_hz, "o", color=INK, markersize=7, markerfacecolor="white", zorder=5)
        text = ax.annotate(f"{row.rpm:.0f}", (row.rpm, row.frequency_hz), xytext=(4, -12),
                           textcoords="offset points", fontsize=8, color=INK, zorder=6)  # fmt: skip
        text.set_path_effects([withStroke(linewidth=2.5, foreground="white")])
