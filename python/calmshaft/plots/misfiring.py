"""The misfiring ladder drawn: what the mesh feels as a cylinder weakens, governed and with fixed fuelling."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from calmshaft.misfiring import deciding_measure, filled
from calmshaft.plots.style import INK, LINES, PALE, dressed, new_figure, titled
from calmshaft.results import STATUS

if TYPE_CHECKING:
    import xarray as xr

_TITLES = {
    "governed": "governed: the others burn more",
    "fixed": "fixed fuelling: the speed falls",
}
_SHORT = {
    "mesh_torque_vibratory": "vibratory torque,\nloaded mesh [N m]",
    "plate_torque_ripple": "torque through plate,\npeak to peak [N m]",
    "cyclic_irregularity": "cyclic irregularity\n[-]",
}
_ROOM = 1.12  # [-] above the highest point


def misfiring_ladder(ladder: xr.Dataset) -> Figure:
    """Torque and speed of cs.misfiring_ladder over the strength of the weak cylinder [%], one line a cylinder."""
    name = deciding_measure(ladder)
    rows = (
        (filled(ladder, name), _SHORT[name]),
        (100 * ladder["mesh_separated_share"], "loaded teeth apart\n[% of the time]"),
        (ladder["mean_rpm"], "mean crank speed\n[rpm]"),
    )
    shown = [row for row in rows if np.isfinite(row[0]).any()]
    figure = new_figure((8.6, 0.8 + 1.9 * len(shown)))
    panels = figure.subplots(len(shown), 2, sharex=True, sharey="row", squeeze=False)
    for (values, label), pair in zip(shown, panels, strict=True):
        for fuelling, ax in zip(_TITLES, pair, strict=True):
            _draw(dressed(ax), values.sel(fuelling=fuelling), ladder)
        pair[0].set_ylabel(label)
        pair[0].set_ylim(0.0, _ROOM * float(values.max()) or 1.0)
    for fuelling, top, bottom in zip(_TITLES, panels[0], panels[-1], strict=True):
        titled(top, _TITLES[fuelling])
        bottom.set_xlabel("strength of the weak cylinder [%]")
        _mark_stopped(top, ladder.sel(fuelling=fuelling))
    panels[0, 0].invert_xaxis()
    if ladder.sizes["cylinder"] > 1 and not _alike(ladder):
        figure.legend(*panels[0, 0].get_legend_handles_labels(), loc="outside lower center", ncols=6, frameon=False,
                      fontsize=9, labelcolor=INK)  # fmt: skip
    return figure


def _alike(ladder: xr.Dataset) -> bool:
    return "worked out once" in ladder.attrs["words"]


def _draw(ax: Axes, values: xr.DataArray, ladder: xr.Dataset) -> None:
    numbers = ladder.cylinder.values[:1] if _alike(ladder) else ladder.cylinder.values
    for place, n in enumerate(numbers):
        style = {**LINES[place % len(LINES)], "marker": "o", "markersize": 4}
        ax.plot(100 * ladder.strength, values.sel(cylinder=n), label=f"cylinder {n}", **style)
    ax.grid(axis="y", color=PALE, linewidth=0.6)
    ax.set_axisbelow(True)


def _mark_stopped(ax: Axes, ladder: xr.Dataset) -> None:
    """Where the engine does not keep running there is nothing to draw: said in words."""
    stopped = (ladder.status >= STATUS.index("stalled")).any("cylinder")
    for strength in ladder.strength.values[stopped.values]:
        ax.annotate("engine\nstops", (100 * float(strength), 0.06), xycoords=("data", "axes fraction"), ha="center",
                    fontsize=8.5, color=INK)  # fmt: skip
