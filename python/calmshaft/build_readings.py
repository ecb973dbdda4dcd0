"""Values that a line file gives by readings: parts on wires, rods on scales, the gearbox by cord, weights and dial."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from calmshaft import LineError, _core, build_measured, gearbox_readings, units
from calmshaft.build_measured import indices, lacks, readings_of
from calmshaft.quantity import Quantity
from calmshaft.schema_paths import kind_at
from calmshaft.workshop import rod_by_scales, rod_swing, sizes, swing_time, trifilar
from calmshaft.workshop.ranges import Reading, need, propagate

Fault = _core.Fault
Given = Mapping[str, Any]  # path -> Quantity, word, whole number or list
Readings = dict[str, Any]  # key -> Quantity, word or whole number of one section


@dataclass(frozen=True)
class Way:
    """One section of readings: keys that it gives, what it needs with examples, their sizes, and the sum.

    `make` has the readings, all that is given, and the path of the part; it gives a Quantity for each key.
    """

    section: str
    gives: tuple[str, ...]
    needed: Mapping[str, str]
    sizes: Mapping[str, sizes.Size]
    make: Callable[[Readings, Given, str], tuple[Quantity, ...]]
    rule: str
    alike: tuple[str, ...] = ()  # other forms of the same value


@dataclass
class Made:
    """What readings make: quantities by path (SI), and faults and warnings with paths of the file."""

    quantities: dict[str, Quantity] = field(default_factory=dict)
    faults: list[Fault] = field(default_factory=list)


def _period(one: Readings) -> Quantity:
    """Of one swing [s]; off as a hand-held watch where no range is written."""
    time: Quantity = one["time"]
    swings: int = one.get("swings", 1)
    if time.low < time.high:
        return propagate(lambda whole: whole / swings, time)
    return swing_time(time.value, swings)


def _hung(one: Readings, given: Given, part: str) -> tuple[Quantity, ...]:
    board = (one.get("table_mass", 0.0), one.get("table_inertia", 0.0))
    return (trifilar(one["mass"], one["wire_radius"], one["wire_length"], _period(one), *board),)


def _hung_and_weighed(one: Readings, given: Given, part: str) -> tuple[Quantity, ...]:
    return (*_hung(one, given, part), one["mass"])


def _rod_scales(one: Readings, given: Given, part: str) -> tuple[Quantity, ...]:
    length: Reading = _of_line(given, "engine.rod_length", "measure between the middles of its bores")
    big, small = one["big_end"], one["small_end"]
    lighter = f"is more than under the big end, {big.value:.4g} kg"
    need(small.value < big.value, "small_end", f"{small.value:.4g} kg", lighter, "rod level; look which end is which")
    return rod_by_scales(length, big, small)


def _rod_swing(one: Readings, given: Given, part: str) -> tuple[Quantity, ...]:
    mass: Reading = _of_line(given, "engine.rod_mass", "weigh the rod")
    return (rod_swing(mass, one["edge_to_centre"], _period(one)),)


def _of_line(given: Given, path: str, advice: str) -> Any:
    need(path in given, path, "", "is missing beside these readings", advice)
    return given[path]


_HUNG = {"mass": "26 kg", "wire_radius": "150 mm", "wire_length": "1.5 m", "time": "60.9 s"}
_WEIGHTS = {
    "radius": "60 mm",
    "fall": "1.2 m",
    "mass_1": "2 kg",
    "time_1": "1.8 s",
    "mass_2": "5 kg",
    "time_2": "0.9 s",
}
_DIAL = {"travel": "0.26 mm", "radius": "120 mm"}
_PULL = {"force": "40 N", "radius": "60 mm"}
_ON_WIRES = "hung on three wires"
_BY_DIAL = "dial gauge from stop to stop"
WAYS = (
    Way("flywheel.hang", ("flywheel.inertia",), _HUNG, sizes.HANG, _hung, _ON_WIRES, ("flywheel.discs",)),
    Way("engine.crank_hang", ("engine.crank_inertia",), _HUNG, sizes.HANG, _hung, _ON_WIRES),
    Way("propeller.hang", ("propeller.inertia", "propeller.mass"), _HUNG, sizes.HANG, _hung_and_weighed, _ON_WIRES),
    Way("engine.rod_scales", ("engine.rod_mass", "engine.rod_centre_from_big_end"),
        {"big_end": "0.74 kg", "small_end": "0.36 kg"}, sizes.ROD_SCALES, _rod_scales, "rod on two scales"),
    Way("engine.rod_swing", ("engine.rod_inertia",), {"edge_to_centre": "120 mm", "time": "23.1 s"},
        sizes.ROD_SWING, _rod_swing, "rod swung on a knife edge"),
    Way("gearbox.pull", ("gearbox.input_drag",), _PULL, sizes.PULL, gearbox_readings.input_pull, "pull on a cord"),
    Way("gearbox.two_weights", ("gearbox.input_inertia",), _WEIGHTS, sizes.WEIGHTS, gearbox_readings.two_weights,
        "two weights on a cord"),
    Way("gearbox.ahead.dial", ("gearbox.ahead.backlash",), _DIAL, sizes.DIAL, gearbox_readings.dial, _BY_DIAL),
    Way("gearbox.astern.dial", ("gearbox.astern.backlash",), _DIAL, sizes.DIAL, gearbox_readings.dial, _BY_DIAL),
    Way("gearbox.unloaded[].pull", ("gearbox.unloaded[].drag",), _PULL, sizes.PULL, gearbox_readings.gear_pull,
        "pull on a cord"),
    Way("gearbox.unloaded[].dial", ("gearbox.unloaded[].backlash",), _DIAL, sizes.DIAL, gearbox_readings.dial,
        _BY_DIAL),
)  # fmt: skip
_SECTIONS = re.compile("|".join(re.escape(way.section).replace(r"\[\]", r"\[\d+\]") + r"\." for way in WAYS))
_RENAMED = {
    "period": "time",
    "dial": "travel",
    "gauge_radius": "radius",
    "time_1 and time_2": "time_2",
}  # in the workshop -> in the file


def is_reading(path: str) -> bool:
    """Whether a path is a reading that another value is made of, and so no value of the line of its own."""
    return path.startswith(build_measured.READINGS) or bool(_SECTIONS.match(path))


def instead_of(path: str) -> tuple[str, ...]:
    """Paths that say the same as a path: readings in the place of a value, or a value in the place of readings."""
    bare, index = re.sub(r"\[\d+\]", "[]", path), re.search(r"\[(\d+)\]", path)
    found = [one for way in WAYS for one in _others(bare, way)]
    return tuple(one.replace("[]", f"[{index[1]}]") if index else one for one in found)


def _others(path: str, way: Way) -> tuple[str, ...]:
    if path == way.section:
        return (*way.gives, *way.alike)
    return (way.section,) if path in (*way.gives, *way.alike) else ()


def read(given: Given) -> Made:
    """What all readings make, one after the other: a rod's swing leans on its weight. Does not raise."""
    made = Made()
    broken: set[str] = set()  # values whose own readings have a fault are not missing as well
    for way in WAYS:
        for place in _places(given, way.section):
            found = _read_one(way, place, dict(given) | made.quantities, made.quantities)
            made.faults += [fault for fault in found if fault.path not in broken]
            broken |= set(_gives(way, place)) if found else set()
    made.faults += gearbox_readings.against_the_box(given, made.quantities)
    return made


