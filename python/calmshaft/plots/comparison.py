"""One picture of a comparison over speed, a line a candidate: teeth apart, and vibratory beside mean torque."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import xarray as xr
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from calmshaft.condition import HEALTHY
from calmshaft.judgement.comparison import RPM, Comparison
from calmshaft.plots.style import BEHIND, INK, LINES, PALE, dressed, new_figure, plain, titled

_MARKERS = ("", "o", "s", "^", "D")  # beyond the lines of the style: the same again with a mark


@dataclass(frozen=True)
class _Panel:
    """What one panel shows: the quantity in words, its gear, and the column of cylinders."""

    label: str
    gear: str
    healthy: bool

    def values(self, ds: xr.Dataset) -> np.ndarray:
        """Over rpm; of several faults the worst, nothing where one of them has no result."""
        part = ds.sel(misfiring=[HEALTHY]) if self.healthy else ds.drop_sel(misfiring=HEALTHY, errors="ignore")
        if self.label == _TORQUE:
            found = part["mesh_torque_vibratory"] / abs(part["mesh_torque_mean"])
        else:
            found = 100.0 * part["unloaded_mesh_separated_share" if self.label == _FREE else "mesh_separated_share"]
        return found.max("misfiring", skipna=False).values


_TEETH = "loaded teeth apart\n[% of the time]"
_FREE = "free pair apart\n[% of the time]"
_TORQUE = "vibratory over\nmean torque [-]"
_MOST = 3.0  # of it shown: beyond, it matters no more how far


def comparison(found: Comparison) -> Figure:
    """A row a quantity and gear, healthy left, misfiring (the worst) right; over crank speed [rpm]."""
    gears = list(dict.fromkeys(gear for _, gear in found.datasets))
    kinds = [(label, gear) for gear in gears for label in ((_FREE,) if gear == "neutral" else (_TEETH, _TORQUE))]
    labels = {str(label) for ds in found.datasets.values() for label in ds.misfiring.values}
    columns = [healthy for healthy, there in ((True, HEALTHY in labels), (False, labels != {HEALTHY})) if there]
    figure = new_figure((1.6 + 4.0 * len(columns), 1.0 + 2.1 * len(kinds)))
    panels = figure.subplots(len(kinds), len(columns), sharex=True, sharey="row", squeeze=False)
    for (label, gear), row in zip(kinds, panels, strict=True):
        for healthy, ax in zip(columns, row, strict=True):
            _draw(dressed(ax), found, _Panel(label, gear, healthy))
            titled(ax, f"{gear}, {'all cylinders fire' if healthy else _misfiring_words(found)}")
        row[0].set_ylabel(label)
        row[0].set_ylim(0.0, min(row[0].get_ylim()[1], _MOST) if label == _TORQUE else None)
    for ax in panels[-1]:
        ax.set_xlabel("mean crank speed [rpm]")
    figure.legend(*panels[0, 0].get_legend_handles_labels(), loc="outside lower center", ncols=min(4, len(found.lines)),
                  frameon=False, fontsize=9, labelcolor=INK, handlelength=3.2)  # fmt: skip
    return figure


def _misfiring_words(found: Comparison) -> str:
    cases = {one.cylinders for one in found.verdicts} - {"all fire", "any"}
    return "the worst cylinder dead" if cases == {"one dead"} else "the worst fault"


def _draw(ax: Axes, found: Comparison, panel: _Panel) -> None:
    for place, name in enumerate(found.lines):
        ds = found.datasets.get((name, panel.gear))
        if ds is None:
            continue
        marker = _MARKERS[place // len(LINES) % len(_MARKERS)]
        ax.plot(ds.rpm, panel.values(ds), label=plain(name), marker=marker, markersize=3.5, **LINES[place % len(LINES)])
    for idle in {round(line.quantities["engine.idle_rpm"].value / RPM, 3) for line in found.lines.values()}:
        ax.axvline(idle, color=PALE, linewidth=1.0, zorder=0.5)
        ax.annotate("idle", (idle, 1), (2, -2), xycoords=("data", "axes fraction"), textcoords="offset points",
                    va="top", fontsize=8.5, color=INK, bbox=BEHIND)  # fmt: skip
    if panel.label == _TORQUE:
        ax.axhline(1.0, color=INK, linewidth=0.9, zorder=1.5)
        ax.annotate("torque turns round", (1, 1.0), (-2, 2), xycoords=("axes fraction", "data"), ha="right",
                    va="bottom", textcoords="offset points", fontsize=8.5, color=INK)  # fmt: skip
    ax.grid(axis="y", color=PALE, linewidth=0.6)
    ax.set_axisbelow(True)
