"""`check`: where each value comes from, how wide its range is, and which one is worth measuring."""

from __future__ import annotations

import math
from collections import Counter

from calmshaft import Condition, Line, units
from calmshaft.commands.common import say
from calmshaft.page_text import text_table
from calmshaft.quantity import Quantity
from calmshaft.results import MEASURES
from calmshaft.schema_paths import kind_at
from calmshaft.uncertainties import MeasureNext, Swing, Tornado, tornado
from calmshaft.uncertainties.ranges import IN_SHOP, how_to_measure, where_measured
from calmshaft.wording import in_workshop_units, listed, number

MOST_TOLD = 6  # swings; the rest matter less than these
HARD = "\N{NO-BREAK SPACE}"  # a value stays beside its key and unit
_WORDS = {
    "measured": "measured",
    "maker": "from the maker",
    "given": "given without a source",
    "derived": "derived from what was measured of the plate",
    "estimated": "estimated",
}


def width(quantity: Quantity) -> float:
    """Width of the range over the value [-]."""
    return (quantity.high - quantity.low) / abs(quantity.value) if quantity.value else math.inf


def say_sources(line: Line) -> None:
    """Every value that has a range, the widest first, those taken as exact, and how many values come from where."""
    ranges = {path: quantity for path, quantity in line.quantities.items() if quantity.low < quantity.high}
    if ranges:
        say("\nValues with a range, the widest first; a measured value takes an estimate's place")
        say(text_table(_rows(sorted(ranges.items(), key=lambda entry: -width(entry[1])))))
    counts = Counter(quantity.source for quantity in line.quantities.values())
    told = [f"{counts[source]} {words}" for source, words in _WORDS.items() if counts[source]]
    say(f"\nValues: {listed(told)}. `calmshaft schema` says how each is measured.")
    exact = [_as_read(path, quantity) for path, quantity in line.quantities.items() if path not in ranges]
    if exact:
        say(
            f'{len(exact)} have no range and are taken as exact: write range = "5 %", or low and high, beside what you '
            "are not sure of."
        )
        whole = f"As they were read: {', '.join(one.replace(' ', HARD) for one in exact)}."
        say(whole)


def _as_read(path: str, quantity: Quantity) -> str:
    """In our unit, so that a pound or an inch that was read otherwise than meant is seen; where it says, its source."""
    source = "" if quantity.source == "given" else f" ({quantity.rule or quantity.source})"
    return f"{path} {units.show(quantity.value, kind_at(path) or 'pure')}{source}"


def _rows(entries: list[tuple[str, Quantity]]) -> list[list[str]]:
    rows = [["key", "value", "from", "to", "source", "rule"]]
    for path, quantity in entries:
        kind = kind_at(path) or "pure"
        shown = [units.show(value, kind) for value in (quantity.value, quantity.low, quantity.high)]
        rows.append([path, *shown, quantity.source, quantity.rule or ""])
    return rows


def say_what_matters(line: Line, at: Condition) -> None:
    """Which range moves the answer most at this condition, and how to make it narrower."""
    found = tornado(line, at)
    measure = next(one for one in MEASURES if one.name == found.measure)
    if not found.swings:
        return
    if math.isnan(found.start):
        say("\nWhich value matters most cannot be told here: as described the line does not run at this condition.")
        return
    start, unit = in_workshop_units(measure, found.start)
    say("\nWhat matters most, one value at a time at both ends of its range")
    say(f"  {measure.meaning}, {number(start)} {unit} as described")
    rows = [["key", f"at its low end [{unit}]", f"at its high end [{unit}]"]]
    say(text_table(rows + [_swing_row(one, measure) for one in found.swings[:MOST_TOLD]]))
    _say_next(found)


def _swing_row(swing: Swing, measure) -> list[str]:  # type: ignore[no-untyped-def]
    return [swing.path, *(number(in_workshop_units(measure, end)[0]) for end in (swing.at_low, swing.at_high))]


def _say_next(found: Tornado) -> None:
    for one in found.unsolved():
        ends = [f"{end} end: {status}" for end, status in (("low", one.status_low), ("high", one.status_high))]
        say(f"  {one.path} has an end without an answer ({', '.join(ends)})")
    first, in_shop = found.measure_next(), found.measure_next(before_assembly=True)
    if first is None:
        say("\nNo value that a workshop can measure moves it.")
        return
    say(f"\nMeasure first: {how_words(first.path, first.quantity)}")
    if first is not in_shop:
        say(shop_words(in_shop))


def how_words(path: str, quantity: Quantity) -> str:
    """The key, where it can be measured at all if not in the workshop, and how."""
    where = where_measured(path, quantity)
    place = "" if where == IN_SHOP else f" ({where}, not before it is bolted together)"
    return f"{path}{place}. {how_to_measure(path, quantity)}"


def shop_words(one: Swing | MeasureNext | None) -> str:
    """What to measure as long as the parts lie on the bench."""
    if one is None:
        return "Before it is bolted together: no value that can be measured in the workshop moves it."
    return f"Before it is bolted together, in the workshop: {one.path}. {how_to_measure(one.path, one.quantity)}"
