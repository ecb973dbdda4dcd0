"""Torque over crank angle, with the zero line that the teeth must not cross."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.ticker import MultipleLocator

from calmshaft import _core
from calmshaft.condition import line_fault
from calmshaft.plots.style import INK, LINES, PALE, axes_or_new, dressed, new_figure, plain, titled
from calmshaft.runs import Run
from calmshaft.wording import number, percent, status_words

SCALE = 1.5  # of mean plus vibratory torque


def torque_trace(runs: Run | Mapping[str, Run], ax: Axes | None = None, coupling: str | None = None) -> Axes:
    """Torque of the last engine cycle of one run, or of several by name.

    coupling: a name of run.signals; by default the loaded mesh, in neutral the unloaded pair. Raises LineError for a
    coupling that a run does not have.
    """
    named = {"": runs} if isinstance(runs, Run) else dict(runs)
    ax = axes_or_new(ax, (8.0, 3.8))
    ax.axhline(0.0, color=INK, linewidth=1.0, zorder=1.5)
    for (name, run), style in zip(named.items(), LINES, strict=False):
        angle, torque = last_cycle(run, coupling)
        ax.plot(angle, torque, label=plain(name) or None, **style)
    ax.set_xlim(0.0, angle[-1])
    ax.xaxis.set_major_locator(MultipleLocator(90.0))
    ax.grid(axis="x", color=PALE, linewidth=0.6)
    ax.set_axisbelow(True)
    ax.set_xlabel("crank angle [deg], 0 = firing top dead centre of cylinder 1")
    ax.set_ylabel(f"torque, {plain(coupling or watched_coupling(run))} [N m]")
    if any(named):
        ax.legend(loc="lower left", bbox_to_anchor=(0, 1), ncols=4, frameon=False, fontsize=9, labelcolor=INK)
    return ax


def before_and_after(before: tuple[str, Run], after: tuple[str, Run]) -> Figure:
    """Two runs in gear above each other on one scale, each with what its teeth do in words.

    Both are (name, run). The scale shows the vibratory torque of both; spikes of tooth impacts beyond it are cut,
    since their height is an indication only. Raises LineError for a run without a loaded mesh, as in neutral.
    """
    for name, run in (before, after):
        if "loaded mesh" not in run.signals["coupling"].values:
            advice = "take runs ahead or astern, or draw a torque_trace"
            raise line_fault(name, run.at.gear, "this picture is of the loaded mesh, which the run lacks", advice)
    figure = new_figure((8.4, 6.0))
    panels = figure.subplots(2, 1, sharex=True, sharey=True)
    for (name, run), ax, style in zip((before, after), panels, LINES, strict=False):
        torque_trace(run, dressed(ax))
        ax.lines[-1].set(**style)
        titled(ax, f"{name}: {_teeth_words(run)}")
        ax.annotate(_cycle_words(run), (1, 0), (-4, 3), xycoords="axes fraction", textcoords="offset points",
                    ha="right", va="bottom", fontsize=8.5, color=INK)  # fmt: skip
    panels[0].set_xlabel("")
    span = max(run.measures["mesh_torque_vibratory"] + run.measures["mesh_torque_mean"] for _, run in (before, after))
    panels[0].set_ylim(-SCALE * span, SCALE * span)
    return figure


def watched_coupling(run: Run) -> str:
    """The loaded mesh, in neutral the first unloaded pair."""
    names = [str(name) for name in run.signals["coupling"].values]
    return "loaded mesh" if "loaded mesh" in names else next(n for n in names if n not in ("plate", "shaft"))


def last_cycle(run: Run, coupling: str | None = None) -> tuple[np.ndarray, np.ndarray]:
    """Crank angle [deg] from 0, and torque [N m], of the last engine cycle of a run."""
    name = coupling or watched_coupling(run)
    known = [str(one) for one in run.signals["coupling"].values]
    if name not in known:
        near = _core.near_matches(name, known)
        advice = f"did you mean {near[0]}?" if near else f"write one of {', '.join(known)}"
        raise line_fault("coupling", name, "is not a coupling of this run", advice)
    torque: Any = run.signals["torque"].sel(coupling=name).values
    nodes = run.steps_per_cycle
    turns = 360.0 * run.line.core.engine.strokes / 2
    return np.linspace(0.0, turns, nodes + 1), torque[-nodes - 1 :]


def _teeth_words(run: Run) -> str:
    apart = run.measures["mesh_separated_share"]
    if apart > 0:
        return f"teeth apart {percent(apart)} of the time (impact spikes cut)"
    return f"teeth stay in contact, least torque {number(run.best('mesh_torque_min'))} N m"


def _cycle_words(run: Run) -> str:
    if run.status == "aperiodic":
        return "last cycle of a motion that never repeats exactly"
    return status_words(run.status, run.period_cycles, run.reason)
