"""Time over error, log-log, one panel a case."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from calmshaft.plots.style import COOL, INK, OCHRE, PALE, PLUM, WARM, dressed

MARKERS = {"RK45": "^", "DOP853": "s", "LSODA": "v", "Adams": "P", "BDF": "X"}


def draw(results: dict, path: Path) -> None:
    """Write the picture of all rows of one_condition.py."""
    cases = results["cases"]
    figure = Figure(figsize=(1.5 + 4.2 * len(cases), 5.8), layout="constrained", facecolor="white")
    panels = figure.subplots(1, len(cases), sharey=True, squeeze=False)[0]
    for ax, (name, case) in zip(panels, cases.items(), strict=True):
        _panel(ax, name, case, results["targets"])
    panels[0].set_ylabel("time [s an engine cycle]")
    handles, labels = panels[0].get_legend_handles_labels()
    figure.legend(handles, labels, loc="outside lower center", ncols=3, frameon=False, fontsize=9, labelcolor=INK,
                  handlelength=4.0)  # fmt: skip
    figure.savefig(path, dpi=130)


def _panel(ax: Axes, name: str, case: dict, targets: list) -> None:
    ax.set(xscale="log", yscale="log", xlim=(1e-4, 100), xlabel="error of ripple and least torque [% of ripple]")
    dressed(ax)
    at, ripple = case["condition"], case["reference"]["ripple"]
    ax.set_title(f"{name}\n{at['rpm']:g} rpm, ripple {ripple:.0f} N m", loc="left", fontsize=10, color=INK)
    ax.grid(color=PALE, linewidth=0.5)
    for target in targets:
        ax.axvline(100 * target, color=INK, linewidth=0.9, linestyle=(0, (5, 3)))
    for way in dict.fromkeys(row["way"] for row in case["rows"]):
        shown = [row for row in case["rows"] if row["way"] == way and row["error"]]
        errors = [100 * row["error"] for row in shown]
        ax.plot(errors, [row["seconds_a_cycle"] for row in shown], label=way, **_look(way))


def families(way: str) -> str:
    """The way without its method: rows of a table that shows the best of each."""
    return way if not way.startswith(("solve_ivp", "CVODE")) else f"{way.split()[0]}, {way.split(', ')[1]}, best"


def _look(way: str) -> dict[str, Any]:
    if way.startswith("calmshaft"):
        line = "--" if "sweep" in way else "-"
        return {"color": WARM, "marker": "o", "markersize": 4, "linewidth": 1.8, "linestyle": line}
    if "loop" in way:
        return {"color": PLUM, "marker": "D", "markersize": 4, "linewidth": 1.4}
    if "Odeint" in way:
        return {"color": INK, "marker": "h", "markersize": 5, "linewidth": 1.4, "linestyle": (0, (6, 2))}
    if way.startswith("CVODE"):
        marker = MARKERS[way.split()[1].rstrip(",")]
        return {"color": PLUM, "marker": marker, "markersize": 5, "linewidth": 1.0, "linestyle": (0, (1, 1.2))}
    plain, method = way.endswith("plain Python"), way.split()[1].rstrip(",")
    colour, line = (OCHRE, ":") if plain else (COOL, "-")
    return {"color": colour, "marker": MARKERS[method], "markersize": 4.5, "linewidth": 1.0, "linestyle": line}
