"""How the answers of plausible cases are spread, with their band and a limit."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
from matplotlib.axes import Axes

from calmshaft.plots.style import BEHIND, COOL, INK, PALE, WARM, axes_or_new, titled
from calmshaft.runs import condition_text
from calmshaft.uncertainties import Uncertainty
from calmshaft.uncertainties.asked import measure_named
from calmshaft.wording import in_workshop_units, number, percent

_BARS = 40


def cases(found: Uncertainty, measure: str | None = None, ax: Axes | None = None) -> Axes:
    """Count of the solved cases over their answer, those past the limit hatched; band, median and limit as lines.

    measure: the first one asked for where not named. Cases without an answer are told in the title.
    """
    band = found.band(measure)
    about = measure_named(band.measure)
    ax = axes_or_new(ax)
    unit = in_workshop_units(about, 0.0)[1]
    answers = np.array([in_workshop_units(about, one)[0] for one in found.of(band.measure)[found.solved(band.measure)]])
    low, median, high = (in_workshop_units(about, one)[0] for one in (band.low, band.median, band.high))
    if answers.size:
        _bars(ax, found, band.measure, answers)
        ax.axvspan(low, high, color=PALE, alpha=0.45, zorder=0, linewidth=0)
        ax.axvline(median, color=INK, linewidth=1.2)
        ax.set_ylim(top=1.34 * ax.get_ylim()[1])  # room for what is said of the lines
        _say(ax, median, f"half of the cases\nbelow {number(median)}", 0.99)
    ax.set_xlabel(f"{about.meaning} [{unit}]")
    ax.set_ylabel("cases")
    lost = f", {band.unsolved} without an answer" if band.unsolved else ""
    title = f"{condition_text(found.at)}: {number(low)} to {number(high)} {unit} in nine of ten plausible cases"
    titled(ax, f"{title} ({band.cases} drawn{lost})")
    return ax


def _bars(ax: Axes, found: Uncertainty, measure: str, answers: np.ndarray) -> None:
    counts, edges = np.histogram(answers, _BARS)
    look: dict[str, Any] = {"width": np.diff(edges), "align": "edge", "edgecolor": "white", "linewidth": 0.5}
    ax.bar(edges[:-1], counts, facecolor=COOL, **look)
    if measure not in found.limits:
        return
    limit = in_workshop_units(measure_named(measure), found.limits[measure])[0]
    told = found.past_limit(measure)
    past = answers[answers < limit] if told.downwards else answers[answers > limit]
    counts, _ = np.histogram(past, edges)
    ax.bar(edges[:-1], counts, facecolor=WARM, hatch="////", **look)
    ax.axvline(limit, color=WARM, linewidth=1.6, linestyle=(0, (5, 2)))
    if math.isfinite(told.share):
        side = "below" if told.downwards else "above"
        _say(ax, limit, f"limit {number(limit)}\n{percent(told.share)} {side}", 0.87)


def _say(ax: Axes, at: float, words: str, height: float) -> None:
    low, high = ax.get_xlim()
    right = at < low + 0.75 * (high - low)
    side = "left" if right else "right"
    ax.annotate(words, (at, height), (4 if right else -4, 0), xycoords=("data", "axes fraction"),
                textcoords="offset points", va="top", ha=side, fontsize=8.5, color=INK, bbox=BEHIND)  # fmt: skip
