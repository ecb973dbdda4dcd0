"""Readings with their errors, and what those errors make of an answer."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable

from calmshaft import units
from calmshaft.faults import Fault, line_error
from calmshaft.quantity import Quantity

Reading = float | Quantity  # SI; a plain number counts as exact
GRAVITY = 9.80665  # [m/s^2] standard; the poles and the equator are 0.3 % away


def measured(value: float, error: float = 0.0, source: str = "measured") -> Quantity:
    """A reading [SI] and by how much it may be off to either side, in the same unit."""
    return Quantity(value, source, value - abs(error), value + abs(error))


def percent(value: float, error: float, source: str = "measured") -> Quantity:
    """A reading [SI] and by how many per cent it may be off to either side."""
    return measured(value, value * error / 100, source)


def value_of(reading: Reading) -> float:
    """The value alone [SI]."""
    return reading.value if isinstance(reading, Quantity) else float(reading)


def ends(reading: Reading) -> tuple[float, float]:
    """Lowest and highest [SI]."""
    return (reading.low, reading.high) if isinstance(reading, Quantity) else (float(reading), float(reading))


def propagate(compute: Callable[..., float], *readings: Reading) -> Quantity:
    """The answer to independent readings: each is put to its ends alone, the differences add as squares.

    low = y - sqrt(sum of (y - lowest y of reading i)^2), high alike upwards. One object given in several places,
    such as the density of one metal, is one reading: it moves in all of them together.
    """
    values = [value_of(reading) for reading in readings]
    middle = compute(*values)
    below = above = 0.0
    for one in {id(reading): reading for reading in readings if isinstance(reading, Quantity)}.values():
        found = [0.0]
        for end in ends(one):
            moved = [end if reading is one else value for reading, value in zip(readings, values, strict=True)]
            found.append(compute(*moved) - middle)
        below, above = below + min(found) ** 2, above + max(found) ** 2
    return Quantity(middle, "measured", middle - math.sqrt(below), middle + math.sqrt(above))


def extremes(compute: Callable[..., float], *readings: Reading) -> Quantity:
    """The answer to readings whose errors may all fall on the same side: the furthest of every mix of ends."""
    middle = compute(*(value_of(reading) for reading in readings))
    found = [compute(*mix) for mix in itertools.product(*(set(ends(reading)) for reading in readings))]
    return Quantity(middle, "measured", min(found), max(found))


def size(value: float) -> str:
    """A length [m] in words of the workshop."""
    return units.show(value, "length")


def need(holds: bool, name: str, value: float | str, rule: str, advice: str) -> None:
    """Raise LineError with the name of the reading, its value, the rule and what to write, unless it holds."""
    if not holds:
        shown = value if isinstance(value, str) else f"{value:.4g}"
        raise line_error([Fault(name, shown, rule, advice)])


def need_positive(**readings: Reading) -> None:
    """Raise LineError for the readings that are not more than zero, all of them at once; units are SI."""
    faults = [
        Fault(
            name, f"{value_of(reading):.4g}", "must be more than zero over its whole range", "look at it again, in SI"
        )
        for name, reading in readings.items()
        if not (ends(reading)[0] > 0 and math.isfinite(ends(reading)[1]))
    ]
    if faults:
        raise line_error(faults)
