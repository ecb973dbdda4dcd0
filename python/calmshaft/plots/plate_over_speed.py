"""A plate over speed: its twist between corners and stops, time on each stage, torque, and heat with the warming."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from calmshaft.condition import HEALTHY
from calmshaft.misfiring import fault_words
from calmshaft.plots.style import CALM_TO_ROUGH, INK, LINES, PALE, dressed, new_figure, titled
from calmshaft.wording import number

if TYPE_CHECKING:
    import xarray as xr

    from calmshaft.line import Line

PANELS = ("twist", "stages", "torque", "heat")
STRIPES = ("", "//", "", r"\\")  # dots make large files
SMALL = 0.002  # [-] of the time: stages that are never on for longer are not drawn


def plate_over_speed(
    line: Line, ds: xr.Dataset, size: tuple[float, float] = (8.6, 6.4), panels: Sequence[str] = PANELS
) -> Figure:
    """Panels of cs.plate_over_rpm over speed [rpm], two in a row; stages of its first fault alone; size [inch]."""
    drawn = {"twist": _twist, "stages": _stages, "torque": _torque, "heat": _heat}
    figure = new_figure(size)
    grid = figure.subplots(-(-len(panels) // 2), min(len(panels), 2), sharex=True, squeeze=False)
    for ax, name in zip(grid.ravel(), panels, strict=False):
        drawn[name](dressed(ax), line, ds)
    for ax in grid[-1]:
        ax.set_xlabel("mean crank speed [rpm]")
    return figure


def _names(line: Line, ds: xr.Dataset) -> list[tuple[str, str]]:
    return [(str(label), fault_words(line, str(label))) for label in ds.misfiring.values]


def _twist(ax: Axes, line: Line, ds: xr.Dataset) -> None:
    """Bands from least to greatest, the first fault filled, others as their edges."""
    for place, (label, words) in enumerate(_names(line, ds)):
        low, high = (np.degrees(ds[f"twist_{end}"].sel(misfiring=label).values) for end in ("min", "max"))
        style = LINES[place % len(LINES)]
        if place == 0:
            ax.fill_between(ds.rpm, low, high, color=style["color"], alpha=0.25, linewidth=0)
        ax.plot(ds.rpm, low, **style)
        ax.plot(ds.rpm, high, label=words, **style)
    low, high = ax.get_ylim()
    stops = [np.degrees(stop) * sign for stop, sign in zip(ds.attrs["stops"], (1, -1), strict=True)]
    for corner in np.degrees(ds.attrs["corners"]):
        if not any(abs(corner - stop) < 1e-6 for stop in stops):
            ax.axhline(corner, color=PALE, linewidth=1.0, zorder=0.5)
    for stop, side in zip(stops, ("bottom", "top"), strict=True):
        if np.isfinite(stop):
            ax.axhline(stop, color=INK, linewidth=1.2, zorder=0.5)
            ax.annotate("stop", (1, stop), (-2, 2 if side == "bottom" else -2), xycoords=("axes fraction", "data"),
                        ha="right", va=side, textcoords="offset points", fontsize=8, color=INK)  # fmt: skip
    known = [stop for stop in stops if np.isfinite(stop)]
    ends = min([low, *known]), max([high, *known])
    margin = 0.1 * (ends[1] - ends[0])
    ax.set_ylim(ends[0] - margin, ends[1] + margin)
    ax.set_ylabel("twist [deg]")
    _legend(ax)
    titled(ax, f"{ds.attrs['gear']}: twist; pale: corners")


def _stages(ax: Axes, line: Line, ds: xr.Dataset) -> None:
    label, words = _names(line, ds)[0]
    share = 100 * ds["stage_share"].sel(misfiring=label)
    shown = [str(name) for name in ds.stage.values if float(share.sel(stage=name).max()) > 100 * SMALL]
    colours = CALM_TO_ROUGH(np.linspace(0.15, 0.85, max(len(shown), 1)))
    areas = ax.stackplot(ds.rpm, *(share.sel(stage=name) for name in shown), labels=shown, colors=colours)
    for area, hatch in zip(areas, (STRIPES * len(shown))[: len(shown)], strict=True):
        area.set_hatch(hatch)
        area.set_edgecolor("white")
        area.set_linewidth(0.4)
    ax.set_ylim(0, 100)
    ax.set_ylabel("share of time [%]")
    _legend(ax, "lower right")
    titled(ax, f"stages, {words}")


def _torque(ax: Axes, line: Line, ds: xr.Dataset) -> None:
    for place, (name, words) in enumerate((("mean", "mean"), ("alternating", "half range"), ("greatest", "greatest"))):
        for shade, label in enumerate(ds.misfiring.values[:2]):
            style = {**LINES[place], "alpha": 1.0 if shade == 0 else 0.45}
            value = ds[f"torque_{name}"].sel(misfiring=label)
            ax.plot(ds.rpm, value, label=words if shade == 0 else None, **style)
    if rated := line.core.plate.rated_torque:
        ax.axhline(rated, color=INK, linewidth=1.2, zorder=0.5)
        ax.annotate("stated by its maker", (0, rated), (2, -2), xycoords=("axes fraction", "data"), va="top",
                    textcoords="offset points", fontsize=8, color=INK)  # fmt: skip
    ax.set_ylim(bottom=min(0.0, ax.get_ylim()[0]))
    ax.set_ylabel("torque [N m]")
    _legend(ax, "center left")
    second = [words for label, words in _names(line, ds)[1:2] if label != HEALTHY]
    titled(ax, "torque" + (f"; pale: {second[0]}" if second else ""))


def _heat(ax: Axes, line: Line, ds: xr.Dataset) -> None:
    for place, (label, words) in enumerate(_names(line, ds)):
        ax.plot(ds.rpm, ds["heat_power"].sel(misfiring=label), label=words, **LINES[place % len(LINES)])
    ax.set_ylim(bottom=0.0)
    ax.set_ylabel("heat in the plate [W]")
    _legend(ax)
    low, high = (number(float(f"{float(ds[f'warming_{end}'].max()):.1g}")) for end in ("low", "high"))
    titled(ax, f"heat; warms it by {low} to {high} K at most (estimate)")


def _legend(ax: Axes, place: str = "best") -> None:
    ax.legend(loc=place, frameon=True, framealpha=0.8, edgecolor="none", fontsize=8, labelcolor=INK, handlelength=2.4)
