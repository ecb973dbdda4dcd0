"""The axes of `sweep --vary`: "plate.stiffness = 8 to 60 N*m/deg, 14 values", "misfiring = none, 1, 2"."""

from __future__ import annotations

import re
from functools import partial
from typing import Any

import numpy as np

from calmshaft import _core
from calmshaft.axes import CONDITION_AXES, PLATE, refuse_long
from calmshaft.commands.common import all_of
from calmshaft.condition import line_fault
from calmshaft.together import zipped

_NUMBER = r"[-+]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][-+]?\d+)?"
_RANGE = re.compile(rf"({_NUMBER})\s+to\s+({_NUMBER})\s*([^,]*),\s*(\d+)\s+values?")
_ENDS = re.compile(rf"({_NUMBER})\s*(?:\bto\b|:|\.\.+|-)\s*({_NUMBER})(?::{_NUMBER})?([^,]*)")
_ENDS_IN_UNIT = re.compile(rf"({_NUMBER})\s*(.*)")
_WORDS = ("misfiring", "gear", "load", "fuelling", PLATE)


def axes_of(varied: list[str]) -> dict[str, Any]:
    """Axes as cs.sweep takes them. Raises LineError where one cannot be read or is named twice."""
    named = all_of(*(partial(_axis, text) for text in varied))
    names = [name for name, _ in named]
    twice = sorted({name for name in names if names.count(name) > 1})
    if twice:
        raise line_fault("--vary", twice[0], "is named twice", "give each axis once")
    return dict(named)


def side_by_side(axes: dict[str, Any], together: list[str]) -> dict[str, Any]:
    """The axes with those of each text, "rpm, misfiring", on one dimension: their first values are one point.

    Raises LineError for a name that is not varied, stands alone or stands in two texts.
    """
    groups = [[name.strip() for name in text.split(",")] for text in together]
    all_of(*(partial(_refuse_group, group, axes) for group in groups))
    named = [name for group in groups for name in group]
    if twice := sorted({name for name in named if named.count(name) > 1}):
        raise line_fault("--together", twice[0], "is named twice", "set each axis beside others once")
    apart = {name: values for name, values in axes.items() if name not in named}
    dimensions = {f"point_{number}" if number > 1 else "point": group for number, group in enumerate(groups, start=1)}
    return apart | {name: zipped({one: axes[one] for one in group}) for name, group in dimensions.items()}


def _refuse_group(group: list[str], axes: dict[str, Any]) -> None:
    for name in group:
        if name not in axes:
            near = _core.near_matches(name, list(axes))
            advice = f"did you mean {near[0]}?" if near else f"write some of {', '.join(axes)}"
            raise line_fault("--together", name, "is not varied", advice)
    if len(group) < 2:
        raise line_fault("--together", group[0], "stands alone", 'name two axes or more, for instance "rpm, misfiring"')


def _axis(text: str) -> tuple[str, Any]:
    name, equals, values = (part.strip() for part in text.partition("="))
    if not equals or not values:
        advice = 'write for instance "rpm = 600 to 2400, 37 values"'
        raise line_fault("--vary", text, "needs a name and its values", advice)
    return name, _values(name, values)


def _values(name: str, text: str) -> Any:
    if name in _WORDS:
        return [word.strip() for word in text.split(",")]
    spread = _RANGE.fullmatch(text)
    if spread:
        return _with_unit(name, _spaced(name, spread), spread[3].strip())
    if ends := _ENDS.match(text):
        unit = f" {ends[3].strip()}" if ends[3].strip() else ""
        advice = f'write how many: "{name} = {ends[1]} to {ends[2]}{unit}, 14 values"'
        raise line_fault(f"axis {name}", text, "is a range without a number of values", advice)
    parts = [part.strip() for part in text.split(",")]
    *numbers, last = parts
    ending = _ENDS_IN_UNIT.fullmatch(last)
    if ending and all(re.fullmatch(_NUMBER, part) for part in numbers):
        return _with_unit(name, [float(part) for part in [*numbers, ending[1]]], ending[2].strip())
    if name in CONDITION_AXES:
        raise line_fault(f"axis {name}", text, "must be numbers", f'write "{name} = 600 to 2400, 37 values" or a list')
    return parts


def _spaced(name: str, spread: re.Match[str]) -> list[float]:
    count = int(spread[4])
    if count < 2:
        raise line_fault(f"axis {name}", count, "from .. to needs 2 values or more", "ask for more, or list the values")
    refuse_long(name, count)
    return np.linspace(float(spread[1]), float(spread[2]), count).tolist()


def _with_unit(name: str, numbers: list[float], unit: str) -> Any:
    if name == "rpm" and unit in ("", "rpm"):
        return numbers
    return (numbers, unit) if unit else numbers
