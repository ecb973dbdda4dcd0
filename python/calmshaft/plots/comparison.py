"""One picture of a comparison: how long teeth are apart over speed, a panel a case, a line a candidate."""

from __future__ import annotations

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from calmshaft.condition import HEALTHY
from calmshaft.judgement.comparison import RPM, Comparison
from calmshaft.plots.style import INK, LINES, PALE, dressed, new_figure, plain, titled

_CASES = (
    ("ahead", HEALTHY, "ahead, all cylinders fire"),
    ("ahead", "", "ahead, the worst cylinder dead"),
    ("neutral", HEALTHY, "neutral, all cylinders fire"),
    ("neutral", "", "neutral, the worst cylinder dead"),
)


def comparison(found: Comparison) -> Figure:
    """Share of time without tooth contact [%] over crank speed [rpm]: loaded mesh ahead, free pair in neutral."""
    cases = [case for case in _CASES if any(gear == case[0] for _, gear in found.datasets)]
    figure = new_figure((9.4, 1.0 + 2.5 * ((len(cases) + 1) // 2)))
    panels = figure.subplots((len(cases) + 1) // 2, 2, sharex=True, squeeze=False).ravel()
    for (gear, misfiring, words), ax in zip(cases, panels, strict=False):
        _draw(dressed(ax), found, gear, misfiring)
        titled(ax, words)
    for ax in panels[-2:]:
        ax.set_xlabel("mean crank speed [rpm]")
    for ax in panels[::2]:
        ax.set_ylabel("time out of contact [%]")
    figure.legend(*panels[0].get_legend_handles_labels(), loc="outside lower center", ncols=min(4, len(found.lines)),
                  frameon=False, fontsize=9, labelcolor=INK, handlelength=3.2)  # fmt: skip
    return figure


def _draw(ax: Axes, found: Comparison, gear: str, misfiring: str) -> None:
    for place, (name, line) in enumerate(found.lines.items()):
        ds = found.datasets.get((name, gear))
        if ds is None:
            continue
        share = ds["mesh_separated_share" if gear != "neutral" else "unloaded_mesh_separated_share"]
        one = share.sel(misfiring=misfiring) if misfiring else share.drop_sel(misfiring=HEALTHY).max("misfiring")
        ax.plot(ds.rpm, 100.0 * np.asarray(one), label=plain(name), **LINES[place % len(LINES)])
        idle = line.quantities["engine.idle_rpm"].value / RPM
        ax.axvline(idle, color=PALE, linewidth=1.0, zorder=0.5)
    ax.set_ylim(bottom=0.0)
    ax.grid(axis="y", color=PALE, linewidth=0.6)
    ax.set_axisbelow(True)
    ax.annotate("idle", (idle, 1), (2, -2), xycoords=("data", "axes fraction"), textcoords="offset points",
                va="top", fontsize=8.5, color=INK)  # fmt: skip
