"""The report's pictures as SVG, each with a text that says what it shows, at sizes that stay readable on paper."""

from __future__ import annotations

import io
import math
import re
from typing import TYPE_CHECKING, Any

from markupsafe import Markup

from calmshaft.condition import HEALTHY
from calmshaft.judgement.comparison import RPM, Comparison
from calmshaft.reports import imperial
from calmshaft.reports.parts import Figure
from calmshaft.wording import listed, number, percent

if TYPE_CHECKING:
    from collections.abc import Mapping

    import xarray as xr

    from calmshaft.condition import Condition
    from calmshaft.line import Line
    from calmshaft.runs import Run

WIDE, HALF = 7.4, (4.4, 2.8)  # [inch] width, and size, near the size on paper, so that letters keep theirs


class Pictures:
    """Draws the pictures of one line. imperial: with axes and words in those units."""

    def __init__(self, line: Line, in_imperial: bool) -> None:
        self.line, self.imperial = line, in_imperial

    def machinery(self, at: Condition) -> Figure | None:
        """The line from the side; nothing of a line of tables, which do not tell what parts look like."""
        words = "Engine, flywheel, plate, gearbox, shaft and propeller, to one scale where sizes are known."
        return self._side("The line", words, at, machinery=True)

    def system(self, at: Condition) -> Figure | None:
        """The equivalent system: discs and springs."""
        return self._side("Equivalent system", "Discs, springs and the step of the gears.", at, machinery=False)

    def _side(self, heading: str, words: str, at: Condition, machinery: bool) -> Figure | None:
        from calmshaft import plots

        if self.line.document.get("mass_elastic"):
            return None
        ax = plots.side_view(self.line, at)
        _cut(ax, machinery)
        return self._figure(heading, words, ax, wide=True, tight=True)

    def teeth(self, found: Comparison) -> Figure:
        """Share of time without tooth contact over speed, a panel a gear, all firing and one dead."""
        from calmshaft.plots.style import new_figure

        figure = new_figure((WIDE, 2.4))
        panels = figure.subplots(1, len(found.datasets), squeeze=False).ravel()
        worst = []
        for ax, ((_, gear), ds) in zip(panels, found.datasets.items(), strict=True):
            share = 100 * ds["mesh_separated_share" if gear != "neutral" else "unloaded_mesh_separated_share"]
            worst += [f"{gear} {percent(float(share.max()) / 100)}"] if share.notnull().any() else []
            _share_over_speed(ax, self.line, gear, share)
        panels[0].set_ylabel("time out of contact [%]")
        words = "Share of time in which gear teeth are apart: in gear of the loaded mesh, in neutral of the free pair."
        return self._figure("Teeth over speed", f"{words} At most {listed(worst)}.", figure, wide=True)

    def torque(self, runs: Mapping[str, Run]) -> Figure | None:
        """Torque in the loaded mesh over an engine cycle."""
        from calmshaft import plots

        solved = {name: run for name, run in runs.items() if run.signals is not None and run.at.gear != "neutral"}
        if not solved:
            return None
        rpm = number(next(iter(solved.values())).at.rpm)
        words = "; ".join(f"{name}: {_least(run)}" for name, run in solved.items())
        ax = plots.torque_trace(solved, self._axes((WIDE, 2.4)))
        return self._figure(
            f"Torque in the loaded mesh at {rpm} rpm",
            f"{words}. The teeth part where it falls to zero; the height of spikes is an indication only.",
            ax,
            wide=True,
        )

    def plate(self, found: Comparison) -> Figure | None:
        """The plate's curve with its stops."""
        from calmshaft import plots

        if not self.line.has_plate:
            return None
        ds = next((ds for (_, gear), ds in found.datasets.items() if gear != "neutral"), None)
        words = "Torque of the plate over its twist, between its stops."
        if ds is not None:
            high = ds["plate_twist_max"].fillna(ds["plate_twist_max_highest_cycle"]).sel(misfiring=HEALTHY).max()
            words += f" Ahead with all cylinders it is wound up to {number(math.degrees(float(high)))} deg at most."
        ax = plots.plate_curve(self.line, self._axes(HALF))
        ax.set_xlabel("twist [deg], positive: drive")
        return self._figure("The plate", words, ax)

    def plate_over_speed(self, ds: xr.Dataset) -> tuple[Figure, ...]:
        """Twist and stages, torque and heat of the plate over speed."""
        from calmshaft import plots

        told = {
            ("twist", "stages"): "Twist between the corners and stops of the plate, and time on each of its stages.",
            ("torque", "heat"): "Torque through the plate, and what turns into heat in it.",
        }
        return tuple(
            self._figure(f"{pair[0].capitalize()} and {pair[1]} over speed", words,
                         plots.plate_over_speed(self.line, ds, (WIDE, 2.7), pair), wide=True)
            for pair, words in told.items()
        )  # fmt: skip

    def orders(self, runs: Mapping[str, Run]) -> Figure | None:
        """Torque in the loaded mesh by order."""
        from calmshaft import plots

        solved = {name: run for name, run in runs.items() if run.at.gear != "neutral" and run.signals is not None}
        if not solved:
            return None
        words = "Which orders shake the loaded mesh. Half orders and order 1 come with a cylinder that misfires."
        return self._figure("Torque by order", words, plots.order_bars(solved, self._axes(HALF)))

    def critical(self, wide: bool = True) -> Figure:
        """Natural frequencies and orders over speed."""
        from calmshaft import plots

        words = "Natural frequencies over speed, and the orders that the engine excites; a ring marks where they meet."
        ax = plots.order_diagram(self.line, ax=self._axes((WIDE, 2.9) if wide else HALF))
        return self._figure("Critical speeds", words, ax, wide)

    @staticmethod
    def _axes(size: tuple[float, float]) -> Any:
        from calmshaft.plots.style import new_figure

        return new_figure(size).subplots()

    def _figure(self, heading: str, words: str, drawn: Any, wide: bool = False, tight: bool = False) -> Figure:
        figure = drawn if hasattr(drawn, "savefig") else drawn.figure
        if self.imperial:
            imperial.picture(figure)
        return Figure(heading, words, svg_of(figure, heading, tight), wide)


