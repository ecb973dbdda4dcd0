"""The backlash of a gear pair by a dial gauge at the output flange."""

from __future__ import annotations

from calmshaft.estimates.rules import CAUTIONS
from calmshaft.worksheets.sheet import Example, Reading, Sheet, Sum, number
from calmshaft.workshop.gearbox import backlash
from calmshaft.workshop.ranges import value_of


def _sums(read: Example) -> list[Sum]:
    factor = read.constant(backlash, ("length", "length"), "angle")
    found = backlash(read["s"], read["R"], value_of(read["i"]))
    return [Sum(f"B = {number(factor)} × s ÷ R × i", found, "angle")]


def _entry(read: Example) -> str:
    readings = f"[gearbox.ahead.dial]\ntravel = {read.toml('s')}\nradius = {read.toml('R')}"
    return f"[gearbox.ahead]\nratio = {read.number('i'):g}\n\n{readings}"


BACKLASH = Sheet(
    name="backlash",
    title="Backlash by a dial gauge",
    key="gearbox.ahead.dial",
    gives="the backlash B of the gear pair as an angle at the input, play of its splines included",
    tools="dial gauge on a magnetic stand, a bar bolted to the output flange, a clamp or lock for the input, tape",
    steps=(
        "Engage the gear whose pair is asked for. A box that holds gears by oil pressure needs its clutch locked as "
        "its maker says, or the clutch slips and the reading is none.",
        "Part the output flange from the shaft. Lock the input so that it cannot turn.",
        "Set the dial square to a radius of the flange or of the bar, at R from the axis. A large R reads better.",
        "Rock the flange by hand from stop to stop, gently: felt contact, no force that twists the shafts.",
        "Read how far s the dial goes. Turn the box to another tooth and repeat: five places; take the mean, and "
        "half of their spread as what it may be off.",
        "Backlash of the gear astern in the same way: gearbox.astern.dial.",
    ),
    readings=(
        Reading("s", "dial, from stop to stop", "length", (0.26, 0.03), (0.010, 0.001)),
        Reading("R", "from the axis to the dial", "length", (120, 1), (4.75, 0.05)),
        Reading("i", "ratio, input turns for one of output", "count", (2.0, 0), (2.0, 0)),
    ),
    sums=_sums,
    entry=_entry,
    accuracy="The dial decides. Gears that run out of true differ from tooth to tooth: that belongs into the range.",
    cautions=(CAUTIONS["turn"], "Fingers out of flange and teeth: what is free turns."),
    source="angle = dial reading / radius × ratio.",
)
