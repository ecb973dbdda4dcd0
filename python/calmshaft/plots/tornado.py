"""One value at a time at the ends of its range: a bar for each, the widest on top."""

from __future__ import annotations

import math
import textwrap
from typing import Any

from matplotlib.axes import Axes
from matplotlib.patches import Patch

from calmshaft import units
from calmshaft.plots.data import unit_words
from calmshaft.plots.style import COOL, INK, PALE, WARM, axes_or_new, plain
from calmshaft.runs import condition_text
from calmshaft.schema_paths import kind_at
from calmshaft.uncertainties.asked import measure_named
from calmshaft.uncertainties.tornado import Swing, Tornado
from calmshaft.wording import in_workshop_units, number

MOST = 12  # bars; the rest are narrower than these
_HEIGHT = 0.62
_LETTERS = 64  # of a line of the title
_ENDS = (("low", COOL, ""), ("high", WARM, "////"))


def tornado(found: Tornado, ax: Axes | None = None, *, most: int = MOST) -> Axes:
    """The measure at the low and at the high end of each value's range, beside the answer as described.

    At each end of a bar stands the value that makes it, or what the line does where there is no answer.
    """
    swings = [one for one in found.swings if one.width > 0 or one in found.unsolved()][:most]
    ax = axes_or_new(ax, (8.6, 1.5 + 0.36 * max(3, len(swings))))
    measure = measure_named(found.measure)
    shown = [[in_workshop_units(measure, end)[0] for end in (one.at_low, one.at_high)] for one in swings]
    start, unit = in_workshop_units(measure, found.start)
    for place, (one, ends) in enumerate(zip(swings, shown, strict=True)):
        _bar(ax, place, one, start, ends)
    if math.isfinite(start):
        ax.axvline(start, color=INK, linewidth=1.2)
    ax.set_yticks(range(len(swings)), [plain(one.path) for one in swings])
    ax.set_ylim(len(swings) - 0.4, -0.6)
    ax.set_xlabel(f"{measure.meaning} [{unit}]")
    ax.grid(axis="x", color=PALE, linewidth=0.6)
    ax.set_axisbelow(True)
    ax.margins(x=0.26)  # room for the values at the ends
    words = (found.line.title, condition_text(found.at), f"{number(start)} {unit} as described")
    title = "\n".join(textwrap.shorten(plain(text), _LETTERS) for text in words)
    ax.set_title(title, loc="left", fontsize=10.5, color=INK)
    ax.legend(handles=[_patch(f"at its {name} end", colour, hatch) for name, colour, hatch in _ENDS], loc="lower right",
              fontsize=8.5, labelcolor=INK, frameon=True, edgecolor=PALE)  # fmt: skip
    return ax


def _patch(words: str, colour: str, hatch: str) -> Patch:
    return Patch(facecolor=colour, edgecolor="white", hatch=hatch, label=words)


def _bar(ax: Axes, place: int, one: Swing, start: float, ends: list[float]) -> None:
    statuses = (one.status_low, one.status_high)
    same_side = (ends[0] - start) * (ends[1] - start) > 0
    for index, ((name, colour, hatch), end) in enumerate(zip(_ENDS, ends, strict=True)):
        if not math.isfinite(end):
            _say(ax, start, place, f"{name} end: {statuses[index]}", index == 1, 0.0)
            continue
        shift = (index - 0.5) * _HEIGHT / 2 if same_side else 0.0  # both on one side: half a bar each
        height = _HEIGHT / 2 if same_side else _HEIGHT
        look: dict[str, Any] = {"facecolor": colour, "edgecolor": "white", "hatch": hatch, "linewidth": 0.5}
        ax.barh(place + shift, end - start, height, start, **look)
        right = end > start or (end == start and ends[1 - index] < start)
        _say(ax, end, place, _value(one, index), right, shift, small=same_side)


def _value(one: Swing, index: int) -> str:
    value = (one.quantity.low, one.quantity.high)[index]
    kind = units.kind_named(kind_at(one.path) or "pure")
    return f"{number(units.express(value, kind.shown, kind))} {unit_words(kind.shown)}".strip()


def _say(ax: Axes, at: float, place: float, words: str, right: bool, shift: float, small: bool = False) -> None:
    ax.annotate(plain(words), (at, place + shift), (4 if right else -4, 0), textcoords="offset points", va="center",
                ha="left" if right else "right", fontsize=6.5 if small else 8, color=INK)  # fmt: skip
