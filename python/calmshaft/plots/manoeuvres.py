"""A history at a glance: speed, mesh torque and twist of the plate over one time axis."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from calmshaft.plots.contact import mesh_names, state_shares, tooth_states
from calmshaft.plots.style import INK, LINES, PALE, WARM, dressed, new_figure, plain, titled
from calmshaft.wording import number, percent

_BINS = 700  # more samples than a few a bin are shown as a band from the least to the greatest
_RPM = 30.0 / math.pi


def history(hist: Any, ax: Sequence[Axes] | None = None) -> Figure:
    """Speeds, torque in the loaded mesh (neutral: the unloaded pair) and twist of the plate over one time axis.

    hist: a History: `.signals` over time and, for the stops, its `.line`. ax: three axes to draw on, top to bottom.
    Fast swings are a band with the mean of each engine cycle. Returns the figure. Raises ValueError where there are
    no signals.
    """
    if hist.signals is None or hist.signals["time"].size < 2:
        raise ValueError(f"there are no signals to show: {getattr(hist, 'reason', '') or 'fewer than two samples'}")
    if ax is None:
        ax = new_figure((8.4, 7.2)).subplots(3, 1, sharex=True)
    panels = [dressed(one) for one in ax]
    time = hist.signals["time"].values
    _speeds(panels[0], hist)
    _torque(panels[1], hist, time)
    _twist(panels[2], hist, time)
    for panel in panels:
        panel.set_xlim(time[0], time[-1])
        panel.grid(axis="x", color=PALE, linewidth=0.6)
        panel.set_axisbelow(True)
    panels[2].set_xlabel("time [s]")
    figure = panels[0].figure
    assert figure is not None
    return figure  # type: ignore[return-value]


def _speeds(ax: Axes, hist: Any) -> None:
    """The crank and, in gear, the propeller, each in its own turns."""
    stations = [str(name) for name in hist.signals["station"].values]
    shown = [name for name in (stations[0], "propeller") if name in stations]
    for name, style in zip(shown, LINES, strict=False):
        _band(ax, hist.signals, hist.signals["speed"].sel(station=name).values * _RPM, style, plain(name))
    ax.set_ylabel("speed [rpm]")
    if len(shown) > 1:
        ax.legend(frameon=False, fontsize=9, labelcolor=INK, handlelength=3.0)
    crank = hist.signals["speed"].sel(station=stations[0]).values * _RPM
    reason = getattr(hist, "reason", "")
    ends = f"crank from {number(crank[0])} to {number(crank[-1])} rpm, lowest {number(crank.min())} rpm"
    titled(ax, f"{ends}; ended early: {reason}" if reason else ends)


def _torque(ax: Axes, hist: Any, time: np.ndarray) -> None:
    meshes = mesh_names(hist)
    couplings = [str(one) for one in hist.signals["coupling"].values]
    name = meshes[0] if meshes else couplings[0]
    torque = hist.signals["torque"].sel(coupling=name).values
    _band(ax, hist.signals, torque, {**LINES[1], "linestyle": "-"})
    ax.axhline(0.0, color=INK, linewidth=1.0)
    ax.set_ylabel(f"torque, {plain(name)} [N m]")
    words = f"greatest torque {number(torque.max())} N m at {number(time[torque.argmax()])} s"
    if meshes:
        apart = state_shares(tooth_states(torque), time)["apart"]
        words += f"; teeth apart {percent(apart)} of the time" if apart > 0 else "; teeth stay in contact"
    titled(ax, words)


def _twist(ax: Axes, hist: Any, time: np.ndarray) -> None:
    """Of the plate, with its stops where they are near; of the first coupling where the drive is rigid."""
    couplings = [str(one) for one in hist.signals["coupling"].values]
    name = "plate" if "plate" in couplings else couplings[0]
    twist = np.degrees(hist.signals["twist"].sel(coupling=name).values)
    _band(ax, hist.signals, twist, {**LINES[2], "linestyle": "-"})
    ax.axhline(0.0, color=INK, linewidth=0.8)
    ax.set_ylabel(f"twist, {plain(name)} [deg]")
    words = f"twist from {number(twist.min())} to {number(twist.max())} deg"
    if name == "plate" and getattr(hist, "line", None) is not None:
        words += _stops(ax, hist.line.core.plate, time, twist)
    titled(ax, words)


def _stops(ax: Axes, plate: Any, time: np.ndarray, twist: np.ndarray) -> str:
    """Draws the stops that the twist comes near, and says what it does there."""
    words = ""
    for side, sign, name in ((plate.drive, 1.0, "drive"), (plate.coast, -1.0, "coast")):
        stop = sign * math.degrees(side.stop_angle)
        if not math.isfinite(stop):
            continue
        reached = sign * twist >= sign * stop
        if sign * twist.max() > 0.5 * sign * stop or reached.any() or sign * twist.min() > 0.5 * sign * stop:
            ax.axhline(stop, color=WARM, linewidth=1.6, linestyle=(0, (6, 2)))
            ax.annotate(f"stop, {name}", (1, stop), (-4, 2), xycoords=("axes fraction", "data"),
                        textcoords="offset points", ha="right", va="bottom", fontsize=8.5, color=INK)  # fmt: skip
        if reached.any():
            words += f"; on the {name} stop first at {number(time[reached.argmax()])} s"
    return words or "; no stop reached"


def _band(ax: Axes, signals: Any, values: np.ndarray, look: dict[str, Any], label: str | None = None) -> None:
    """A line, or where samples are many, the band from least to greatest and the mean of each engine cycle."""
    time = signals["time"].values
    if values.size <= 3 * _BINS:
        ax.plot(time, values, label=label, **look)
        return
    bins = np.linspace(0, values.size, _BINS, endpoint=False).astype(int)
    low, high = np.minimum.reduceat(values, bins), np.maximum.reduceat(values, bins)
    ax.fill_between(_means(time, bins), low, high, color=look["color"], alpha=0.35, linewidth=0)
    two_turns = np.floor(signals["crank_angle"].values / (4.0 * math.pi))
    cycles = np.flatnonzero(np.diff(two_turns, prepend=-np.inf))
    ax.plot(_means(time, cycles), _means(values, cycles), label=label, **look)


def _means(values: np.ndarray, starts: np.ndarray) -> np.ndarray:
    """Means of the samples from each start to the next."""
    return np.add.reduceat(values, starts) / np.diff(np.append(starts, values.size))
