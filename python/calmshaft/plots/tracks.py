"""Orders over speed along a run-up, each order named at its line, up and down on one picture."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
import xarray as xr
from matplotlib.axes import Axes

from calmshaft import signals
from calmshaft.plots.data import SHOWN
from calmshaft.plots.labels import POINT, spread
from calmshaft.plots.style import INK, LINES, PALE, axes_or_new, plain, titled
from calmshaft.plots.traces import watched_coupling
from calmshaft.wording import listed, number

_DIRECTIONS = ("-", (0, (4, 1.6)), (0, (1, 1.2)))  # line style by history; the colour tells the order
_LETTERS = 8.5  # points


def order_tracks(
    tracks: Any | Mapping[str, Any], ax: Axes | None = None, orders: Sequence[float] | None = None
) -> Axes:
    """Amplitude by order over mean speed of one history or several by name.

    tracks: what signals.order_tracks returns, or histories, of which the torque in the loaded mesh is taken. orders:
    those drawn; by default the four that rise highest. The heavy line is the half range of the synthesis of orders 0.5
    to 12, of a torque the vibratory torque. Raises ValueError for an order that a track does not hold.
    """
    listed_by_name = tracks if isinstance(tracks, Mapping) and not isinstance(tracks, xr.Dataset) else {"": tracks}
    named = {name: _tracked(one) for name, one in listed_by_name.items()}
    first = next(iter(named.values()))
    chosen = _chosen(named, orders)
    unit, factor = SHOWN.get(first.amplitude.attrs.get("units", ""), (first.amplitude.attrs.get("units", ""), 1.0))
    ax = axes_or_new(ax, (7.6, 4.4))
    for place, track in enumerate(named.values()):
        _draw(ax, track, chosen, factor, place if len(named) > 1 else None)
    ax.set_xlim(
        min(float(t.mean_rpm.min()) for t in named.values()), max(float(t.mean_rpm.max()) for t in named.values())
    )
    ax.set_ylim(bottom=0.0)
    _name_lines(ax, first, chosen, factor)
    ax.grid(axis="y", color=PALE, linewidth=0.6)
    ax.set_axisbelow(True)
    ax.set_xlabel("mean crank speed [rpm]")
    ax.set_ylabel(f"amplitude of {first.attrs['quantity']}, {plain(first.attrs['name'])} [{unit}]")
    if len(named) > 1:
        _key(ax, named)
    titled(ax, _finding(named, chosen, unit, factor))
    return ax


def _tracked(source: Any) -> xr.Dataset:
    if isinstance(source, xr.Dataset):
        return source
    return signals.order_tracks(source, "torque", watched_coupling(source))


def _chosen(named: Mapping[str, xr.Dataset], orders: Sequence[float] | None) -> list[float]:
    held = set.intersection(*(set(track.order.values.tolist()) for track in named.values()))
    if orders is not None:
        missing = [order for order in orders if order not in held]
        if missing:
            raise ValueError(f"order {missing[0]:g} is not in these tracks: ask signals.order_tracks for it")
        return list(orders)
    peaks = {order: max(float(track.amplitude.sel(order=order).max()) for track in named.values()) for order in held}
    return sorted(sorted(held, key=lambda order: -peaks[order])[: len(LINES)])


def _draw(ax: Axes, track: xr.Dataset, chosen: list[float], factor: float, direction: int | None) -> None:
    for place, order in enumerate(chosen):
        look = {**LINES[place % len(LINES)], "linewidth": 1.5}
        if direction is not None:
            look["linestyle"] = _DIRECTIONS[direction % len(_DIRECTIONS)]
        ax.plot(track.mean_rpm, track.amplitude.sel(order=order) * factor, **look)
    if "vibratory" in track:
        style = "-" if direction is None else _DIRECTIONS[direction % len(_DIRECTIONS)]
        ax.plot(track.mean_rpm, track.vibratory * factor, color=INK, linewidth=2.2, linestyle=style)


def _name_lines(ax: Axes, track: xr.Dataset, chosen: list[float], factor: float) -> None:
    """Names at the right end, pushed apart where lines end close together."""
    last = int(track.mean_rpm.values.argmax())
    words = [f"order {order:g}" for order in chosen]
    ends = [float(track.amplitude.sel(order=order)[last]) * factor for order in chosen]
    colours = [LINES[place % len(LINES)]["color"] for place in range(len(chosen))]
    if "vibratory" in track:
        words.append("vibratory" if track.attrs["quantity"] == "torque" else "synthesis")
        ends.append(float(track.vibratory[last]) * factor)
        colours.append(INK)
    low, high = ax.get_ylim()
    figure: Any = ax.figure
    height = (high - low) * 1.25 * _LETTERS * POINT / (ax.get_position().height * figure.get_figheight() * 25.4)
    places = spread(ends, [height] * len(ends), low, high)
    across = ax.get_yaxis_transform()
    for word, end, place, colour in zip(words, ends, places, colours, strict=True):
        ax.annotate(word, (1, end), (1.03, place), xycoords=across, textcoords=across, ha="left", va="center",
                    fontsize=_LETTERS, color=colour, annotation_clip=False,
                    arrowprops={"arrowstyle": "-", "color": colour, "linewidth": 0.6})  # fmt: skip


def _key(ax: Axes, named: Mapping[str, xr.Dataset]) -> None:
    for place, name in enumerate(named):
        ax.plot([], [], color=INK, linestyle=_DIRECTIONS[place % len(_DIRECTIONS)], label=plain(name) or " ")
    ax.legend(frameon=False, fontsize=9, labelcolor=INK, loc="best", handlelength=3.2)


def _finding(named: Mapping[str, xr.Dataset], chosen: list[float], unit: str, factor: float) -> str:
    """Where the strongest of the orders drawn peaks, in each history."""
    peaks = {order: max(float(track.amplitude.sel(order=order).max()) for track in named.values()) for order in chosen}
    order = max(chosen, key=lambda one: peaks[one])
    places = []
    for name, track in named.items():
        amplitude = track.amplitude.sel(order=order)
        top = int(np.argmax(amplitude.values))
        words = f"{number(float(amplitude[top]) * factor)} {unit} at {number(float(track.mean_rpm[top]))} rpm"
        places.append(f"{name} {words}" if name else words)
    return f"order {order:g} is the strongest: {listed(places)}"
