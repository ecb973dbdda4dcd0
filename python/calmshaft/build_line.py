"""From a document (the plain dict of a line file) to the compiled library's Line, with every fault on the way."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import partial
from itertools import chain
from typing import Any, TypeVar

from calmshaft import (
    _core,
    build_measured,
    build_parts,
    build_readings,
    build_table,
    diary,
    inertia_rules,
    line_rules,
    range_limits,
)
from calmshaft.build_table import Table
from calmshaft.estimates import Choice, fill, fill_values
from calmshaft.faults import Fault, validated
from calmshaft.quantity import Quantity
from calmshaft.schema_fields import Physical
from calmshaft.schema_paths import field_at, flatten, get, split
from calmshaft.workshop import joint, plate_measured
from calmshaft.workshop.plate_measured import Measured
from calmshaft.workshop.sizes import LINE, size_faults

T = TypeVar("T")
_RULES = ("limits.", "fit.", "diary.", "shaft.iacs_ur_m68.")
_STATED_TORQUE = "plate.rated_torque"  # a plate is held to what its maker states, not to an estimate of it


@dataclass(frozen=True)
class Built:
    """A document as understood. `core` is None where there are faults that are not warnings.

    limits: key of [limits] -> value with its document; no part of the line, so not among the rest.
    values: path -> SI value, word, whole number or list, estimates included. quantities: the physical ones.
    """

    values: dict[str, Any]
    quantities: dict[str, Quantity]
    core: _core.Line | None
    faults: tuple[Fault, ...]
    limits: dict[str, Quantity] = field(default_factory=dict)


def build(document: dict[str, Any]) -> Built:
    """Everything that a document says and lacks. Does not raise: faults and warnings are in the result."""
    section, faults = validated(document)
    limits = dict(flatten(section.limits)) if section.limits else {}
    flat = dict(flatten(section))
    given = _of_motion(flat)
    values = _plain_values(given)
    _name_unloaded(values, section)
    _mark_unusable(values, faults)
    table = build_table.read(values)
    faulty = {fault.path for fault in faults}
    plate = _measured_plate(given, values, faulty)
    faults += [fault for fault in plate.faults if not fault.warning]
    read = build_readings.read(given)
    written = [*_written_faults(values, table), *build_measured.faults(given), *joint.faults(flat),
               *diary.faults(flat), *size_faults(given, LINE),
               *(fault for fault in read.faults if not fault.warning)]  # fmt: skip
    faults += [fault for fault in written if not _covered(fault.path, faulty)]
    values |= {path: quantity.value for path, quantity in read.quantities.items()}
    measured = plate.quantities | read.quantities | _measured(given, values, faults)
    _mark_unusable(values, faults)
    faults += [fault for fault in inertia_rules.impossible(values) if not _covered(fault.path, faulty)]
    _place_engine(values)
    estimated = _without_refused(fill(values), document)
    values |= {path: quantity.value for path, quantity in estimated.items() if path != _STATED_TORQUE}
    core = build_parts.line(values, table.core())
    if isinstance(core, list):
        faults += core
        values = {path: value for path, value in values.items() if path != "engine.firing_order"}
        core = build_parts.line(values, table.core())
    _sum_crank(core, table, values)
    faults += _value_faults(core, values, table, {fault.path for fault in faults})
    own = {path: value for path, value in given.items() if _is_own(path, value)}
    if all(fault.warning for fault in faults):
        ranged = {path: value for path, value in own.items() if value.low < value.high}
        held, beyond = range_limits.within_limits(ranged, _states_ends(document), partial(_errors, given, values))
        own, faults = own | held, faults + beyond
    errors = tuple(fault for fault in faults if not fault.warning)
    if errors:
        return Built(values, {}, None, errors)
    quantities = own | measured | estimated
    if "engine.crank_inertia" in estimated and table.crank:
        del quantities["engine.crank_inertia"]  # summed from the table's rows
    told = [fault for fault in (*plate.faults, *read.faults) if fault.warning]
    told += [*line_rules.warnings(values, table.parts()), *inertia_rules.four_times(values, quantities)]
    return Built(values, quantities, core, (*faults, *told, *build_measured.warnings(given)), limits)


def _states_ends(document: dict[str, Any]) -> Callable[[str], bool]:
    return lambda path: "low" in get(document, path)


def _errors(given: Mapping[str, Any], values: Mapping[str, Any], ends: Mapping[str, float]) -> list[Fault]:
    """What the compiled check finds with other values in their places; estimates stay as they are."""
    written = {**_plain_values(given), **ends}
    table = build_table.read(written)  # it writes what its rows say
    tried = {**values, **written}
    core = build_parts.line(tried, table.core())
    found = core if isinstance(core, list) else _core.check(core)
    return [table.in_file(build_parts.in_file(fault, tried)) for fault in found if not fault.warning]


def given_values(document: dict[str, Any]) -> tuple[dict[str, Any], dict[str, Quantity]]:
    """What a document without faults gives, by path, for `rebuilt`; and the physical values of it with their ranges.

    The value that discs or readings make stands in the place of these, with the range that they leave it.
    Springs and points of a plate stay: what follows from them follows anew in each line.
    """
    section, _ = validated(document)
    given = _of_motion(dict(flatten(section)))
    values = _plain_values(given)
    made = build_readings.read(given).quantities | _measured(given, values, [])
    of_shaft = {path: values[path] for path in ("shaft.length", "shaft.diameter") if path in values}
    _name_unloaded(values, section)
    names = {path: value for path, value in values.items() if path not in given}
    given = {path: value for path, value in given.items() if not build_readings.is_reading(path)}
    given = names | of_shaft | given | made
    return given, {path: value for path, value in given.items() if isinstance(value, Quantity)}


def rebuilt(given: Mapping[str, Any], document: dict[str, Any], choose: Choice) -> tuple[_core.Line, dict[str, Any]]:
    """A line from other given values, without the schema: much faster. choose: value of each estimate.

    Returns the line and all its values. Nothing is checked here: ask `_core.check`.
    """
    values = _plain_values(given)
    _measured_plate(given, values, set())
    table = build_table.read(values)
    estimated = _without_refused(fill_values(values, choose), document)
    values |= {path: value for path, value in estimated.items() if path != _STATED_TORQUE}
    core = build_parts.line(values, table.core())
    _sum_crank(core, table, values)
    return core, values


def _of_motion(flat: Mapping[str, Any]) -> dict[str, Any]:
    """Without limits and rules, and without bolts and sheets: what the line does, does not depend on them."""
    return {path: value for path, value in flat.items() if not path.startswith((*_RULES, *joint.ASIDE))}


def values_of(document: dict[str, Any]) -> tuple[dict[str, Any], list[Fault]]:
    """Path -> SI value, word, whole number or list of all that a document says well, and the faults of the rest."""
    section, faults = validated(document)
    return _plain_values(dict(flatten(section))), faults


def _plain_values(given: Mapping[str, Any]) -> dict[str, Any]:
    return {path: _plain(value) for path, value in given.items()}


def _plain(value: Any) -> Any:
    return value.value if isinstance(value, Quantity) else value


def _measured_plate(given: Mapping[str, Any], values: dict[str, Any], faulty: set[str]) -> Measured:
    """Stages, play and stop that follow from springs or points are values like those of the file."""
    if not plate_measured.is_measured(given):
        return Measured()
    measured = plate_measured.read(given, faulty)
    values |= measured.values()
    if not measured.quantities:
        values.setdefault("plate.stages[0].stiffness", math.nan)  # its faults are told: no stages are missing as well
    return measured


def _name_unloaded(values: dict[str, Any], section: Any) -> None:
    """A pair of which nothing is known still has a name, so that it is seen."""
    pairs = section.gearbox.unloaded if section.gearbox else None
    for index in range(len(pairs or [])):
        values.setdefault(f"gearbox.unloaded[{index}].name", f"free pair {index + 1}")


def _measured(given: Mapping[str, Any], values: dict[str, Any], faults: list[Fault]) -> dict[str, Quantity]:
    """What discs of a flywheel and pieces of a shaft make, written into the values; nothing of a faulty part."""
    found: dict[str, Quantity] = {}
    if not any(fault.path.startswith("flywheel") for fault in faults) and (made := build_measured.inertia(given)):
        found[build_measured.INERTIA] = made
        values[build_measured.INERTIA] = made.value
    if not any(fault.path.startswith("shaft") for fault in faults):
        values.update(build_measured.shaft(given))
    return found


def _is_own(path: str, value: Any) -> bool:
    """A physical value of the line, not a reading that another one was made of."""
    return isinstance(value, Quantity) and not build_readings.is_reading(path)


def _written_faults(values: Mapping[str, Any], table: Table) -> list[Fault]:
    rules = (line_rules.missing, line_rules.together, line_rules.cylinder_count)
    of_plate = line_rules.missing_of_plate(values, table.joins("flywheel", "gearbox input"))
    return [*chain.from_iterable(rule(values) for rule in rules), *of_plate, *table.faults]


def _sum_crank(core: _core.Line, table: Table, values: dict[str, Any]) -> None:
    """The crank by the rows of a table: pistons and rods are in a maker's row on the average, here they move."""
    engine = core.engine
    summed = build_table.crank_inertia(table, _core.mean_moving_inertia(engine))
    if summed is not None:
        engine.crank_inertia = values["engine.crank_inertia"] = summed
        core.engine = engine


