"""The report's pictures as SVG, each with a text that says what it shows."""

from __future__ import annotations

import io
import math
import re
from dataclasses import dataclass
from typing import Any

from markupsafe import Markup

from calmshaft.condition import HEALTHY, Condition
from calmshaft.judgement.comparison import Comparison
from calmshaft.line import Line
from calmshaft.runs import Run, steady
from calmshaft.wording import number


@dataclass(frozen=True)
class Figure:
    """A picture: heading, what it shows in words, and the SVG itself."""

    heading: str
    words: str
    svg: Markup
    wide: bool = False


def figures(line: Line, at: Condition, found: Comparison) -> list[Figure]:
    """The line from the side, teeth over speed, torque at idle healthy and misfiring, the plate, critical speeds."""
    from calmshaft import plots

    made = []
    if not any(path.startswith("mass_elastic") for path in line.document):
        words = f"{line.title}: engine, flywheel, plate, gearbox, shaft and propeller drawn to their sizes."
        made.append(_figure("The line", words, plots.side_view(line, at), wide=True))
    words = "Share of time without tooth contact over crank speed, healthy and with the worst cylinder dead."
    made.append(_figure("Teeth over speed", words, plots.comparison(found), wide=True))
    runs = {"all cylinders fire": steady(line, at), "cylinder 1 dead": steady(line, at.with_(misfiring="1"))}
    solved = {name: run for name, run in runs.items() if run.signals is not None}
    if at.gear != "neutral" and solved:
        words = "; ".join(f"{name}: {_torque_words(run)}" for name, run in solved.items())
        heading = f"Torque in the loaded mesh at {number(at.rpm)} rpm"
        made.append(_figure(heading, f"{words}. The teeth part where it falls to zero.", plots.torque_trace(solved)))
    if line.has_plate:
        made.append(_figure("The plate", _plate_words(found), plots.plate_curve(line)))
    words = "Natural frequencies against speed, with the orders that the engine excites."
    made.append(_figure("Critical speeds", words, plots.order_diagram(line)))
    return made


def _torque_words(run: Run) -> str:
    return f"least {number(run.best('mesh_torque_min'))} N m, mean {number(run.measures['mesh_torque_mean'])} N m"


def _plate_words(found: Comparison) -> str:
    ds = next((ds for (_, gear), ds in found.datasets.items() if gear != "neutral"), None)
    if ds is None:
        return "Torque of the plate over its twist."
    high = float(ds["plate_twist_max"].fillna(ds["plate_twist_max_highest_cycle"]).sel(misfiring=HEALTHY).max())
    return f"Torque of the plate over its twist; ahead and healthy it is wound up to {number(math.degrees(high))} deg."


def _figure(heading: str, words: str, drawn: Any, wide: bool = False) -> Figure:
    """Matplotlib's SVG without its XML head, with ids of its own, so that several stand in one page."""
    import matplotlib

    figure = drawn if hasattr(drawn, "savefig") else drawn.figure
    text = io.StringIO()
    with matplotlib.rc_context({"svg.fonttype": "none", "svg.hashsalt": heading}):
        figure.savefig(text, format="svg", metadata={"Date": None, "Creator": None})
    svg = text.getvalue()
    svg = svg[svg.index("<svg") :]
    prefix = re.sub(r"\W+", "-", heading.lower())
    used = set(re.findall(r'(?:href="#|url\(#)([^")]+)', svg))
    svg = re.sub(r' id="([^"]+)"', lambda found: f' id="{prefix}-{found[1]}"' if found[1] in used else "", svg)
    svg = re.sub(r'(href="#|url\(#)', rf"\g<1>{prefix}-", svg)
    return Figure(heading, words, Markup(svg.replace("<svg ", '<svg aria-hidden="true" ', 1)), wide)