def _places(given: Given, section: str) -> list[str]:
    stem, _, rest = section.partition("[]")
    found = [f"{stem}[{index}]{rest}" for index in indices(given, stem)] if rest else [section]
    return [place for place in found if any(path.startswith(f"{place}.") for path in given)]


def _read_one(way: Way, place: str, known: Given, quantities: dict[str, Quantity]) -> list[Fault]:
    """The faults of one section of readings; without any its values are put into the quantities."""
    one = readings_of(known, place)
    part = place.rpartition(".")[0]
    gives = _gives(way, place)
    twice = [path for path in (*gives, *way.alike) if path in known or readings_of(known, path)]
    faults = [Fault(place, "", f"says the same as {path}", "keep one of the two") for path in twice]
    faults += [lacks(place, key, example) for key, example in way.needed.items() if key not in one]
    faults += [_in_file(place, fault) for fault in sizes.size_faults(one, way.sizes)]
    if faults:
        return faults
    try:
        made = way.make(one, known, part)
    except LineError as error:
        return [_in_file(place, fault) for fault in error.faults]
    if open_ended := [_no_end(place, *one) for one in zip(gives, made, strict=True) if not one[1].low > 0]:
        return open_ended
    for path, quantity in zip(gives, made, strict=True):
        quantities[path] = replace(quantity, source="measured", rule=way.rule, as_written=place)
    return []


def _no_end(place: str, path: str, made: Quantity) -> Fault:
    """Readings whose ranges together leave a value that cannot be."""
    kind = kind_at(path) or "pure"
    value, low = units.show(made.value, kind), units.show(made.low, kind)
    rule = f"leaves {path} of {value} a range from {low} on: must be more than zero"
    return Fault(place, "", rule, "write narrower ranges beside its readings, or read again")


def _gives(way: Way, place: str) -> list[str]:
    """The keys that readings at a place give, beside them in the file."""
    return [f"{place.rpartition('.')[0]}.{key.rpartition('.')[2]}" for key in way.gives]


def _in_file(place: str, fault: Fault) -> Fault:
    path = fault.path if "." in fault.path else f"{place}.{_RENAMED.get(fault.path, fault.path)}"
    value = f"{fault.value} a swing" if fault.path == "period" else fault.value
    return Fault(path, value, fault.rule, fault.advice, fault.warning)
