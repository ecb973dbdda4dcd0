"""Axes of a sweep: what is varied, in the unit it was given in."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sized
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Any

import numpy as np

from calmshaft import _core, units
from calmshaft.condition import Condition, line_fault
from calmshaft.errors import all_of
from calmshaft.line import Line, load_plate
from calmshaft.runs import cylinders
from calmshaft.schema_examples import fitting
from calmshaft.unit_grammar import GrammarError, split_value

CONDITION_AXES = ("rpm", "misfiring", "gear", "load", "fuelling")
PLATE = "plate"  # whole plates by their labels
MOST_VALUES = 1_000_000  # of one axis, which is kept as a list
SHOWN = 5  # repeated values that a message names


@dataclass(frozen=True)
class Axis:
    """One swept axis: values as a line or condition takes them, and as the Dataset shows them.

    plates: the plate of each label, where whole plates are swapped.
    """

    name: str
    values: tuple[Any, ...]
    shown: np.ndarray
    unit: str | None
    plates: Mapping[str, Mapping[str, Any]] | None = None

    @property
    def dim(self) -> str:
        return self.name.replace(".", "_").replace("[", "_").replace("]", "")

    @property
    def of_the_line(self) -> bool:
        return self.name not in (*CONDITION_AXES, "direction")

    def coordinate(self, dim: str) -> tuple[str, np.ndarray, dict[str, str]]:
        """As a coordinate of an xarray.Dataset along a dimension."""
        about = {"long_name": self.name}
        return (dim, self.shown, {**about, "units": self.unit} if self.unit else about)


def axis_of(name: str, values: Any, line: Line, *, may_repeat: bool = False) -> Axis:
    """An axis from what the caller wrote: values, or (values, unit); plates by name or as {label: plate}.

    Raises LineError for a name that cannot vary, no values, NaN, doubles, or a missing unit.
    """
    refuse_long(name, len(values) if isinstance(values, Sized) else 1)
    if name == PLATE:
        axis = _plate_axis(values)
    else:
        values, unit = _with_unit(values)
        listed = _filled(name, _listed(values))
        on_condition = name in CONDITION_AXES
        axis = _condition_axis(name, listed, unit, line) if on_condition else _line_axis(name, listed, unit, line)
    if not may_repeat:
        _refuse_doubles(name, axis.shown.tolist())
    return axis


def refuse_long(name: str, count: int) -> None:
    """Raises LineError for more values than one axis can have."""
    if count > MOST_VALUES:
        rule = f"an axis has at most {MOST_VALUES:,}"
        raise line_fault(f"axis {name}", f"{count:,} values", rule, "take fewer values")


def _with_unit(values: Any) -> tuple[Any, str | None]:
    pair = isinstance(values, tuple) and len(values) == 2 and isinstance(values[1], str)
    return values if pair and not isinstance(values[0], str) else (values, None)


def _listed(values: Any) -> list[Any]:
    """The values one by one; one value alone, such as a text or a single misfiring case, is a list of one."""
    alone = isinstance(values, str | Path | Mapping) or not isinstance(values, Iterable)
    return [values] if alone else list(values)


def _filled(name: str, listed: list[Any]) -> list[Any]:
    if not listed:
        raise line_fault(f"axis {name}", "no values", "an axis needs at least one value", "list what is to vary")
    return listed


def _refuse_doubles(name: str, values: list[Any]) -> None:
    seen: set[Any] = set()
    twice = {value: None for value in values if value in seen or seen.add(value)}
    if twice:
        shown = ", ".join(f"{value:g}" if isinstance(value, float) else value for value in list(twice)[:SHOWN])
        more = f" and {len(twice) - SHOWN} more" if len(twice) > SHOWN else ""
        raise line_fault(f"axis {name}", shown + more, "stands in it twice", "list each value once")


def _condition_axis(name: str, listed: list[Any], unit: str | None, line: Line) -> Axis:
    if name == "rpm":
        if unit not in (None, "rpm", "1/min"):
            raise line_fault("axis rpm", unit, "the speed is in rpm", 'leave the unit out, or write "rpm"')
        numbers = _numbers(name, listed)
        return Axis(name, tuple(numbers.tolist()), numbers, "rpm")
    if name == "load" and unit:
        numbers = _numbers(name, listed)
        return Axis(name, tuple(f"{number!r} {unit}" for number in numbers.tolist()), numbers, unit)
    if unit:
        raise line_fault(f"axis {name}", unit, "has no unit", "leave the unit out")
    labels = all_of(*(partial(_label, name, value, cylinders(line)) for value in listed))
    return Axis(name, tuple(labels), np.array(labels, dtype=str), None)


def _label(name: str, value: Any, count: int) -> str:
    """A word of a condition, or its misfiring label, that fits an engine of so many cylinders."""
    at = Condition(1.0, **{name: value if name == "misfiring" else str(value)})
    at.strengths(count)
    return str(getattr(at, name))


def _plate_axis(values: Any) -> Axis:
    """Plates as {label: plate}, as names of files, or as (labels, {label: plate}) where labels repeat."""
    if isinstance(values, tuple) and len(values) == 2 and isinstance(values[1], Mapping):
        labels, among = values
    elif isinstance(values, Mapping):
        labels, among = list(values), values
    else:
        named = _listed(values)
        if any(not isinstance(one, str | Path) for one in named):
            advice = 'write {"soft": plate, ...}, or names of plate files'
            raise line_fault("axis plate", "a plate in a list", "has no label", advice)
        labels, among = [Path(one).stem for one in named], {Path(one).stem: one for one in named}
    labels = _filled(PLATE, [str(label) for label in labels])
    loaded = all_of(*(partial(_plate, label, plate) for label, plate in among.items()))
    plates = dict(zip(map(str, among), loaded, strict=True))
    return Axis(PLATE, tuple(labels), np.array(labels, dtype=str), None, plates)


def _plate(label: Any, plate: Any) -> dict[str, Any]:
    if isinstance(plate, str | Path):
        return load_plate(plate)
    if not isinstance(plate, Mapping):
        advice = 'write {"soft": plate, ...}, or names of plate files'
        raise line_fault("axis plate", label, "a plate is the dict of its [plate] or a file", advice)
    return dict(plate)


def _numbers(name: str, listed: list[Any]) -> np.ndarray:
    try:
        numbers = np.array([float(value) for value in listed])
    except (TypeError, ValueError):
        shown = ", ".join(str(value) for value in listed[:SHOWN])
        raise line_fault(f"axis {name}", shown, "must be numbers", "write for instance [800, 1200]") from None
    if not np.isfinite(numbers).all():
        place = int(np.flatnonzero(~np.isfinite(numbers))[0]) + 1
        rule = f"every value must be finite, and number {place} of {numbers.size} is not"
        raise line_fault(f"axis {name}", str(numbers[place - 1]), rule, "leave the empty value out")
    return numbers


def _line_axis(name: str, listed: list[Any], unit: str | None, line: Line) -> Axis:
    paths = line.paths()
    if name not in paths:
        near = _core.near_matches(name, [*paths, *CONDITION_AXES, PLATE])
        advice = f"did you mean {near[0]}?" if near else "see `calmshaft schema` for the names"
        raise line_fault("axis", name, "is not a name of the line or the condition", advice)
    if all(isinstance(value, str) for value in listed):
        return _written_axis(name, listed)
    numbers = _numbers(name, listed)
    written = tuple(f"{number!r} {unit}" for number in numbers.tolist()) if unit else tuple(numbers.tolist())
    return Axis(name, written, numbers, unit)


def _written_axis(name: str, listed: list[str]) -> Axis:
    """Values with a unit each; shown as numbers, in the first one's unit."""
    from calmshaft.schema_paths import kind_at  # the schema takes longer to load than the rest

    kind = kind_at(name) or "torsional stiffness"  # plate.stiffness is no key of its own
    values = all_of(*(partial(_parsed, name, text, kind) for text in listed))
    try:
        parts = [split_value(text) for text in listed]
    except GrammarError:  # a flywheel effect and the like: written as a label
        parts = []
    unit = parts[0][1] if parts else ""
    if not unit:
        return Axis(name, tuple(listed), np.array(listed, dtype=str), None)
    if len({own for _, own in parts}) == 1:
        return Axis(name, tuple(listed), np.array([number for number, _ in parts]), unit)
    shown = np.array([units.express(value, unit, kind) for value in values])
    return Axis(name, tuple(listed), shown, unit)


def _parsed(name: str, text: str, kind: str) -> float:
    try:
        return units.parse(text, kind)
    except units.UnitError as error:
        raise line_fault(f"axis {name}", text, error.rule, fitting(error.advice, name, kind)) from None
