"""The fit list: what must match between plate, flywheel and gearbox, judged where both sides are entered."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from calmshaft import units
from calmshaft.build_line import values_of
from calmshaft.line import Line
from calmshaft.wording import listed, number

MM = 1e-3  # [m]
SAME = 0.1 * MM  # [m] two diameters that are called the same; common practice, no source
PILOT_ROOM = 0.1 * MM  # [m] most room of the plate's edge in its seat; common practice, no source
LEAST_ROOM = 3.0 * MM  # [m] between hub and bolt heads; common practice, no source


@dataclass(frozen=True)
class Fit:
    """One item. plate, line: as entered, "" where not. word: within, over or not judged. look: what to look for."""

    item: str
    plate: str
    line: str
    word: str
    finding: str
    look: str


@dataclass(frozen=True)
class _Item:
    key: str
    words: str
    look: str
    rule: str  # "same number", "same size", "seat", "no larger", "room", "same word"


_ITEMS = (
    _Item("spline_count", "splines", "as many as on the gearbox's input shaft", "same number"),
    _Item("spline_diameter", "spline, outer diameter", "that of the gearbox's input shaft", "same size"),
    _Item("pilot_diameter", "pilot (seat in the flywheel)", "sits in the flywheel's seat with next to no room", "seat"),
    _Item("bolt_circle", "bolt circle", "that of the flywheel", "same size"),
    _Item("bolt_count", "bolts", "as many as the flywheel has holes", "same number"),
    _Item("depth", "depth over the flywheel's face", "no more than there is room up to the gearbox", "no larger"),
    _Item("hub_stand_out", "hub towards the flywheel", "clear of crank bolts and flywheel bolts when it turns", "room"),
    _Item("hub_side", "side of the hub", "the long side where there is room for it", "same word"),
    _Item("rotation", "direction of rotation", "made for the way this engine turns, or for either", "same word"),
)


def fit_list(line: Line) -> tuple[Fit, ...]:
    """Every item in the order in which a plate is measured. Nothing is judged that is entered on one side only."""
    values = values_of(line.document)[0]
    return tuple(_fit(item, values.get(f"fit.plate.{item.key}"), values.get(f"fit.line.{item.key}")) for item in _ITEMS)


def _fit(item: _Item, plate: Any, line: Any) -> Fit:
    shown = [_shown(item, value) for value in (plate, line)]
    if plate is None or line is None:
        missing = [f"fit.{side}" for side, value in (("plate", plate), ("line", line)) if value is None]
        return Fit(item.words, *shown, "not judged", f"not in {listed(missing)}", item.look)
    fits, finding = _judged(item, plate, line)
    return Fit(item.words, *shown, "within" if fits else "over", finding, item.look)


def _shown(item: _Item, value: Any) -> str:
    if value is None:
        return ""
    return f"{number(units.express(value, 'mm', 'length'))} mm" if isinstance(value, float) else f"{value}"


def _judged(item: _Item, plate: Any, line: Any) -> tuple[bool, str]:
    """Whether it fits, and why in words. Lengths in m."""
    if item.rule == "same number":
        return plate == line, "alike" if plate == line else "not alike: it does not go on"
    if item.rule == "same word":
        fits = plate == line or "either" in (plate, line)
        return fits, "alike" if fits else "not alike"
    gap = (line - plate) / MM
    if item.rule == "same size":
        apart = f"{number(abs(gap))} mm apart, up to {number(SAME / MM)} mm is called the same"
        return abs(line - plate) <= SAME, apart
    if item.rule == "seat":
        fits = 0 <= line - plate <= PILOT_ROOM
        return fits, f"{number(gap)} mm of room, 0 to {number(PILOT_ROOM / MM)} mm is a seat"
    if item.rule == "room":
        return line - plate >= LEAST_ROOM, f"{number(gap)} mm of room, at least {number(LEAST_ROOM / MM)} mm is wanted"
    return plate <= line, f"{number(gap)} mm of room"
