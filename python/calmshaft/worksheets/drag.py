"""The drag of a gearbox by a cord and a spring scale."""

from __future__ import annotations

from calmshaft.estimates.rules import CAUTIONS
from calmshaft.worksheets.sheet import Example, Reading, Sheet, Sum, number
from calmshaft.workshop.gearbox import drag


def _sums(read: Example) -> list[Sum]:
    factor = read.constant(drag, ("force", "length"), "torque")
    formula = f"M = F × R ÷ {number(1 / factor)}"
    return [Sum(formula, drag(read["F"], read["R"]), "torque")]


def _entry(read: Example) -> str:
    return f"[gearbox.pull]\nforce = {read.toml('F')}\nradius = {read.toml('R')}"


DRAG = Sheet(
    name="drag",
    title="Gearbox drag by a cord",
    key="gearbox.pull",
    gives="the torque M that pump, seals and oil take at the input in neutral",
    tools="a strong thin cord, a spring scale, a drum or the input flange, tape or calipers",
    steps=(
        "Warm the box under way, then part it from the engine. Note how warm the oil is: cold oil drags up to three "
        "times as much.",
        "Put it in neutral; see that nobody can engage a gear.",
        "Wind the cord round a drum on the input, a few turns, so that it comes off at a right angle to the radius R. "
        "R goes to the middle of the cord.",
        "Pull with the scale in line with the cord, slowly and steadily, for one whole turn or more.",
        "Read the steady pull while it turns, not the jerk with which it starts. Five times; take the middle one.",
        "A scale that shows kg: times 9.81 is N. One that shows lb shows lbf.",
    ),
    readings=(
        Reading("F", "steady pull on the cord", "force", (40, 4), (9, 1)),
        Reading("R", "from the axis to the middle of the cord", "length", (60, 1), (2.4, 0.05)),
    ),
    sums=_sums,
    entry=_entry,
    accuracy="The pull decides. At idle speed the oil may drag more than at a slow turn: warm, take it as good "
    "to a fifth at best (common practice, no source).",
    cautions=(
        CAUTIONS["turn"],
        "A cord that jerks free hits: stand to the side, do not wind it round a hand. Oil burns skin.",
    ),
    source="torque = force × radius.",
)
