"""The springs of a plate by calipers."""

from __future__ import annotations

from functools import partial

from calmshaft.estimates.rules import CAUTIONS
from calmshaft.quantity import Quantity
from calmshaft.worksheets.sheet import Example, Reading, Sheet, Sum, number
from calmshaft.workshop.plate_twist import Seat, SpringGroup
from calmshaft.workshop.ranges import propagate
from calmshaft.workshop.springs import ENDS, MATERIALS, Spring

METAL, WOUND = "chrome-silicon", "closed and ground"
DEAD = ENDS[WOUND][0]  # coils that do not work
_MEASURES = ("d", "E", "c", "f")


def _spring(wire: float, outer: float, coils: float, free: float) -> Spring:
    return Spring(wire, outer, free, total_coils=coils, ends=WOUND, material=METAL)


def _stiffness(count: float, wire: float, outer: float, coils: float, free: float, radius: float) -> float:
    group = SpringGroup("", round(count), _spring(wire, outer, coils, free), radius, Seat(0, 0), Seat(0, 0))
    return group.stiffness


def _sums(read: Example) -> list[Sum]:
    def found(which: str, *letters: str) -> Quantity:
        return propagate(lambda *values: getattr(_spring(*values), which), *(read[letter] for letter in letters))

    eighth = MATERIALS[METAL].shear_modulus / 8 * read.one("length") / read.one("rate")  # G/8, force per squared length
    of_rate = partial(lambda rate, radius: rate * radius**2)  # N k R^2 of one spring
    factor = read.constant(of_rate, ("rate", "length"), "stiffness")
    whole = propagate(_stiffness, *(read[letter] for letter in ("N", *_MEASURES, "R")))
    return [
        Sum("D = E - d", found("mean_diameter", *_MEASURES), "length"),
        Sum(f"w = c - {DEAD:g}", found("coils", *_MEASURES), "count"),
        Sum(f"k = {number(eighth)} × d⁴ ÷ (D³ × w)", found("rate", *_MEASURES), "rate"),
        Sum(f"K = N × k × R² ÷ {number(1 / factor)}", whole, "stiffness"),
    ]


def _entry(read: Example) -> str:
    keys = (
        ("wire_diameter", "d"),
        ("coil_outer_diameter", "E"),
        ("free_length", "f"),
        ("window_length", "W"),
        ("pitch_radius", "R"),
    )
    lines = [f"count = {read.number('N'):g}", f"total_coils = {read.number('c'):g}", f'ends = "{WOUND}"']
    lines += [f"{key} = {read.toml(letter)}" for key, letter in keys]
    return "\n".join(["[[plate.springs]]", *lines, f'material = "{METAL}"'])


SPRINGS = Sheet(
    name="springs",
    title="Springs of a damper plate by calipers",
    key="plate.springs",
    gives="the rate k of one spring and the stiffness K of N alike ones in the plate; a sheet for each kind of spring",
    tools="calipers, a micrometer for the wire, feeler gauges, paint marker, a bag for each window's springs",
    steps=(
        "Mark plate and windows before a spring comes out. Look at all windows: alike springs go on one sheet.",
        "In the plate: the window W along the pitch circle, between the edges that the spring rests on, hub in the "
        "middle; the radius R from the hub's axis to the spring's axis. A feeler tells a gap.",
        "Out of the plate: free length f, diameter E across the coils, and the wire d by micrometer, where it is not "
        "worn or painted. Three springs at least.",
        "Count all coils c from wire end to wire end, to a quarter. Look at the ends: closed and ground, closed, "
        "open and ground, or open.",
        "Note what is loose, broken, missing or rusty: key condition. A spring inside another has its own entry.",
    ),
    readings=(
        Reading("N", "alike springs in the plate", "count", (3, 0), (3, 0)),
        Reading("d", "diameter of the wire", "length", (4.0, 0.03), (0.157, 0.001)),
        Reading("E", "diameter across the coils, outside", "length", (25, 0.1), (0.984, 0.004)),
        Reading("c", "all coils, end to end", "count", (7, 0.25), (7, 0.25)),
        Reading("f", "free length, out of its window", "length", (50, 0.3), (1.97, 0.01)),
        Reading("W", "length of its window", "length", (50.5, 0.3), (1.99, 0.01)),
        Reading("R", "from the hub's axis to the spring's", "length", (62, 0.5), (2.44, 0.02)),
    ),
    sums=_sums,
    entry=_entry,
    accuracy="The wire counts four times, the coil three times, R twice: measure the wire best. The sum is a check: "
    "the line file takes the readings.",
    cautions=(
        CAUTIONS["spring"],
        "Squeezed springs fly: take plates apart behind a guard, nobody in line. Riveted plates stay riveted: measure "
        "through the window. Do not put cracked, set or rusty springs back.",
    ),
    source=f"k = G d⁴ / (8 D³ w), K = N k R²: as in EN 13906-1 and Shigley's Mechanical Engineering Design, chapter 10 "
    f"(both from memory). The factors hold G = {MATERIALS[METAL].shear_modulus / 1e6:,.0f} MPa of {METAL} wire, and "
    f"ends that are {WOUND} leave {DEAD:g} coils idle.",
    dense=True,
)
