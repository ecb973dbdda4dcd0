"""One look for all pictures: quiet axes, few colours that stay apart for every eye, a line style with each colour."""

from __future__ import annotations

import textwrap
from typing import Any

from matplotlib.axes import Axes
from matplotlib.colors import LinearSegmentedColormap
from matplotlib.figure import Figure

INK = "#22303c"
PALE = "#c9cfd4"
WARM = "#c4571b"
COOL = "#14707c"
PLUM = "#6a3d7c"
OCHRE = "#a8861d"
# Colour never stands alone: the n-th line has its own style too.
LINES: tuple[dict[str, Any], ...] = (
    {"color": WARM, "linestyle": "-", "linewidth": 1.1},
    {"color": COOL, "linestyle": (0, (7, 1.5)), "linewidth": 1.6},
    {"color": PLUM, "linestyle": (0, (6, 2)), "linewidth": 1.6},
    {"color": OCHRE, "linestyle": (0, (1, 1.2)), "linewidth": 2.0},
)
BEHIND = {"facecolor": "white", "edgecolor": "none", "alpha": 0.75, "pad": 0.6}  # words that lines may cross
HATCHES = ("", "////", "....", "xxxx")
# Lightness falls all the way, so that it reads in grey as well.
CALM_TO_ROUGH = LinearSegmentedColormap.from_list(
    "calm to rough", ["#fbf6e6", "#d9e2c4", "#93c0ae", "#4b93a3", "#2f5f8f", "#2c2f63", "#1a1230"]
)


def axes_or_new(ax: Axes | None, size: tuple[float, float] = (7.2, 4.2)) -> Axes:
    """The axes given, or those of a new figure of `size` [inch]."""
    return dressed(new_figure(size).subplots() if ax is None else ax)


def new_figure(size: tuple[float, float]) -> Figure:
    """A figure of `size` [inch] that belongs to no window."""
    return Figure(figsize=size, layout="constrained", facecolor="white")


def dressed(ax: Axes) -> Axes:
    """Axes in our look."""
    for side in ("top", "right"):
        ax.spines[side].set_visible(False)
    for side in ("left", "bottom"):
        ax.spines[side].set_color(INK)
    ax.tick_params(colors=INK, labelsize=9)
    for label in (ax.xaxis.label, ax.yaxis.label):
        label.set_color(INK)
        label.set_size(9.5)
    return ax


def titled(ax: Axes, text: str) -> None:
    """A title at the left, above the axes, in up to three lines."""
    figure: Any = ax.figure
    letters = int(ax.get_position().width * figure.get_figwidth() * _LETTERS_PER_INCH)
    lines = textwrap.wrap(plain(text), max(letters, 20), max_lines=3, placeholder=" ...")
    ax.set_title("\n".join(lines), loc="left", fontsize=10.5, color=INK)


_LETTERS_PER_INCH = 13  # at the size of a title


def plain(text: str) -> str:
    """A name as it stands: a dollar sign begins no formula, an underscore in front hides no legend entry."""
    return (" " if text.startswith("_") else "") + text.replace("$", r"\$")
