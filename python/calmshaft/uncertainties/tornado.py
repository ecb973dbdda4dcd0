"""One value at a time at the low and at the high end of its range: which one moves the answer most."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from calmshaft.condition import Condition
from calmshaft.line import Line
from calmshaft.quantity import Quantity
from calmshaft.uncertainties.cases import STATUS_WORDS, UNSOLVED, Family, check_condition, check_measure, steady_of
from calmshaft.uncertainties.ranges import in_shop, measurable


@dataclass(frozen=True)
class Swing:
    """What one value's range does to an answer [SI]; NaN with a status where an end could not be solved.

    start: the answer with all values as they stand; at_low, at_high: with this one at an end of its range.
    """

    path: str
    quantity: Quantity
    start: float
    at_low: float
    at_high: float
    status_low: str
    status_high: str

    @property
    def width(self) -> float:
        """From the least to the greatest of the three answers [SI]: near a resonance both ends may lie on one side."""
        found = [one for one in (self.start, self.at_low, self.at_high) if np.isfinite(one)]
        return max(found) - min(found) if found else 0.0


@dataclass(frozen=True)
class Tornado:
    """Swings of a measure, the widest first. start: the answer with all values as they stand [SI]."""

    line: Line
    at: Condition
    measure: str
    start: float
    swings: tuple[Swing, ...] = field(repr=False)

    def measure_next(self, before_assembly: bool = False) -> Swing | None:
        """The widest swing of a value that a workshop can measure; None where no such value moves the answer.

        before_assembly: of those alone that need neither the engine running nor the boat afloat.
        """
        can_be = in_shop if before_assembly else measurable
        return next((one for one in self.swings if one.width > 0 and can_be(one.path, one.quantity)), None)

    def unsolved(self) -> list[Swing]:
        """Swings with an end where the line stalls, cannot be, or the numbers fail."""
        return [one for one in self.swings if {one.status_low, one.status_high} & set(UNSOLVED)]


def usual_measure(at: Condition) -> str:
    """What the teeth feel: vibratory torque in gear, ripple in the free pair in neutral."""
    return "unloaded_mesh_torque_ripple" if at.gear == "neutral" else "mesh_torque_vibratory"


def tornado(line: Line, at: Condition, measure: str | None = None, *, threads: int = 0) -> Tornado:
    """The measure with each uncertain value at both ends of its range, the others as they stand.

    Estimates that lean on the value follow it. Values that a steady condition does not ask for are left out.
    measure: a name of calmshaft.results.MEASURES; what the teeth feel where not given. Raises LineError.
    """
    name = check_measure(measure or usual_measure(at))
    check_condition(line, at)
    family = Family(line)
    felt = family.felt()
    ends = [family.member({path: end})[0] for path in felt for end in (0.0, 1.0)]
    found = steady_of([family.member({})[0], *ends], [at], threads)
    answers, statuses = found.of(name)[:, 0], [STATUS_WORDS[status] for status in found.status[:, 0]]
    swings = [
        Swing(path, family.ranges[path], float(answers[0]), *answers[place : place + 2], *statuses[place : place + 2])
        for path, place in zip(felt, range(1, len(answers), 2), strict=True)
    ]
    return Tornado(line, at, name, float(answers[0]), tuple(_widest_first(swings)))


def _widest_first(swings: Sequence[Swing]) -> list[Swing]:
    return sorted(swings, key=lambda swing: -swing.width)
