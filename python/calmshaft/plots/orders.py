"""Torque by order: what a healthy engine does, and the half orders that a dead cylinder adds."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from matplotlib.axes import Axes

from calmshaft.condition import line_fault
from calmshaft.plots.style import HATCHES, INK, LINES, PALE, axes_or_new, plain
from calmshaft.results import ORDERS
from calmshaft.runs import Run

_MOST_LABELS = 16  # more would run into each other; half orders then have a tick only


def order_bars(runs: Run | Mapping[str, Run], ax: Axes | None = None, up_to: float = 6.0) -> Axes:
    """Amplitude by order of the loaded mesh's torque (neutral: the unloaded pair's), of one run or several by name.

    up_to: the highest order shown, 24 at most; raises LineError beyond.
    """
    if not 0.5 <= up_to <= ORDERS[-1]:
        raise line_fault("up_to", up_to, "orders 0.5 to 24 are known", "write for instance up_to=12")
    named = {"": runs} if isinstance(runs, Run) else dict(runs)
    ax = axes_or_new(ax, (7.2, 3.6))
    shown = ORDERS[up_to >= ORDERS]
    width = 0.4 / len(named)
    for place, (name, run) in enumerate(named.items()):
        at = shown + (place - (len(named) - 1) / 2) * width
        ax.bar(at, np.abs(run.orders[: shown.size]), width, label=plain(name) or None, edgecolor="white",
               color=LINES[place % len(LINES)]["color"], hatch=HATCHES[place % len(HATCHES)])  # fmt: skip
    labelled = shown if shown.size <= _MOST_LABELS else shown[shown % 1 == 0]
    ax.set_xticks(labelled, [f"{order:g}" for order in labelled])
    ax.set_xticks(shown, minor=True)
    ax.set_xlim(shown[0] - 0.5, shown[-1] + 0.5)
    ax.grid(axis="y", color=PALE, linewidth=0.6)
    ax.set_axisbelow(True)
    ax.set_xlabel("order, events per crank turn")
    ax.set_ylabel("torque amplitude in the mesh [N m]")
    if any(named):
        ax.legend(frameon=False, fontsize=9, labelcolor=INK)
    return ax
