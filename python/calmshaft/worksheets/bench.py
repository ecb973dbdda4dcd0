"""A plate on the bench: torque over twist by a torque wrench."""

from __future__ import annotations

from calmshaft.estimates.rules import CAUTIONS
from calmshaft.quantity import Quantity
from calmshaft.reports.parts import tidy
from calmshaft.worksheets.sheet import Example, Grid, Reading, Sheet, Sum
from calmshaft.workshop.plate_points import Point, curve
from calmshaft.workshop.ranges import measured, propagate

# angle [deg], torque going up and coming down, of a plate of two stages; invented
ROWS = {
    "metric": ((2, 18, 12), (4, 38, 32), (6, 58, 52), (8, 108, 102), (10, 158, 152)),
    "imperial": ((2, 14, 10), (4, 30, 26), (6, 46, 42), (8, 82, 78), (10, 118, 114)),
}
FIRST, LAST = 2, 4  # rows between which the sheet's second stage lies
OFF = {"metric": (0.2, 2), "imperial": (0.2, 1.5)}  # of an angle [deg], of a torque; common practice, no source
_ROOM = 8  # free rows


def _points(read: Example) -> list[Point]:
    """The example's rows as the plate's curve takes them."""
    turn, torque = read.one("angle"), read.one("torque")
    return [Point(i, a * turn, up * torque, down * torque) for i, (a, up, down) in enumerate(ROWS[read.system])]


def _sums(read: Example) -> list[Sum]:
    rows = _points(read)
    found = curve(rows)
    torque = [propagate(lambda up, down: (up + down) / 2, read[f"u{n}"], read[f"d{n}"]) for n in "₁₂"]
    away = propagate(lambda low, high, a, b: (high - low) / (b - a), *torque, read["a₁"], read["a₂"])
    stiffness = found.drive[1].stiffness
    width, least, most = found.hysteresis
    return [
        Sum("m₁ = (u₁ + d₁) ÷ 2", _about(rows[FIRST].mean, torque[0]), "torque"),
        Sum("m₂ = (u₂ + d₂) ÷ 2", _about(rows[LAST].mean, torque[1]), "torque"),
        Sum("K = (m₂ - m₁) ÷ (a₂ - a₁)", _about(stiffness, away), "stiffness"),
        Sum("H = u₂ - d₂", Quantity(width, "measured", least, most), "torque"),
    ]


def _about(value: float, like: Quantity) -> Quantity:
    """A value with the width of another."""
    return measured(value, (like.high - like.low) / 2)


def _grid(read: Example) -> Grid:
    unit, turn, torque = tidy(read.unit("torque")), read.one("angle"), read.one("torque")
    words = ("going up u", "coming down d", "middle m", "u - d")
    rows = (
        (p.angle / turn, *(one / torque for one in (p.loading, p.unloading, p.mean, p.width))) for p in _points(read)
    )
    shown = tuple(tuple(f"{value:.4g}" for value in row) for row in rows)
    return Grid(("angle a [deg]", *(f"{one} [{unit}]" for one in words)), shown, _ROOM)


def _entry(read: Example) -> str:
    unit = read.unit("torque")
    rows = (
        f'{{ angle = "{a} deg", torque_loading = "{up} {unit}", torque_unloading = "{down} {unit}" }},'
        for a, up, down in ROWS[read.system]
    )
    return "\n".join(["[plate]", "points = [", *rows, "]"])


def _reading(letter: str, words: str, kind: str, row: int, column: int) -> Reading:
    metric, imperial = ((ROWS[system][row][column], OFF[system][kind == "torque"]) for system in ("metric", "imperial"))
    return Reading(letter, words, kind, metric, imperial)


BENCH = Sheet(
    name="bench",
    title="Damper plate on the bench",
    key="plate.points",
    gives="the torque of a plate over its twist: stiffness K of each stage, friction width H, free play, stop",
    tools="a splined stub (an old input shaft), a heavy vice, a bar to bolt across the plate, torque wrench, "
    "protractor or a paper scale and a pointer",
    steps=(
        "Clamp the stub upright in a vice that is bolted down. Slide the hub on; bolt the bar to the plate's holes, "
        "its square drive on the axis.",
        "Fix the pointer to the plate and the scale to the vice. No protractor: its travel ÷ its radius × 57.3 "
        "is the angle in degrees.",
        "Rock the plate by hand: the middle of its free play is zero. Write the whole play down as plate.free_play.",
        "Go up to the first angle, hold, read the wrench (u); go on up to the last. Come down from there to the "
        "same angles (d). Never turn back in between: friction would fall out of the reading.",
        "Four angles at least, on each side of a corner where the pull changes. Look for the stop with care: "
        "write its angle as plate.stop_angle, and do not lean on it.",
        "The coast side in the same way, the other way round: angles and torques there are negative.",
    ),
    readings=(
        _reading("a₁", "angle at the lower end of a stage", "angle", FIRST, 0),
        _reading("u₁", "torque there, going up", "torque", FIRST, 1),
        _reading("d₁", "torque there, coming down", "torque", FIRST, 2),
        _reading("a₂", "angle at its upper end", "angle", LAST, 0),
        _reading("u₂", "torque there, going up", "torque", LAST, 1),
        _reading("d₂", "torque there, coming down", "torque", LAST, 2),
    ),
    sums=_sums,
    entry=_entry,
    accuracy="A slope by torque wrench is good to about 5 % (common practice, no source), less where angles are close. "
    "The line file takes all readings and finds the stages itself.",
    cautions=(
        CAUTIONS["spring"],
        "The bar swings back with all that it was pulled with: stand beside it, pull and do not push, let down slowly. "
        "Stay below the plate's rated torque and the wrench's range. Do not test a plate with cracked windows.",
    ),
    source="The middle of going up and coming down is elastic, their distance friction (common practice, no source).",
    grid=_grid,
    dense=True,
)