def _share_over_speed(ax: Any, line: Line, gear: str, share: Any) -> None:
    from calmshaft.plots.style import INK, LINES, PALE, dressed, titled

    dressed(ax)
    dead = share.drop_sel(misfiring=HEALTHY)
    ax.plot(share.rpm, share.sel(misfiring=HEALTHY), label="all cylinders fire", **LINES[0])
    ax.plot(share.rpm, dead.max("misfiring"), label="worst cylinder dead", **LINES[1])
    idle = line.quantities["engine.idle_rpm"].value / RPM
    ax.axvline(idle, color=PALE, linewidth=1.0, zorder=0.5)
    ax.annotate(
        "idle",
        (idle, 1),
        (2, -2),
        xycoords=("data", "axes fraction"),
        textcoords="offset points",
        va="top",
        fontsize=8.5,
        color=INK,
    )
    ax.set_ylim(bottom=0.0)
    ax.grid(axis="y", color=PALE, linewidth=0.6)
    ax.set_xlabel("mean crank speed [rpm]")
    ax.legend(frameon=False, fontsize=8.5, labelcolor=INK, handlelength=2.6)
    titled(ax, gear)


def _cut(ax: Any, machinery: bool, title: float = 10.0) -> None:
    """Of the side view the part above its brackets, without the title [mm] that the page has, or the part below."""
    width, height = ax.figure.get_size_inches()
    level = min(float(min(one.get_ydata())) for one in ax.lines if one.get_gid() == "bracket") - 1.0
    low, top = (level, ax.get_ylim()[1] - title) if machinery else (0.0, level)
    for text in ax.texts[:]:
        if not low <= text.get_position()[1] <= top:
            text.remove()
    gone = ax.get_ylim()[1] - (top - low)
    ax.set_ylim(low, top)
    ax.figure.set_size_inches(width, height - gone / 25.4)


def _least(run: Run) -> str:
    return f"least {number(run.best('mesh_torque_min'))} N m, mean {number(run.measures['mesh_torque_mean'])} N m"


def svg_of(figure: Any, heading: str, tight: bool = False) -> Markup:
    """Matplotlib's SVG without its XML head, with ids of its own, so that several stand in one page."""
    import matplotlib

    text = io.StringIO()
    with matplotlib.rc_context({"svg.fonttype": "none", "svg.hashsalt": heading}):
        figure.savefig(
            text, format="svg", bbox_inches="tight" if tight else None, metadata={"Date": None, "Creator": None}
        )
    svg = text.getvalue()
    svg = svg[svg.index("<svg") :]
    prefix = re.sub(r"\W+", "-", heading.lower())
    used = set(re.findall(r'(?:href="#|url\(#)([^")]+)', svg))
    svg = re.sub(r' id="([^"]+)"', lambda found: f' id="{prefix}-{found[1]}"' if found[1] in used else "", svg)
    svg = re.sub(r'(href="#|url\(#)', rf"\g<1>{prefix}-", svg)
    return Markup(svg.replace("<svg ", '<svg aria-hidden="true" ', 1))
