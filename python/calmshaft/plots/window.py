"""The window of `choose`: ranges beside all that was looked at, and the curves of plates inside."""

from __future__ import annotations

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from calmshaft.choosing.choice import Choice, Range, box_of
from calmshaft.choosing.plates import STOP
from calmshaft.choosing.words import full_twist, range_words, shown
from calmshaft.condition import line_fault
from calmshaft.plots.style import COOL, INK, PALE, WARM, dressed, new_figure, plain

_CURVES = 300  # plates inside, whose curves make the band
SIZE = (7.4, 5.6)  # [inch]


def plate_window(choice: Choice, size: tuple[float, float] = SIZE) -> Figure:
    """A figure: each trait's range over what was looked at, and the torque over twist of plates inside the window.

    Raises LineError where there is no window.
    """
    if choice.window is None:
        raise line_fault("choose", choice.line.title, "found no window to draw", "see `unmet` of the answer")
    figure = new_figure(size)
    above, below = figure.subplots(2, 1, height_ratios=(1.0, 1.15))
    window_ranges(choice, above)
    window_curves(choice, below)
    figure.suptitle(plain(f"What to look for in a plate: {choice.line.title}"), x=0.01, ha="left", fontsize=10.5,
                    color=INK)  # fmt: skip
    return figure


def window_ranges(choice: Choice, ax: Axes, told: bool = True) -> None:
    """Each trait's range over what was looked at. told: with the range in words beside it."""
    assert choice.window is not None
    ranges = choice.window.ranges
    dressed(ax)
    for row, one in enumerate(ranges):
        ax.plot([0, 1], [row, row], color=PALE, linewidth=5, solid_capstyle="butt", zorder=1)
        ax.plot(_ends(one), [row, row], color=COOL, linewidth=9, solid_capstyle="butt", zorder=2)
        for place, value, side in ((0.0, one.trait.low, "left"), (1.0, one.trait.high, "right")):
            ax.annotate(shown(one.trait, value), (place, row), (0, -6), textcoords="offset points", va="top", ha=side,
                        fontsize=7, color=INK)  # fmt: skip
        if told:
            ax.annotate(range_words(one), (1.03, row), va="center", fontsize=9, color=INK, annotation_clip=False)
        if choice.own is not None and np.isfinite(choice.own.values[row]):
            at = float(np.clip(one.trait.share(choice.own.values[row]), 0, 1))
            label = "plate now in the line" if row == 0 else None
            ax.plot([at], [row], marker="D", color=WARM, markersize=6, linestyle="none", zorder=3, label=label)
    ax.set_xlim(-0.01, 1.42 if told else 1.01)
    ax.set_ylim(len(ranges) - 0.4, -0.7)
    ax.set_yticks(range(len(ranges)), [one.trait.words for one in ranges], fontsize=9)
    ax.set_xticks([])
    ax.spines["bottom"].set_visible(False)
    ax.spines["left"].set_visible(False)
    ax.tick_params(length=0)
    if choice.own is not None:
        ax.legend(loc="lower right", bbox_to_anchor=(1.0, 0.99), fontsize=8, frameon=False)


def _ends(one: Range) -> list[float]:
    return [float(np.clip(one.trait.share(end), 0, 1)) for end in (one.low, one.high)]


def window_curves(choice: Choice, ax: Axes) -> None:
    """The band between the least and the greatest twist at each torque; the plate of now as a line."""
    assert choice.window is not None
    dressed(ax)
    box = box_of(choice.plates, choice.window.ranges)
    values = choice.plates.values(choice.plates.draw(box.low, box.high, _CURVES, choice.seed))
    torque = np.linspace(0, choice.window["stop_torque"].low, 100)
    twist = np.degrees([full_twist(values, level) for level in torque])
    ax.fill_betweenx(torque, twist.min(axis=1), twist.max(axis=1), color=COOL, alpha=0.3, linewidth=0,
                     label="plates inside the window")  # fmt: skip
    for row in twist.T[:3]:
        ax.plot(row, torque, color=COOL, linewidth=0.9)
    rated = choice.line.quantities["engine.rated_torque"].value
    ax.axhline(rated, color=INK, linewidth=0.9, linestyle=(0, (5, 2)))
    ax.annotate("full torque", (1.0, rated), (0, 3), xycoords=("axes fraction", "data"), textcoords="offset points",
                ha="right", fontsize=8.5, color=INK)  # fmt: skip
    if choice.own is not None and np.isfinite(choice.own.values).all():
        own, levels = choice.own.values, np.linspace(0, choice.own.values[STOP], 50)
        ax.plot(np.degrees([full_twist(own, level) for level in levels]), levels, color=WARM, linewidth=1.8,
                linestyle=(0, (7, 1.5)), label="plate now in the line")  # fmt: skip
    ax.set_xlabel("twist from the middle, drive side [deg]")
    ax.set_ylabel("torque of the springs [N m]")
    ax.set_xlim(left=0)
    ax.set_ylim(bottom=0)
    ax.legend(loc="upper right", fontsize=8, frameon=False)
