"""The points of a sweep, described and not listed: each is made only as it is asked for."""

from __future__ import annotations

import json
import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache, partial
from typing import Any

import numpy as np

from calmshaft import _core
from calmshaft.axes import CONDITION_AXES, PLATE, Axis, axis_of
from calmshaft.condition import Condition, line_fault
from calmshaft.errors import LineError, all_of
from calmshaft.line import Line
from calmshaft.results import MEASURES, blank_table
from calmshaft.runs import condition_text, cylinders
from calmshaft.together import Together
from calmshaft.walks import DIRECTIONS, Walk

LINES_KEPT = 1024  # of those made from axes of the line, some 25 MB: neighbours share them
LOOKED_AT = 200  # distinct lines, or values of an axis, that are checked before the start
WAYS = "direction"  # the dimension of a sweep up and down
BESIDE = (*CONDITION_AXES, WAYS)  # axes that leave the line as it is
TAKEN = {
    *BESIDE,
    PLATE,
    "jumps",
    "order",
    *blank_table(0),
    *(measure.name for measure in MEASURES),
}  # names in the Dataset
Changes = tuple[tuple[str, Any], ...]


@dataclass(frozen=True)
class Dimension:
    """One dimension: an axis, or several whose values stand side by side."""

    name: str
    axes: tuple[Axis, ...]

    def __len__(self) -> int:
        return len(self.axes[0].values)

    @property
    def of_the_line(self) -> bool:
        return any(axis.of_the_line for axis in self.axes)


class Design:
    """size points over `dimensions` in their order, the last fastest.

    shape, dims: of the results. coords: name -> (dim, values, attributes). extra: how random points were drawn.
    walk: how neighbours along the last dimension start from each other; None where every point starts from cold.
    """

    def __init__(
        self,
        line: Line,
        dimensions: Sequence[Dimension],
        base: Condition,
        keep: str,
        extra: Mapping[str, Any] | None = None,
        walk: Walk | None = None,
    ):
        self.line, self.dimensions, self.base, self.keep = line, tuple(dimensions), base, keep
        self.extra, self.walk = dict(extra or {}), walk
        self.shape = tuple(len(one) for one in self.dimensions)
        self.size = math.prod(self.shape)
        self.dims = tuple(one.name for one in self.dimensions)
        self.axes = tuple(axis for one in self.dimensions for axis in one.axes)
        self.coords = {axis.dim: axis.coordinate(one.name) for one in self.dimensions for axis in one.axes}
        self._line = lru_cache(LINES_KEPT)(self._made)
        self._condition = lru_cache(LINES_KEPT)(lambda asked: base.with_(**dict(asked)))

    def __reduce__(self) -> tuple[Any, ...]:
        return Design, (self.line, self.dimensions, self.base, self.keep, self.extra, self.walk)

    def words(self) -> str:
        """ "14 plate.stiffness x 37 rpm x 5 misfiring = 2,590 points"."""
        parts = (f"{len(one)} " + " with ".join(axis.name for axis in one.axes) for one in self.dimensions)
        return f"{' x '.join(parts) or 'one condition'} = {self.size:,} point{'s' * (self.size != 1)}"

    def points(self, start: int, stop: int) -> tuple[list[Line], list[int], list[Condition]]:
        """Every distinct line of points start .. stop - 1 once, and for each point the line's index, the condition."""
        numbers: dict[Line, int] = {}
        index, conditions = [], []
        for values in self._values(start, stop):
            line = self._line(tuple(one for one in values if one[0] not in BESIDE))
            index.append(numbers.setdefault(line, len(numbers)))
            conditions.append(self._condition(tuple(one for one in values if one[0] in CONDITION_AXES)))
        return list(numbers), index, conditions

    def check(self) -> None:
        """Raises LineError with every fault of a line that cannot be made or a condition that does not fit.

        Looks at every distinct line where they are few, else at each axis by itself, the others at their first value.
        """
        faults: dict[str, _core.Fault] = {}
        for point in sorted(self._looks()):
            try:
                (line,), _, (at,) = self.points(point, point + 1)
                found: Iterable[_core.Fault] = _core.check(line.core, at.core(cylinders(line)))
            except LineError as error:
                found = error.faults
            for fault in found:
                if not fault.warning:
                    faults.setdefault(f"{fault.path} {fault.value}", fault)
        if faults:
            from calmshaft.faults import line_error  # the schema takes longer to load than the rest

            raise line_error(faults.values())

    def attributes(self) -> dict[str, Any]:
        """What a Dataset keeps of it."""
        stiffness_varied = any(axis.name == "plate.stiffness" for axis in self.axes)
        plates = self.plates()
        return {
            "title": self.line.title,
            "condition": condition_text(self.base),
            "calmshaft_version": _core.__version__,
            "line": json.dumps(self.line.document, sort_keys=True),
            **({"plate_stiffness_keeps": self.keep} if stiffness_varied else {}),
            **({"plates": json.dumps(plates, sort_keys=True)} if plates else {}),
            **self.extra,
            **({"start": self.started()} if self.walk else {}),
        }

    def started(self) -> str:
        """ "cold", or along which axis each point starts from its neighbour's end."""
        if self.walk is None:
            return "cold"
        return f"each point from the end of its neighbour along {self.axes[-1].name}, {self.walk.direction}"

    def plates(self) -> dict[str, Any]:
        """The plates that are swapped, by label."""
        return {label: plate for axis in self.axes for label, plate in (axis.plates or {}).items()}

    def _made(self, changes: Changes) -> Line:
        asked = dict(changes)
        line = self.line
        if PLATE in asked:
            line = line.with_plate(self.plates()[asked.pop(PLATE)])
        return line.replace(asked, keep=self.keep) if asked else line

    def _values(self, start: int, stop: int) -> Iterable[Changes]:
        """Name and value of every axis, point by point."""
        if not self.dimensions:
            return [()] * (stop - start)
        places = np.unravel_index(np.arange(start, stop), self.shape)
        columns = [
            [(axis.name, axis.values[place]) for place in column.tolist()]
            for one, column in zip(self.dimensions, places, strict=True)
            for axis in one.axes
        ]
        return zip(*columns, strict=True)

    def _looks(self) -> set[int]:
        strides = [math.prod(self.shape[place + 1 :]) for place in range(len(self.shape))]
        of_the_line = [place for place, one in enumerate(self.dimensions) if one.of_the_line]
        looked = {0}
        if math.prod(self.shape[place] for place in of_the_line) <= LOOKED_AT:
            for place in of_the_line:
                steps = range(0, self.shape[place] * strides[place], strides[place])
                looked = {point + step for point in looked for step in steps}
        for count, stride in zip(self.shape, strides, strict=True):
            looked |= {int(value) * stride for value in np.linspace(0, count - 1, min(count, LOOKED_AT))}
        return looked


