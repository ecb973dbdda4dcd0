"""From a share between 0 and 1 to a value inside its range.

Nothing is known of a range but its ends, so every share of it is equally likely: of the range itself, or of its
logarithm where the range is a factor ("from value/2.5 to value x 2.5").
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping

from calmshaft.estimates import Spread, rules
from calmshaft.estimates.rules import CAUTIONS, on_sheet
from calmshaft.faults import Fault, line_error
from calmshaft.line import Line
from calmshaft.quantity import Quantity
from calmshaft.workshop.plate_measured import DERIVED

WHOLE = ("propeller.blades",)  # counted, not measured


def value_at(share: float, path: str, spread: Spread) -> float:
    """The value [SI] at a share of its range: 0 the low end, 1 the high end."""
    _, low, high = spread
    found = low * (high / low) ** share if is_factor(spread) else low + share * (high - low)
    return float(round(found)) if path in WHOLE else found


def share_of(value: float, spread: Spread) -> float:
    """Where a value lies in its range: the inverse of value_at; outside 0..1 where it lies outside."""
    _, low, high = spread
    return math.log(value / low) / math.log(high / low) if is_factor(spread) else (value - low) / (high - low)


def is_factor(spread: Spread) -> bool:
    """Whether the start value is nearer to the geometric than to the arithmetic mean of the ends."""
    value, low, high = spread
    return low > 0 and abs(value - math.sqrt(low * high)) < abs(value - (low + high) / 2)


def spread_of(quantity: Quantity) -> Spread:
    """Value, low and high [SI]."""
    return quantity.value, quantity.low, quantity.high


def uncertain(line: Line) -> Mapping[str, Quantity]:
    """The values of a line that have a range, by path. Values given without one are taken as they stand.

    What follows from springs or points of a plate is not among them: it follows anew from each case's readings.
    Raises LineError for estimates of the user's own that have no range.
    """
    check_estimates(line)
    ranged = {path: quantity for path, quantity in line.quantities.items() if quantity.low < quantity.high}
    return {path: quantity for path, quantity in ranged.items() if quantity.source != DERIVED}


def check_estimates(line: Line) -> None:
    """Raises LineError with a fault for every value that its writer calls estimated and gives no range."""
    faults = [
        Fault(path, quantity.as_written or "", "is an estimate with a range of zero",
              'write { value = ..., source = "estimated", range = "20 %" }, or leave the key out')
        for path, quantity in line.quantities.items()
        if quantity.source == "estimated" and quantity.rule is None and quantity.low == quantity.high
    ]  # fmt: skip
    if faults:
        raise line_error(faults, line.where)


_CURVE = ("plate.stages", "plate.stop_angle", "plate.coast_stop_angle", "plate.points")
_ON_THE_BENCH = f"Torque wrench on the bench. {on_sheet('bench')} {CAUTIONS['spring']}"
_NO_WAY = ("No workshop way", "Needs a pressure indicator", "Not needed")


def how_to_measure(path: str, quantity: Quantity) -> str:
    """Words for the workshop, also where the value was given: by the rule that would else estimate it."""
    if quantity.how_to_measure:
        return quantity.how_to_measure
    key = re.sub(r"\[\d+\]", "[]", path)
    found = (rule.how_to_measure for rule in rules() if rule.key == key)
    return next(found, _ON_THE_BENCH if key.startswith(_CURVE) else "Measure it more closely than its range.")


def measurable(path: str, quantity: Quantity) -> bool:
    """Whether a workshop has a way to the value."""
    return not how_to_measure(path, quantity).startswith(_NO_WAY)
