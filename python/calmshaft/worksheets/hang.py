"""The moment of inertia of a flywheel or propeller by three wires and a clock."""

from __future__ import annotations

from calmshaft.estimates.rules import CAUTIONS
from calmshaft.worksheets.sheet import Example, Reading, Sheet, Sum, number
from calmshaft.workshop.hang import swing_time, trifilar
from calmshaft.workshop.ranges import value_of


def _sums(read: Example) -> list[Sum]:
    swings = round(read.number("n"))
    period = swing_time(value_of(read["T"]), swings, read.error("T"))
    factor = read.constant(trifilar, ("mass", "length", "length", "time"), "inertia")
    inertia = trifilar(read["m"], read["R"], read["l"], period)
    return [
        Sum("t = T ÷ n", period, "time"),
        Sum(f"J = {number(factor)} × m × R² × t² ÷ l", inertia, "inertia"),
    ]


def _entry(read: Example) -> str:
    keys = (("mass", "m"), ("wire_radius", "R"), ("wire_length", "l"))
    lines = ["[flywheel.hang]", *(f"{key} = {read.toml(letter)}" for key, letter in keys)]
    return "\n".join([*lines, f"swings = {read.number('n'):g}", f"time = {read.toml('T')}"])


HANG = Sheet(
    name="hang",
    title="Moment of inertia by three wires",
    key="flywheel.hang",
    gives="the moment of inertia J of a flywheel; of a propeller too (dry, propeller.inertia)",
    tools="three thin steel wires of one length, a beam or three eyes, scale, tape, stopwatch, chalk",
    steps=(
        "Weigh the part.",
        "Hang it level on three upright wires, a third of a turn apart, all at one distance R from its axis. Choose "
        "long wires: slow swings are easier to time.",
        "Measure R from the axis to a wire and l between the fixings, on all three wires.",
        "Chalk a mark. Twist the part about its axis by 10 deg at most and let go, without a push sideways.",
        "Count full swings, there and back, for a minute or so. Start and stop the watch as the mark goes through the "
        "middle. Three times; take the mean.",
        "A part too small for wires lies on a board, in its middle. Hang the board alone first: write its values as "
        "table_mass and table_inertia. In the sum m is then both together; take the board's own J off the result.",
        "A bare crank and a dry propeller go into the file alike, as [engine.crank_hang] and [propeller.hang].",
    ),
    readings=(
        Reading("m", "mass of the part", "mass", (26, 0.1), (57, 0.25)),
        Reading("R", "from the axis to a wire", "length", (150, 1), (6, 0.05)),
        Reading("l", "length of the wires", "length", (1500, 3), (60, 0.125)),
        Reading("n", "full swings, there and back", "count", (30, 0), (30, 0)),
        Reading("T", "time of them all", "time", (60.9, 0.2), (61.4, 0.2)),
    ),
    sums=_sums,
    entry=_entry,
    accuracy="R and the time count twice. A watch in the hand is 0.2 s off (common practice, no source): more swings "
    "make it matter less.",
    cautions=(
        CAUTIONS["lift"],
        "A flywheel that falls crushes feet and hands: swing it a hand's breadth above blocks.",
    ),
    source="J = m g R² t² / (4 π² l): a rigid body on three equal wires, small swings (closed form).",
)