def design_of(line: Line, axes: Mapping[str, Any] | Together, at: Condition | None = None, keep: str = "stop torque",
              direction: str | None = None, along: str = "rpm") -> Design:  # fmt: skip
    """The design of a sweep: the product of axes, of which a `Together` is several on one dimension.

    With a direction the dimension of `along` comes last; "both" puts a dimension `direction` before it.

    Raises LineError with the faults of all axes.
    """
    given = {"point": axes} if isinstance(axes, Together) else axes
    dimensions = all_of(*(partial(_dimension, name, values, line) for name, values in given.items()))
    walk = None
    if direction is not None:
        dimensions, walk = _walked(dimensions, direction, along)
    design = Design(line, dimensions, at or _first(dimensions), keep, _extra(given), walk)
    names = [axis.name for axis in design.axes]
    if twice := [name for name in dict.fromkeys(names) if names.count(name) > 1]:
        raise line_fault("axes", ", ".join(twice), "varies on two dimensions", "name each axis once")
    return design


def _walked(dimensions: list[Dimension], direction: str, along: str) -> tuple[list[Dimension], Walk]:
    """The dimensions with the one that is walked at the end. Raises LineError where it is none of rising numbers."""
    if direction not in DIRECTIONS:
        raise line_fault("direction", direction, "is no way to walk", f"write {', '.join(DIRECTIONS)}")
    walked = [one for one in dimensions if [axis.name for axis in one.axes] == [along]]
    if not walked:
        names = [axis.name for one in dimensions for axis in one.axes if len(one.axes) == 1]
        raise line_fault("along", along, "is no axis by itself here", f"write one of {', '.join(names)}")
    shown = walked[0].axes[0].shown
    if shown.dtype.kind not in "fi" or not np.all(np.diff(shown) > 0):
        raise line_fault(f"axis {along}", "not rising", "a walk goes along rising numbers", "sort the values")
    others = [one for one in dimensions if one is not walked[0]]
    if direction == "both":
        others.append(Dimension(WAYS, (Axis(WAYS, ("up", "down"), np.array(["up", "down"]), None),)))
    return [*others, walked[0]], Walk(direction, len(walked[0]))


def _extra(given: Mapping[str, Any]) -> dict[str, Any]:
    return {key: value for one in given.values() if isinstance(one, Together) for key, value in one.about.items()}


def _dimension(name: str, values: Any, line: Line) -> Dimension:
    if not isinstance(values, Together):
        axis = axis_of(name, values, line)
        return Dimension(axis.dim, (axis,))
    if name in TAKEN or not name.isidentifier():
        raise line_fault("dimension", name, "cannot be its name", 'write for instance "pair" or "point"')
    made = all_of(*(partial(axis_of, one, some, line, may_repeat=True) for one, some in values.axes.items()))
    counts = ", ".join(f"{len(axis.values)} of {axis.name}" for axis in made)
    if len({len(axis.values) for axis in made}) != 1:
        raise line_fault(name, counts, "axes side by side have as many values each", "give them one length")
    rows = list(zip(*(axis.values for axis in made), strict=True))
    if not values.may_repeat and len(set(rows)) < len(rows):
        twice = next(row for row in rows if rows.count(row) > 1)
        raise line_fault(name, ", ".join(map(str, twice)), "stands in it twice", "list each point once")
    return Dimension(name, tuple(made))


def _first(dimensions: Sequence[Dimension]) -> Condition:
    """A condition at the first speed, where an axis is of speed."""
    for one in dimensions:
        for axis in one.axes:
            if axis.name == "rpm":
                return Condition(rpm=float(axis.values[0]))
    raise line_fault("rpm", "missing", "a sweep needs the crank speed", "give an rpm axis, or at=Condition(rpm=...)")
