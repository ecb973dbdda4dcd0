"""Other lines inside the ranges of one line, built without its schema, and their steady states.

Estimates that lean on an earlier one follow it: a case with a larger gearbox has larger wheels, and each estimate's own
range is laid around what its rule says in that case.
"""

from __future__ import annotations

import os
import pickle
from collections.abc import Callable, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from typing import Any

import numpy as np

from calmshaft import _core
from calmshaft.build_line import given_values, rebuilt
from calmshaft.condition import Condition
from calmshaft.errors import LineError
from calmshaft.estimates import Spread
from calmshaft.line import Line
from calmshaft.quantity import Quantity
from calmshaft.results import MEASURES, STATUS
from calmshaft.runs import cylinders
from calmshaft.uncertainties.ranges import spread_of, uncertain, value_at

REFUSED = len(STATUS)  # status of a case whose values make no line
STATUS_WORDS = (*STATUS, "refused")
UNSOLVED = ("stalled", "failed", "refused")
_TOO_COARSE = (STATUS.index("stalled"), STATUS.index("failed"))
CHUNK = 250  # cases worked out at a time: their engine cycles take memory
FINE = 0.3  # [rad] most that the highest mode turns in a step, for cases that have no answer with the usual steps
COLUMN = {measure.name: column for column, measure in enumerate(MEASURES)}

Report = Callable[[int], None]


class Family:
    """All lines inside the ranges of one."""

    def __init__(self, line: Line) -> None:
        self.line = line
        self.ranges = uncertain(line)
        self._document = line.document
        self._given, written = given_values(self._document)
        self._written: dict[str, Spread] = {
            path: spread_of(one) for path, one in self.ranges.items() if path in written
        }

    def member(self, shares: Mapping[str, float]) -> tuple[_core.Line, dict[str, Any]]:
        """The line with some values at these shares of their ranges (0 low, 1 high), the others as they are."""
        given = self._given | {
            path: value_at(shares[path], path, spread) for path, spread in self._written.items() if path in shares
        }

        def choose(path: str, spread: Spread) -> float:
            return value_at(shares[path], path, spread) if path in shares and spread[1] < spread[2] else spread[0]

        return rebuilt(given, self._document, choose)

    def felt(self) -> dict[str, Quantity]:
        """The uncertain values that a steady condition can depend on: those that change the line at either end."""
        base = _bits(self.member({})[0])
        ends = {path: [_bits(self.member({path: end})[0]) for end in (0.0, 1.0)] for path in self.ranges}
        return {path: self.ranges[path] for path, both in ends.items() if any(one != base for one in both)}


@dataclass(frozen=True)
class Steady:
    """Steady states by (case, condition): status (see STATUS_WORDS), and values (case, condition, measure) [SI]."""

    status: np.ndarray
    values: np.ndarray

    def of(self, measure: str) -> np.ndarray:
        """One measure by (case, condition); the mean over cycles where the motion does not repeat."""
        return self.values[..., COLUMN[measure]]


def steady_of(
    lines: Sequence[_core.Line], conditions: Sequence[Condition], threads: int = 0, report: Report | None = None
) -> Steady:
    """Every line at every condition. A line that cannot be, or cannot be asked this, is refused, not raised.

    A case that has no answer with the usual steps is solved again with fine ones.
    """
    status = np.full((len(lines), len(conditions)), REFUSED, dtype=np.int8)
    values = np.full((*status.shape, len(MEASURES)), np.nan)
    for start in range(0, len(lines), CHUNK):
        part = range(start, min(start + CHUNK, len(lines)))
        _solve(lines, part, conditions, threads, 0.0, status, values)
        again = [i for i in part if np.isin(status[i], _TOO_COARSE).any()]
        _solve(lines, again, conditions, threads, FINE, status, values)
        if report:
            report(min(start + CHUNK, len(lines)))
    return Steady(status, values)


def _solve(
    lines: Sequence[_core.Line], part: Sequence[int], conditions: Sequence[Condition], threads: int,
    phase_step: float, status: np.ndarray, values: np.ndarray,
) -> None:  # fmt: skip
    asked = [condition.core(len(lines[0].engine.firing_angles)) for condition in conditions]
    points = [(i, j) for i in part for j, core in enumerate(asked) if _can_be(lines[i], core)]
    wanted = list(dict.fromkeys(i for i, _ in points))
    with ThreadPoolExecutor(threads or os.cpu_count()) as pool:
        prepared = zip(wanted, pool.map(prepared_if_possible, (lines[i] for i in wanted)), strict=True)
        ready_of = {i: line for i, line in prepared if line is not None}
    points = [(i, j) for i, j in points if i in ready_of]
    if not points:
        return
    ready, used = list(ready_of.values()), {i: place for place, i in enumerate(ready_of)}
    table = _core.sweep(
        ready, [used[i] for i, _ in points], [asked[j] for _, j in points], threads, 0, None, phase_step
    )
    if table.get("interrupted"):
        raise KeyboardInterrupt
    at = tuple(np.transpose(points))
    status[at] = table["status"]
    values[at] = np.where(np.isnan(table["value"]), table["mean"], table["value"])


def prepared_if_possible(line: _core.Line) -> _core.PreparedLine | None:
    """Ready to be solved; None where only its engine cycle shows that it cannot be: a dead cylinder would drive."""
    try:
        return _core.PreparedLine(line)
    except LineError:
        return None


def _bits(line: _core.Line) -> bytes:
    """To compare bit by bit: a part that is not there is not-a-number, which equals nothing."""
    return pickle.dumps(line)


def _can_be(line: _core.Line, condition: _core.Condition) -> bool:
    faults = [*_core.check(line), *_core.check(line, condition)]
    return all(fault.warning for fault in faults)


def check_condition(line: Line, at: Condition) -> None:
    """Raises LineError where the line as it stands cannot be asked this."""
    from calmshaft.faults import line_error

    faults = [fault for fault in _core.check(line.core, at.core(cylinders(line))) if not fault.warning]
    if faults:
        raise line_error(faults)


def check_measure(measure: str) -> str:
    """The name itself. Raises LineError with near matches where no measure is called so."""
    from calmshaft.condition import line_fault

    if measure not in COLUMN:
        near = _core.near_matches(measure, list(COLUMN))
        advice = f"did you mean {' or '.join(near)}?" if near else f"it is one of {', '.join(COLUMN)}"
        raise line_fault("measure", measure, "is not a measure", advice)
    return measure
