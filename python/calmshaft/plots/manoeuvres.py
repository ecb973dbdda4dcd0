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
    reason = getattr(hist, "reason", "")
    ends = _mean_speed_words(hist, stations[0])
    titled(ax, f"{ends}; ended early: {reason}" if reason else ends)


def _mean_speed_words(hist: Any, crank: str) -> str:
    """From where to where the mean over engine cycles goes, where the history has it; else the samples."""
    if "mean_speed" in hist.signals:
        mean, kind = hist.signals["mean_speed"].values * _RPM, "mean crank speed"
    else:
        mean, kind = hist.signals["speed"].sel(station=crank).values * _RPM, "crank"
    return f"{kind} from {number(mean[0])} to {number(mean[-1])} rpm, lowest {number(mean.min())} rpm"


def _greatest(hist: Any, coupling: str, values: np.ndarray, time: np.ndarray) -> str:
    """Greatest and least torque with their moments: of every step where the history has them, else of the samples."""
    peaks = getattr(hist, "peaks", {}).get(coupling, {}).get("torque")
    if peaks is None:
        most, least = values.argmax(), values.argmin()
        found = (values[least], time[least], values[most], time[most])
    else:
        found = (peaks.least, peaks.least_at, peaks.greatest, peaks.greatest_at)
    low, low_at, high, high_at = (number(float(value)) for value in found)
    return f"torque from {low} N m at {low_at} s to {high} N m at {high_at} s"


def _busiest(hist: Any, names: Sequence[str]) -> str:
    """The loaded mesh with the largest torque: a reversal goes from one to another."""
    loaded = [name for name in names if "mesh" in name] or list(names)
    return max(loaded, key=lambda name: float(np.abs(hist.signals["torque"].sel(coupling=name).values).max()))


def _torque(ax: Axes, hist: Any, time: np.ndarray) -> None:
    meshes = mesh_names(hist)
    couplings = [str(one) for one in hist.signals["coupling"].values]
    name = _busiest(hist, meshes) if meshes else couplings[0]
    torque = hist.signals["torque"].sel(coupling=name).values
    _band(ax, hist.signals, torque, {**LINES[1], "linestyle": "-"})
    ax.axhline(0.0, color=INK, linewidth=1.0)
    ax.set_ylabel(f"torque, {plain(name)} [N m]")
    words = _greatest(hist, name, torque, time)
    if meshes and torque.any():
        carrying = slice(int(np.flatnonzero(torque)[0]), None)  # before its clutch takes hold a mesh carries nothing
        apart = state_shares(tooth_states(torque[carrying]), time[carrying])["apart"]
        words += f"; without torque {percent(apart)} of the time since" if apart > 0 else "; teeth stay in contact"
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
