"""`check`: the water that swings along with the propeller, by each way of reckoning it."""

from __future__ import annotations

from calmshaft import Line, units
from calmshaft.commands.common import say
from calmshaft.estimates.propeller import AREA, ways_of
from calmshaft.page_text import text_table
from calmshaft.wording import listed, percent
from calmshaft.workshop.propellers import WAYS

WATER = "propeller.water_inertia"
DRY = "propeller.inertia"


def say_water(line: Line) -> None:
    """Each way's value beside the dry propeller, how far they lie apart, and what is taken; nothing without them."""
    known = {path: quantity.value for path, quantity in line.quantities.items()}
    ways = ways_of(known)
    if not ways or WATER not in line.quantities:
        return
    say("\nWater that swings along with the propeller, by each way that the data reach")
    rows = [[way, _inertia(value), percent(value / known[DRY])] for way, value in ways.items()]
    say(text_table([["way", "water", "of the dry propeller"], *rows]))
    say(f"{_apart(ways)} {_taken(line)} {_lacking(ways, known)}".strip())


def _inertia(value: float) -> str:
    return units.show(value, "inertia")


def _apart(ways: dict[str, float]) -> str:
    if len(ways) == 1:
        return "One way cannot tell how far it misses."
    least, most = min(ways.values()), max(ways.values())
    return f"They lie between {_inertia(least)} and {_inertia(most)}, {most / least:.3g} times apart."


def _taken(line: Line) -> str:
    found = line.quantities[WATER]
    spread = f", {_inertia(found.low)} to {_inertia(found.high)}" if found.low < found.high else ""
    return f"Taken: {_inertia(found.value)}{spread} ({found.rule or found.source})."


def _lacking(ways: dict[str, float], known: dict[str, float]) -> str:
    missing = [way for way in WAYS if way not in ways]
    if not missing:
        return ""
    if AREA not in known:
        advice = "needs area_ratio: area of all blades over that of the disc, from the maker or traced on paper"
        return f"{listed(missing)} {advice if len(missing) == 1 else advice.replace('needs', 'need')}."
    return f"{listed(missing)} does not reach such a propeller."
