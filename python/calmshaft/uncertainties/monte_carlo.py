"""Many plausible lines inside the ranges of one: answers as bands, cases past a limit, what to measure next."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from calmshaft.condition import Condition, line_fault
from calmshaft.line import Line
from calmshaft.quantity import Quantity
from calmshaft.results import MEASURES
from calmshaft.uncertainties.asked import FEWEST, Limit, check_numbers, limit_of, measures_and_limits, usual_limits
from calmshaft.uncertainties.bands import Band, PastLimit, band_of, past_limit
from calmshaft.uncertainties.cases import (
    COLUMN,
    STATUS_WORDS,
    UNSOLVED,
    Family,
    Report,
    check_condition,
    check_measure,
    steady_of,
)
from calmshaft.uncertainties.draws import drawn
from calmshaft.uncertainties.influence import Influence, influence
from calmshaft.uncertainties.ranges import how_to_measure, in_shop, measurable

_UNSOLVED = [STATUS_WORDS.index(word) for word in UNSOLVED]
WORTH = 0.95  # [-] of the band, at the most, must be left for a measurement to be worth its trouble; ours


@dataclass(frozen=True, slots=True)
class MeasureNext:
    """The value that a workshop can measure and whose range widens the answer most.

    now and remaining: width of the answer's band [SI], as it is and if the value were known to `part` [-] of its range.
    """

    path: str
    quantity: Quantity
    measure: str
    now: float
    remaining: float
    part: float
    how_to_measure: str


@dataclass(frozen=True)
class Uncertainty:
    """Steady states of plausible cases, half of each value's draws to either side of it (see value_at).

    measures: the ones asked for, the first before all. limits: [SI] by measure. inputs: the values that were drawn and
    that the condition asks for. shares (case, input): where in its range, 0 low, 1 high. status (case,): see
    STATUS_WORDS. values (case, measure) and start (measure,) [SI], in the order of calmshaft.results.MEASURES; start is
    the line as it stands, NaN where that is not solved.
    """

    line: Line
    at: Condition
    method: str
    seed: int
    measures: tuple[str, ...]
    limits: Mapping[str, float]
    inputs: Mapping[str, Quantity] = field(repr=False)
    shares: np.ndarray = field(repr=False)
    status: np.ndarray = field(repr=False)
    values: np.ndarray = field(repr=False)
    start: np.ndarray = field(repr=False)

    @property
    def cases(self) -> int:
        """How many were drawn."""
        return len(self.status)

    def solved(self, measure: str | None = None) -> np.ndarray:
        """Which cases have an answer of a measure, (case,)."""
        return ~np.isin(self.status, _UNSOLVED) & np.isfinite(self.of(measure))

    def unsolved(self) -> dict[str, int]:
        """How many cases stalled, failed, or make no line ("refused")."""
        counts = Counter(STATUS_WORDS[code] for code in self.status)
        return {word: counts[word] for word in UNSOLVED if counts[word]}

    def of(self, measure: str | None = None) -> np.ndarray:
        """The answers of one measure [SI], (case,), NaN where unsolved; the first measure asked for where not named."""
        return self.values[:, COLUMN[check_measure(measure or self.measures[0])]]

    def band(self, measure: str | None = None) -> Band:
        """5 %, median and 95 % of the solved cases. Raises LineError for an unknown measure."""
        name = measure or self.measures[0]
        return band_of(name, float(self.start[COLUMN[check_measure(name)]]), self.of(name), self.solved(name))

    def has(self, measure: str) -> bool:
        """Whether any solved case has a value of it: not of a plate or a mesh that is not there."""
        return bool(self.solved(measure).any())

    def past_limit(self, measure: str | None = None, limit: Limit | None = None) -> PastLimit:
        """How many cases lie past a limit: the one given, else the one asked for. Raises LineError without one."""
        name = check_measure(measure or self.measures[0])
        if limit is None and name not in self.limits:
            raise line_fault("limit", None, f"is missing for {name}", 'give one, for instance limit="50 N*m"')
        value = self.limits[name] if limit is None else limit_of(name, limit)
        return past_limit(name, value, self.of(name), self.solved(name))

    def influences(self, measure: str | None = None) -> tuple[Influence, ...]:
        """Every input's part in the spread of a measure, the one first that would leave the narrowest band.

        Inputs are judged by solved cases alone. Empty where fewer than 20 are solved.
        """
        answers, solved = self.of(measure), self.solved(measure)
        if solved.sum() < FEWEST:
            return ()
        found = [
            influence(path, quantity, self.shares[solved, column], answers[solved])
            for column, (path, quantity) in enumerate(self.inputs.items())
        ]
        return tuple(sorted(found, key=lambda one: one.remaining))

    def measure_next(self, measure: str | None = None, before_assembly: bool = False) -> MeasureNext | None:
        """What to measure next; None where no value that a workshop can measure narrows the band by a twentieth.

        before_assembly: of those values alone that need neither the engine running nor the boat afloat.
        """
        can_be = in_shop if before_assembly else measurable
        name = measure or self.measures[0]
        now = self.band(name).width
        for one in self.influences(name):
            if one.remaining > WORTH * now:
                return None
            if can_be(one.path, one.quantity):
                how = how_to_measure(one.path, one.quantity)
                return MeasureNext(one.path, one.quantity, name, now, one.remaining, one.part, how)
        return None


def uncertainty(
    line: Line, at: Condition, cases: int = 1000, seed: int = 1, measures: Sequence[str] | str | None = None,
    limit: Limit | None = None, limits: Mapping[str, Limit] | None = None, threads: int = 0, method: str = "random",
    report: Report | None = None,
) -> Uncertainty:  # fmt: skip
    """How sure the answers at a condition are: Monte-Carlo over the ranges of the line's values.

    measures: names of calmshaft.results.MEASURES; what the teeth feel, then the plate, where not given. limit: of the
    first measure, "50 N*m" or SI; limits: the same by measure; beside them teeth that part, the plate's stop and the
    line's [limits]. method: "random", "latin" (Latin hypercube) or "sobol" (needs SciPy). threads: 0, one a core; the
    numbers are the same for any. report: called with the number of cases done. Estimates that lean on a drawn value
    follow it.

    Raises LineError with all faults: of the question, of a line without ranges.
    """
    check_numbers(cases, seed, method)
    asked, given = measures_and_limits(at, measures, limit, limits)
    check_condition(line, at)
    family = Family(line)
    inputs = family.felt()
    if not inputs:
        raise line_fault("ranges", "none", "no value that this condition asks for has a range",
                         'write range = "5 %" beside what you are not sure of')  # fmt: skip
    shares = drawn(method, cases, len(inputs), seed)
    start = steady_of([family.member({})[0]], [at], threads).values[0, 0]
    members = [family.member(dict(zip(inputs, row, strict=True)))[0] for row in shares]
    found = steady_of(members, [at], threads, report)
    status, values = found.status[:, 0], found.values[:, 0]
    there = _there(status, values)
    _check_there([*(asked if measures is not None else ()), *given], there, at)
    names = tuple(name for name in asked if name in there)
    usual = {name: one for name, one in usual_limits(line, at).items() if name in there and name not in given}
    return Uncertainty(line, at, method, seed, names, given | usual, inputs, shares, status, values, start)


def _there(status: np.ndarray, values: np.ndarray) -> list[str]:
    """Measures that a solved case has, not those of a mesh that carries nothing or of a plate not there."""
    solved = values[~np.isin(status, _UNSOLVED)]
    had = np.isfinite(solved).any(axis=0) if solved.size else np.full(len(MEASURES), True)
    return [measure.name for measure in MEASURES if had[COLUMN[measure.name]]]


def _check_there(names: Sequence[str], there: Sequence[str], at: Condition) -> None:
    """Raises LineError for measures asked for by name that are not there."""
    lacking = [name for name in dict.fromkeys(names) if name not in there]
    if lacking:
        advice = f"ask for one of {', '.join(there)}"
        raise line_fault("measure", ", ".join(lacking), f"has no value in {at.gear} here", advice)
