"""Maps of a measure over two swept axes: one cell a computed point, nothing smoothed."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np
import xarray as xr
from matplotlib.axes import Axes
from matplotlib.cm import ScalarMappable
from matplotlib.collections import LineCollection
from matplotlib.colors import BoundaryNorm
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.ticker import MaxNLocator

from calmshaft.plots.data import SHOWN, axis_label, edges, line_of, rpm_of, settled, unit_words
from calmshaft.plots.style import CALM_TO_ROUGH, INK, WARM, axes_or_new, dressed, new_figure, titled
from calmshaft.results import STATUS

TEETH_PART = 0.001  # share of time
APERIODIC = STATUS.index("aperiodic")
# Steps 1-2-5, so that a few tooth impacts do not use up the whole scale.
RIPPLE_STEPS = (0, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000)
_CASING = {
    "color": "white",
    "linewidth": 2.2,
    "alpha": 0.55,
}  # below a dashed line, so that it stands out on dark cells
_HALO = {"facecolor": "white", "alpha": 0.75, "edgecolor": "none", "pad": 1.0}


def sweep_map(ds: xr.Dataset, name: str, ax: Axes | None = None, steps: Any = None, bar: bool = True) -> Axes:
    """Map of measure `name` over the two axes of `ds`, the mean over cycles where the motion does not repeat.

    Marks: a dot where it does not repeat, a cross where there is no valid result, a heavy line around the speeds where
    the teeth of the loaded mesh part, lines at idle and rated speed. steps: class borders of the colours in the
    measure's unit (radians are shown in degrees); bar: add a colour bar. Raises ValueError where `ds` has other than
    two axes longer than one: select the rest first.
    """
    ds = ds.squeeze(drop=True)
    dims = [str(dim) for dim in ds["status"].dims]
    if len(dims) != 2:
        raise ValueError(f"a map needs two axes, this result has {dims or 'none'}: select the rest with .sel(...)")
    x = "rpm" if "rpm" in dims else dims[0]
    y = dims[1] if dims[0] == x else dims[0]
    ds = ds.transpose(y, x, ...)
    values = settled(ds, name)
    unit, factor = SHOWN.get(values.attrs.get("units", ""), (values.attrs.get("units", ""), 1.0))
    norm = _norm(values.values * factor, steps)
    ax = axes_or_new(ax, (7.4, 4.6))
    ax.pcolormesh(_edges(ds, x), _edges(ds, y), values.values * factor, norm=norm, cmap=CALM_TO_ROUGH, rasterized=True)
    _mark_points(ax, ds, x, y)
    if "mesh_separated_share" in ds:
        _outline(ax, ds["mesh_separated_share"].values > TEETH_PART, _edges(ds, x), _edges(ds, y))
    _mark_speeds(ax, ds, x)
    ax.set_xlabel(axis_label(ds, x))
    ax.set_ylabel(axis_label(ds, y))
    if bar:
        _colour_bar(ax.figure, norm, [ax], f"{values.attrs.get('long_name', name)} [{unit_words(unit)}]")
    return ax


def ripple_map(ds: xr.Dataset, ax: Axes | None = None, bar: bool = True) -> Axes:
    """Map of the peak to peak torque in the loaded mesh; marks as in sweep_map."""
    return sweep_map(ds, "mesh_torque_ripple", ax, RIPPLE_STEPS, bar)


def ripple_maps(ds: xr.Dataset, plates: Mapping[str, float] | None = None, title: str = "") -> Figure:
    """One ripple map for each label of the axis `misfiring`, on one colour scale, with a key to the marks.

    plates: names of plates and where they stand on the vertical axis, drawn as lines.
    """
    labels = [str(label) for label in np.atleast_1d(ds["misfiring"].values)]
    figure = new_figure((1.2 + 4.7 * len(labels), 5.4))
    panels = figure.subplots(1, len(labels), sharey=True, squeeze=False)[0]
    for label, ax in zip(labels, panels, strict=True):
        ripple_map(ds.sel(misfiring=label), dressed(ax), bar=False)
        titled(ax, "all cylinders fire" if label == "none" else f"cylinder {label.replace('+', ' and ')} dead")
        _mark_plates(ax, plates or {})
    for ax in panels[1:]:
        ax.set_ylabel("")
    words = "ripple: peak to peak torque in the loaded mesh [N m]"
    _colour_bar(figure, BoundaryNorm(RIPPLE_STEPS, CALM_TO_ROUGH.N), list(panels), words)
    figure.legend(handles=_key(), loc="outside lower center", ncols=3, frameon=False, fontsize=9, labelcolor=INK)
    if title:
        figure.suptitle(title, x=0.01, ha="left", fontsize=11.5, color=INK)
    return figure


def _places(ds: xr.Dataset, dim: str) -> np.ndarray:
    places = ds[dim].values
    return places if np.issubdtype(places.dtype, np.number) else np.arange(places.size)


def _edges(ds: xr.Dataset, dim: str) -> np.ndarray:
    return edges(_places(ds, dim))


def _norm(values: np.ndarray, steps: Any) -> BoundaryNorm:
    if steps is None:
        finite = values[np.isfinite(values)]
        low, high = np.quantile(finite, [0.0, 0.98]) if finite.size else (0.0, 1.0)
        steps = MaxNLocator(8).tick_values(low, high if high > low else low + 1.0)
    return BoundaryNorm(steps, CALM_TO_ROUGH.N, extend="neither" if steps is RIPPLE_STEPS else "max")


def _colour_bar(figure: Any, norm: BoundaryNorm, panels: list[Axes], words: str) -> None:
    bar = figure.colorbar(
        ScalarMappable(norm, CALM_TO_ROUGH), ax=panels, pad=0.015, aspect=30, spacing="uniform", ticks=norm.boundaries
    )
    bar.set_label(words, fontsize=9.5, color=INK)
    bar.ax.tick_params(labelsize=8.5, colors=INK)
    bar.ax.yaxis.set_major_formatter(lambda value, _: f"{value:.3g}" if value < 1000 else f"{value:.0f}")
    bar.outline.set_visible(False)


def _mark_points(ax: Axes, ds: xr.Dataset, x: str, y: str) -> None:
    across, up = np.meshgrid(_places(ds, x), _places(ds, y))
    status = ds["status"].values
    for chosen, style in ((status == APERIODIC, _DOT), (status > APERIODIC, _CROSS)):
        ax.plot(across[chosen], up[chosen], linestyle="none", **style)


_DOT: dict[str, Any] = {"marker": ".", "markersize": 2.6, "color": "white"}
_DOT |= {"markeredgecolor": INK, "markeredgewidth": 0.3}
_CROSS: dict[str, Any] = {"marker": "x", "markersize": 5, "color": INK}


def _outline(ax: Axes, inside: np.ndarray, across: np.ndarray, up: np.ndarray) -> None:
    """The border of a set of cells; inside: (rows, columns)."""
    upright = np.diff(np.pad(inside.astype(int), ((0, 0), (1, 1))), axis=1) != 0
    level = np.diff(np.pad(inside.astype(int), ((1, 1), (0, 0))), axis=0) != 0
    lines = [[(across[j], up[i]), (across[j], up[i + 1])] for i, j in np.argwhere(upright)]
    lines += [[(across[j], up[i]), (across[j + 1], up[i])] for i, j in np.argwhere(level)]
    ax.add_collection(LineCollection(lines, colors=WARM, linewidths=1.8, capstyle="projecting"), autolim=False)


def _mark_speeds(ax: Axes, ds: xr.Dataset, x: str) -> None:
    line = line_of(ds) if x == "rpm" else None
    if line is None:
        return
    for word, key in (("idle", "engine.idle_rpm"), ("rated", "engine.rated_rpm")):
        speed = rpm_of(line, key)
        if ax.get_xlim()[0] <= speed <= ax.get_xlim()[1]:
            ax.axvline(speed, **_CASING)
            ax.axvline(speed, color=INK, linewidth=0.9, linestyle=(0, (5, 3)))
            ax.annotate(word, (speed, 1), (-3, -3), xycoords=("data", "axes fraction"), textcoords="offset points",
                        ha="right", va="top", rotation=90, fontsize=8, color=INK, bbox=_HALO)  # fmt: skip


def _mark_plates(ax: Axes, plates: Mapping[str, float]) -> None:
    for name, place in plates.items():
        ax.axhline(place, **_CASING)
        ax.axhline(place, color=INK, linewidth=0.9, linestyle=(0, (1, 2)))
        ax.annotate(name, (1, place), (-4, 2), xycoords=("axes fraction", "data"), textcoords="offset points",
                    ha="right", va="bottom", fontsize=8, color=INK, bbox=_HALO)  # fmt: skip


def _key() -> list[Line2D]:
    return [
        Line2D([], [], color=WARM, linewidth=1.8, label="inside: the teeth part"),
        Line2D([], [], linestyle="none", **{**_DOT, "markersize": 6}, label="does not repeat: mean over cycles"),
        Line2D([], [], linestyle="none", **_CROSS, label="no valid result"),
    ]
