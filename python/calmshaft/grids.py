"""The product of some axes, its points made only as they are asked for."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache
from typing import Any

import numpy as np

from calmshaft.axes import CONDITION_AXES, Axis
from calmshaft.condition import Condition
from calmshaft.line import Line

LINES_KEPT = 1024  # of those made from an axis of the line, some 25 MB: neighbours share them


class Grid:
    """Points in the order of the axes, the last fastest."""

    def __init__(self, line: Line, axes: Sequence[Axis], base: Condition, keep: str):
        self.axes = tuple(axes)
        self.shape = tuple(len(axis.values) for axis in axes)
        self.size = math.prod(self.shape)
        self.dims = tuple(axis.dim for axis in axes)
        self.coords = {axis.dim: axis.coordinate() for axis in axes}
        self._line = lru_cache(LINES_KEPT)(lambda changes: line.replace(dict(changes), keep=keep) if changes else line)
        self._condition = lru_cache(LINES_KEPT)(lambda asked: base.with_(**dict(asked)))

    def points(self, start: int, stop: int) -> tuple[list[Line], list[int], list[Condition]]:
        """Every distinct line of points start .. stop - 1 once, and for each point the line's index, the condition."""
        numbers: dict[Line, int] = {}
        index, conditions = [], []
        places = np.unravel_index(np.arange(start, stop), self.shape) if self.shape else ()
        for point in zip(*places, strict=True) if places else [()] * (stop - start):
            values = [(axis.name, axis.values[place]) for axis, place in zip(self.axes, point, strict=True)]
            index.append(numbers.setdefault(self._line(_of_the_line(values)), len(numbers)))
            conditions.append(self._condition(tuple(one for one in values if one[0] in CONDITION_AXES)))
        return list(numbers), index, conditions


def _of_the_line(values: list[tuple[str, Any]]) -> tuple[tuple[str, Any], ...]:
    return tuple(one for one in values if one[0] not in CONDITION_AXES)
