"""From a share between 0 and 1 to a value inside its range.

Half of the draws lie to either side of the value, however far each end is away: it is as likely too high as too low,
and stays the median. Within each side nothing is known but its end, so every share is equally likely there: of the
side itself, or of its logarithm where the range is a factor ("from value/2.5 to value x 2.5"). Where the value stands
at an end of its range, all draws lie to the other side.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping

from calmshaft.estimates import Spread, rules
from calmshaft.estimates.rules import CAUTIONS, on_sheet
from calmshaft.line import Line
from calmshaft.quantity import Quantity
from calmshaft.workshop.plate_measured import DERIVED

WHOLE = ("propeller.blades",)  # counted, not measured
ABOUT = 0.05  # [-] how far a factor's value may lie from the geometric mean of ends that were rounded; ours


def value_at(share: float, path: str, spread: Spread) -> float:
    """The value [SI] at a share of its range: 0 the low end, 0.5 the value itself, 1 the high end."""
    value, low, high = spread
    by_factor = is_factor(spread)
    if low < value < high:
        low, high, share = (low, value, 2 * share) if share < 0.5 else (value, high, 2 * share - 1)
    found = low * (high / low) ** share if by_factor else low + share * (high - low)
    return float(round(found)) if path in WHOLE else found


def is_factor(spread: Spread) -> bool:
    """Whether the value is nearer to the geometric than to the arithmetic mean of the ends, and as good as there."""
    value, low, high = spread
    if not low > 0:
        return False
    middle = math.sqrt(low * high)
    return abs(value - middle) < abs(value - (low + high) / 2) and math.isclose(value, middle, rel_tol=ABOUT)


def spread_of(quantity: Quantity) -> Spread:
    """Value, low and high [SI]."""
    return quantity.value, quantity.low, quantity.high


def uncertain(line: Line) -> Mapping[str, Quantity]:
    """The values of a line that have a range, by path. Values given without one are taken as they stand.

    What follows from springs or points of a plate is not among them: it follows anew from each case's readings.
    """
    ranged = {path: quantity for path, quantity in line.quantities.items() if quantity.low < quantity.high}
    return {path: quantity for path, quantity in ranged.items() if quantity.source != DERIVED}


_CURVE = ("plate.stages", "plate.stop_angle", "plate.coast_stop_angle", "plate.points")
_ON_THE_BENCH = f"Torque wrench on the bench. {on_sheet('bench')} {CAUTIONS['spring']}"
IN_SHOP = "in the workshop"
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


def in_shop(path: str, quantity: Quantity) -> bool:
    """Whether that way needs neither the engine running nor the boat afloat: before plate and box are bolted on."""
    return measurable(path, quantity) and CAUTIONS["run"] not in how_to_measure(path, quantity)


def where_measured(path: str, quantity: Quantity) -> str:
    """ "in the workshop", "with the engine running", "afloat only" or "nowhere", for a column."""
    if not measurable(path, quantity):
        return "nowhere"
    if in_shop(path, quantity):
        return IN_SHOP
    return "afloat only" if path.startswith("propeller.") else "with the engine running"
