"""Time over error, log-log, one panel a case."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from matplotlib.figure import Figure
from matplotlib.ticker import PercentFormatter

from calmshaft.plots.style import COOL, INK, OCHRE, PALE, PLUM, WARM, dressed

MARKERS = {"RK45": "^", "DOP853": "s", "LSODA": "v"}


def draw(results: dict, path: Path) -> None:
    """Write the picture of all rows of one_condition.py."""
    cases = results["cases"]
    figure = Figure(figsize=(1.5 + 4.2 * len(cases), 5.6), layout="constrained", facecolor="white")
    panels = figure.subplots(1, len(cases), sharey=True, squeeze=False)[0]
    for ax, (name, case) in zip(panels, cases.items(), strict=True):
        dressed(ax).set(xscale="log", yscale="log", xlabel="error of ripple and least torque, of the ripple")
        ax.set_title(
            f"{name}\n{case['condition']['rpm']:g} rpm, ripple {case['condition']['ripple']:.0f} N m",
            loc="left",
            fontsize=10,
        )
        ax.grid(color=PALE, linewidth=0.5)
        for target in results["targets"]:
            ax.axvline(target, color=INK, linewidth=0.9, linestyle=(0, (5, 3)))
        for way in dict.fromkeys(row["way"] for row in case["rows"]):
            shown = [row for row in case["rows"] if row["way"] == way and row["error"]]
            ax.plot([row["error"] for row in shown], [row["seconds_a_cycle"] for row in shown], label=way, **_look(way))
        ax.set_xlim(1e-6, 1.0)
        ax.xaxis.set_major_formatter(PercentFormatter(1.0))
    panels[0].set_ylabel("seconds an engine cycle")
    handles, labels = panels[0].get_legend_handles_labels()
    figure.legend(handles, labels, loc="outside lower center", ncols=3, frameon=False, fontsize=9, labelcolor=INK)
    figure.savefig(path, dpi=130)


def _look(way: str) -> dict[str, Any]:
    if way.startswith("calmshaft"):
        return {
            "color": WARM,
            "marker": "o",
            "markersize": 4,
            "linewidth": 1.8,
            "linestyle": "--" if "sweep" in way else "-",
        }
    if "loop" in way:
        return {"color": PLUM, "marker": "D", "markersize": 4, "linewidth": 1.4}
    method = way.split()[1].rstrip(",")
    plain = way.endswith("plain Python")
    return {"color": OCHRE if plain else COOL, "marker": MARKERS[method], "markersize": 4.5, "linewidth": 1.0,
            "linestyle": ":" if plain else "-"}  # fmt: skip