def _covered(path: str, faulty: set[str]) -> bool:
    """A key that is wrong, or inside a section that is wrong, is not missing as well."""
    return any(path == other or path.startswith((other + ".", other + "[")) for other in faulty)


def _mark_unusable(values: dict[str, Any], faults: list[Fault]) -> None:
    """Not-a-number where a value is wrong, so that nothing is estimated in its place."""
    for fault in faults:
        if isinstance(field_at(split(fault.path)), Physical):
            values[fault.path] = math.nan


def _place_engine(values: dict[str, Any]) -> None:
    """Where these are missing the line is refused; some engine is needed to look for its further faults."""
    values.setdefault("engine.strokes", 4)
    values.setdefault("engine.cylinders", len(values.get("engine.firing_order", ())) or 4)


def _without_refused(filled: dict[str, T], document: dict[str, Any]) -> dict[str, T]:
    """Estimates but those of parts that the document says are not there."""
    box = document.get("gearbox")
    if isinstance(box, dict) and box.get("unloaded") == []:
        return {path: value for path, value in filled.items() if not path.startswith("gearbox.unloaded")}
    return filled


def _value_faults(core: _core.Line, values: Mapping[str, Any], table: Table, known: set[str]) -> list[Fault]:
    """The compiled checks, on the keys of the file; consequences of a fault already told are left out."""
    found = [table.in_file(build_parts.in_file(fault, values)) for fault in _core.check(core)]
    if table.faults:  # rows that are not well written seem to hang on nothing
        found = [fault for fault in found if fault.rule != "is joined to nothing that the engine turns"]
    own = [fault for fault in found if not _covered(fault.path, known) and not _told_already(fault, values)]
    first_hand = [fault for fault in own if "nan" not in f"{fault.value} {fault.rule}".split()]
    return first_hand if known or any(not fault.warning for fault in first_hand) else own


def _told_already(fault: Fault, values: Mapping[str, Any]) -> bool:
    """A part that is described but for one key: line_rules names the key."""
    part = fault.warning and fault.path in ("gearbox.ahead", "shaft", "propeller")
    return bool(part and any(path.startswith(fault.path + ".") for path in values))
