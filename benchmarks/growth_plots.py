"""A picture of each growth, with the line that it would follow if cost grew in proportion."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from calmshaft.plots.style import COOL, INK, OCHRE, PALE, WARM, dressed, new_figure

SIZE = (6.4, 4.2)


def draw(results: dict[str, Any], folder: Path) -> list[Path]:
    """Write growth_points.png, growth_inertias.png, growth_cores.png and growth_mesh_stiffness.png into the folder."""
    folder.mkdir(parents=True, exist_ok=True)
    written = []
    for name, picture in (("points", _points), ("inertias", _inertias), ("cores", _cores),
                          ("mesh_stiffness", _mesh_stiffness)):  # fmt: skip
        written.append(folder / f"growth_{name}.png")
        picture(results[name]).savefig(written[-1], dpi=130)
    return written


def _panel(figure: Figure, ax: Axes, title: str, across: str, up: str) -> Axes:
    ax.set(xlabel=across, ylabel=up)
    dressed(ax)
    ax.set_title(title, loc="left", fontsize=10.5, color=INK)
    ax.grid(color=PALE, linewidth=0.5)
    return ax


def _legend(ax: Axes) -> None:
    ax.legend(frameon=False, fontsize=9, labelcolor=INK, handlelength=3.5)


def _points(rows: list[dict[str, float]]) -> Figure:
    figure = new_figure((2 * SIZE[0] * 0.8, SIZE[1]))
    left, right = figure.subplots(1, 2)
    points = np.array([row["points"] for row in rows])
    _panel(figure, left, "Time: in proportion to points", "points", "processor time [s]")
    seconds = np.array([row["processor_seconds"] for row in rows])
    left.loglog(points, seconds, "o-", color=WARM, label="measured, all cores together")
    left.loglog(points, seconds[-1] / points[-1] * points, color=INK, linewidth=0.9, linestyle=(0, (5, 3)),
                label="in proportion to the largest")  # fmt: skip
    _legend(left)
    _panel(figure, right, "Memory: what the table of results takes", "points", "memory [MB]")
    more = [row["megabytes"] - row["megabytes_before"] for row in rows]
    right.loglog(points, more, "o-", color=WARM, label="peak above that of four points")
    right.loglog(points, [row["table_megabytes"] for row in rows], "s", color=COOL, linestyle=(0, (7, 1.5)),
                 label="table of results")  # fmt: skip
    _legend(right)
    for ax in (left, right):
        ax.minorticks_off()
        ax.set_xticks(points, [f"{count:,}" for count in points])
    return figure


def _inertias(found: dict[str, Any]) -> Figure:
    rows, figure = found["rows"], new_figure(SIZE)
    inertias = np.array([row["inertias"] for row in rows])
    title = f"From 8 to 12 inertias: {found['twelve_over_eight']['nanoseconds_a_step']:.2f} times the cost of a step"
    ax = _panel(figure, figure.subplots(), title, "inertias", "one step of one point [ns of one core]")
    cost = np.array([row["nanoseconds_a_step"] for row in rows])
    ax.plot(inertias, cost, "o-", color=WARM, label="measured")
    ax.plot(inertias, cost[1] / inertias[1] * inertias, color=INK, linewidth=0.9, linestyle=(0, (5, 3)),
            label="in proportion to 8 inertias")  # fmt: skip
    for x, y in zip(inertias, cost, strict=True):
        ax.annotate(f"{y:.0f} ns", (x, y), xytext=(0, 8), textcoords="offset points", ha="right", fontsize=9, color=INK)
    ax.set(xticks=inertias, ylim=(0, 1.2 * cost.max()), xlim=(inertias[0] - 1, inertias[-1] + 1))
    _legend(ax)
    return figure


def _cores(found: dict[str, Any]) -> Figure:
    rows, figure = found["rows"], new_figure((SIZE[0], 3.0))
    title = f"Two cores: {found['two_over_one']:.2f} times as quick ({found['points']:,} points)"
    ax = _panel(figure, figure.subplots(), title, f"wall time, least of {found['least_of']} [s]", "cores")
    seconds = [row["seconds"] for row in rows]
    names = [str(row["threads"]) for row in rows]
    bars = ax.barh(names, seconds, color=(COOL, WARM), height=0.55)
    ax.bar_label(bars, [f"{value:.2f} s" for value in seconds], padding=4, color=INK, fontsize=9)
    ax.axvline(seconds[0] / 2, color=INK, linewidth=0.9, linestyle=(0, (5, 3)))
    ax.annotate("half of one core's", (seconds[0] / 2, 0.5), xytext=(6, 0), textcoords="offset points",
                ha="left", va="center", fontsize=9, color=INK)  # fmt: skip
    ax.set_xlim(0, 1.15 * max(seconds))
    ax.invert_yaxis()
    ax.grid(visible=False)
    return figure


def _mesh_stiffness(rows: list[dict[str, float]]) -> Figure:
    figure = new_figure(SIZE)
    ax = _panel(figure, figure.subplots(), "Stiffer teeth swing faster and ask for more steps",
                "stiffness of the teeth, times the launch's", "times that of the launch")  # fmt: skip
    factors = np.array([row["factor"] for row in rows])
    middle = next(row for row in rows if row["factor"] == 1)
    for name, words, colour, mark in (
        ("processor_seconds", "time of the sweep", WARM, "o-"),
        ("steps_a_cycle", "steps of an engine cycle", COOL, "s-"),
        ("cycles_a_point", "cycles of a point", OCHRE, "^-"),
    ):
        ax.loglog(factors, [row[name] / middle[name] for row in rows], mark, color=colour, label=words, base=2)
    ax.loglog(factors, np.sqrt(factors), color=INK, linewidth=0.9, linestyle=(0, (5, 3)), base=2,
              label="root of the stiffness: frequency of the teeth")  # fmt: skip
    ticks = [0.25, 0.5, 1, 2, 4]
    ax.set_xticks(ticks, [f"{tick:g}" for tick in ticks])
    ax.set_yticks([0.5, 1, 2], ["0.5", "1", "2"])
    ax.minorticks_off()
    _legend(ax)
    return figure
