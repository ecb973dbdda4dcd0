"""When the teeth of each gear pair drive, are apart, or are carried on their coast flanks."""

from __future__ import annotations

import textwrap
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.patches import Patch
from matplotlib.ticker import MultipleLocator
from matplotlib.transforms import offset_copy

from calmshaft.plots.style import COOL, INK, PALE, WARM, axes_or_new, plain, titled
from calmshaft.wording import listed, percent

_LOOKS: dict[str, dict[str, Any]] = {
    "drive": {"facecolor": COOL, "edgecolor": COOL},
    "apart": {"facecolor": "white", "edgecolor": INK},
    "coast": {"facecolor": "white", "edgecolor": WARM, "hatch": "////"},
}
# Where each state stands in its row, so that it can be told without colour: [bottom, height] of a row of height 1.
_PLACES = {"drive": (0.5, 0.36), "apart": (0.46, 0.04), "coast": (0.1, 0.36)}


def contact_timeline(source: Any, ax: Axes | None = None) -> Axes:
    """Bars where the teeth of every mesh drive, are apart, or are on the coast flank, and the shares of time.

    source: a Run, shown over the last engine cycle, or a History, shown over time. The shares are of the whole record.
    Raises ValueError where there are no signals or no gear pair.
    """
    if source.signals is None:
        raise ValueError(f"there are no signals: {source.status}, {source.reason}")
    meshes = mesh_names(source)
    if not meshes:
        raise ValueError("no gear pair turns in this gear: there is no contact to show")
    ax = axes_or_new(ax, (8.0, 1.6 + 0.75 * len(meshes)))
    across, shown, label = _abscissa(source)
    time, apart = source.signals["time"].values, []
    for row, name in enumerate(reversed(meshes)):
        states = tooth_states(source.signals["torque"].sel(coupling=name).values)
        shares = state_shares(states, time)
        _draw_row(ax, row, states[shown], across, shares)
        apart.insert(0, f"{name} {percent(shares['apart'])}")
    ax.set_yticks(np.arange(len(meshes)) + 0.5, [textwrap.fill(plain(name), 16) for name in reversed(meshes)])
    ax.tick_params(axis="y", length=0)
    ax.set_ylim(0, len(meshes))
    ax.set_xlim(across[0], across[-1])
    ax.set_xlabel(label)
    if label.startswith("crank"):
        ax.xaxis.set_major_locator(MultipleLocator(90.0))
    _key(ax)
    titled(ax, f"teeth apart, share of time: {listed(apart)}{_caveat(source)}")
    return ax


def _draw_row(ax: Axes, row: int, states: np.ndarray, borders: np.ndarray, shares: dict[str, float]) -> None:
    for state, (bottom, height) in _PLACES.items():
        ax.broken_barh(_spans(states == state, borders), (row + bottom, height), linewidth=0.6, **_LOOKS[state])
    words = "\n".join(f"{state} {percent(share)}" for state, share in shares.items())
    ax.annotate(words, (1, row + 0.5), (6, 0), xycoords=ax.get_yaxis_transform(), textcoords="offset points",
                va="center", fontsize=8.5, color=INK, annotation_clip=False)  # fmt: skip
    ax.axhline(row, color=PALE, linewidth=0.6)


def _key(ax: Axes) -> None:
    below = offset_copy(ax.transAxes, fig=ax.figure, y=-34, units="points")  # type: ignore[arg-type]
    ax.legend(handles=[Patch(label=_WORDS[state], **look) for state, look in _LOOKS.items()], ncols=3, frameon=False,
              fontsize=8.5, labelcolor=INK, loc="upper left", bbox_to_anchor=(0, 0), bbox_transform=below,
              borderaxespad=0.0)  # fmt: skip


_WORDS = {"drive": "on the drive flank", "apart": "apart, in the backlash", "coast": "on the coast flank"}


def mesh_names(source: Any) -> list[str]:
    """The gear pairs among the couplings, the loaded one first: by the line where there is one, else by their names."""
    known = [str(name) for name in source.signals["coupling"].values]
    line = getattr(source, "line", None)
    if line is None:
        return [name for name in known if name != "plate" and not name.startswith("shaft")]
    pairs = ["loaded mesh", "ahead mesh", "astern mesh", *(pair.name for pair in line.core.gearbox.unloaded)]
    return [name for name in pairs if name in known]


def tooth_states(torque: np.ndarray) -> np.ndarray:
    """The state from each sample to the next, by the sign of the torque; shape (samples - 1,)."""
    return np.array(["coast", "apart", "drive"])[np.sign(torque[:-1]).astype(int) + 1]


def state_shares(states: np.ndarray, time: np.ndarray) -> dict[str, float]:
    """Share of time of each state."""
    steps = np.diff(time)
    return {state: float(steps[states == state].sum() / steps.sum()) for state in _LOOKS}


def _abscissa(source: Any) -> tuple[np.ndarray, slice, str]:
    """Borders of the intervals shown, which of the record's intervals they are, and what they are."""
    if "time" in source.signals.dims:
        return source.signals["time"].values, slice(None), "time [s]"
    nodes = source.steps_per_cycle
    degrees = 360.0 * source.line.core.engine.strokes / 2
    words = "crank angle [deg], 0 = firing top dead centre of cylinder 1"
    return np.linspace(0.0, degrees, nodes + 1), slice(-nodes, None), words


def _spans(inside: np.ndarray, borders: np.ndarray) -> list[tuple[float, float]]:
    """(begin, length) of each run of True."""
    edges = np.flatnonzero(np.diff(np.concatenate([[0], inside.astype(int), [0]])))
    return [(borders[begin], borders[end] - borders[begin]) for begin, end in edges.reshape(-1, 2)]


def _caveat(source: Any) -> str:
    return " (never repeats exactly: the last cycle is shown)" if getattr(source, "status", "") == "aperiodic" else ""
