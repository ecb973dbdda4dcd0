"""Axes of a sweep: what is varied, in the unit it was given in."""

from __future__ import annotations

from collections.abc import Sized
from dataclasses import dataclass
from typing import Any

import numpy as np

from calmshaft import _core
from calmshaft.condition import line_fault, misfiring_label
from calmshaft.line import Line

CONDITION_AXES = ("rpm", "misfiring", "gear", "load", "fuelling")
MOST_VALUES = 1_000_000  # of one axis, which is kept as a list


@dataclass(frozen=True)
class Axis:
    """One swept axis: values as a line or condition takes them, and as the Dataset shows them."""

    name: str
    values: tuple[Any, ...]
    shown: np.ndarray
    unit: str | None

    @property
    def dim(self) -> str:
        return self.name.replace(".", "_").replace("[", "_").replace("]", "")

    def coordinate(self) -> tuple[str, np.ndarray, dict[str, str]]:
        about = {"long_name": self.name}
        return (self.dim, self.shown, {**about, "units": self.unit} if self.unit else about)


def axis_of(name: str, values: Any, line: Line) -> Axis:
    """An axis from what the caller wrote: values, or (values, unit).

    Raises LineError for a name that cannot vary, no values, NaN, doubles, or a missing unit.
    """
    unit = None
    if (
        isinstance(values, tuple)
        and len(values) == 2
        and isinstance(values[1], str)
        and not isinstance(values[0], str)
    ):
        values, unit = values
    refuse_long(name, len(values) if isinstance(values, Sized) else 1)
    listed = list(np.atleast_1d(np.asarray(values, dtype=object)))
    if not listed:
        raise line_fault(
            f"axis {name}", "no values", "an axis needs at least one value", "list what is to vary"
        )
    axis = _condition_axis(name, listed, unit) if name in CONDITION_AXES else _line_axis(name, listed, unit, line)
    if len({str(value) for value in axis.values}) < len(axis.values):
        raise line_fault(f"axis {name}", "a value twice", "values of an axis differ", "list each value once")
    return axis


def refuse_long(name: str, count: int) -> None:
    """Raises LineError for more values than one axis can have."""
    if count > MOST_VALUES:
        rule = f"an axis has at most {MOST_VALUES:,}"
        raise line_fault(f"axis {name}", f"{count:,} values", rule, "take fewer values")


def _condition_axis(name: str, listed: list[Any], unit: str | None) -> Axis:
    if name == "rpm":
        numbers = _numbers(name, listed)
        if not np.isfinite(numbers).all():
            raise line_fault(
                "axis rpm", "not a number", "every speed must be finite", "leave the empty value out"
            )
        return Axis(name, tuple(numbers.tolist()), numbers, unit or "rpm")
    labels = [misfiring_label(value) for value in listed] if name == "misfiring" else [str(v) for v in listed]
    return Axis(name, tuple(labels), np.array(labels, dtype=str), None)


def _numbers(name: str, listed: list[Any]) -> np.ndarray:
    try:
        return np.array([float(value) for value in listed])
    except (TypeError, ValueError):
        raise line_fault(f"axis {name}", listed, "must be numbers", "write for instance [800, 1200]") from None


def _line_axis(name: str, listed: list[Any], unit: str | None, line: Line) -> Axis:
    if name not in line.paths():
        near = _core.near_matches(name, [*line.paths(), *CONDITION_AXES])
        advice = f"did you mean {near[0]}?" if near else "see `calmshaft schema` for the names"
        raise line_fault("axis", name, "is not a name of the line or the condition", advice)
    if all(isinstance(value, str) for value in listed):
        return Axis(name, tuple(listed), np.array(listed, dtype=str), None)
    numbers = _numbers(name, listed)
    if not np.isfinite(numbers).all():
        raise line_fault(
            f"axis {name}", "not a number", "every value must be finite", "leave the empty value out"
        )
    written = tuple(f"{number!r} {unit}" for number in numbers.tolist()) if unit else tuple(numbers.tolist())
    return Axis(name, written, numbers, unit)
