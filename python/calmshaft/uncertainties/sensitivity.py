"""Variance shares after Sobol and elementary effects after Morris of an answer over a line's ranges: by SALib."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from importlib import import_module
from typing import Any

import numpy as np

from calmshaft import _core
from calmshaft.condition import Condition, line_fault
from calmshaft.faults import line_error
from calmshaft.line import Line
from calmshaft.quantity import Quantity
from calmshaft.uncertainties.cases import (
    STATUS_WORDS,
    UNSOLVED,
    Family,
    Report,
    check_condition,
    check_measure,
    steady_of,
)
from calmshaft.uncertainties.tornado import usual_measure

MOST_UNSOLVED = 0.05  # [-] of the cases; with more of them filled in, shares of the variance mean nothing
USUAL_SAMPLES = {"sobol": 64, "morris": 20}
Evaluate = Callable[[np.ndarray], np.ndarray]  # shares (case, input) of the ranges -> answers (case,)


@dataclass(frozen=True, slots=True)
class VarianceShare:
    """Of one input [-]: of the answer's variance, by itself (first) and with all that it shares with others (total).

    first_error and total_error: half the width of the 95 % interval, by resampling.
    """

    first: float
    first_error: float
    total: float
    total_error: float


@dataclass(frozen=True, slots=True)
class ElementaryEffect:
    """Of one input [unit of the answer]: mean size of what it does over its whole range, and how much that varies.

    mean_error: half the width of the 95 % interval. A spread near the mean, or above, tells of a curve or of company.
    """

    mean: float
    mean_error: float
    spread: float


@dataclass(frozen=True)
class Sensitivity:
    """Which input an answer hangs on, the first before all. unsolved: cases that took the median's place."""

    line: Line
    at: Condition
    measure: str
    method: str
    seed: int
    cases: int
    unsolved: int
    inputs: dict[str, Quantity] = field(repr=False)
    effects: dict[str, VarianceShare | ElementaryEffect]


def sensitivity(
    line: Line, at: Condition, measure: str | None = None, method: str = "sobol", samples: int | None = None,
    seed: int = 1, threads: int = 0, report: Report | None = None,
) -> Sensitivity:  # fmt: skip
    """How much each uncertain value of a line has to do with an answer, by SALib.

    method: "sobol", `samples` (a power of two; 64) times two more than there are inputs; or "morris", `samples` (20)
    times one more. measure: what the teeth feel where not given. The same for any number of threads.

    Raises LineError with what to install where SALib is missing, and for a question that cannot be; SolveError where
    more than one case in twenty has no answer.
    """
    name = check_measure(measure or usual_measure(at))
    count = _checked(method, samples, seed)
    _salib("sample", method)
    check_condition(line, at)
    family = Family(line)
    inputs = family.felt()
    if len(inputs) < 2:
        raise line_fault("ranges", list(inputs), "are too few to compare", 'write range = "5 %" beside what is unsure')
    lost: list[int] = []

    def evaluate(shares: np.ndarray) -> np.ndarray:
        members = [family.member(dict(zip(inputs, row, strict=True)))[0] for row in shares]
        found = steady_of(members, [at], threads, report)
        solved = ~np.isin(found.status[:, 0], [STATUS_WORDS.index(word) for word in UNSOLVED])
        lost[:] = [int((~solved).sum()), len(shares)]
        return _filled(found.of(name)[:, 0], solved, name)

    effects = effects_of(evaluate, list(inputs), method, count, seed)
    return Sensitivity(line, at, name, method, seed, lost[1], lost[0], inputs, effects)


def _checked(method: str, samples: int | None, seed: int) -> int:
    faults = []
    if method not in USUAL_SAMPLES:
        faults.append(_core.Fault("method", repr(method), "must be one of sobol, morris", 'write "sobol" or "morris"'))
    count = USUAL_SAMPLES.get(method, 64) if samples is None else samples
    if isinstance(count, bool) or not isinstance(count, int) or count < 2:
        faults.append(_core.Fault("samples", repr(samples), "must be a whole number from 2", "write for instance 64"))
    elif method == "sobol" and count & (count - 1):
        powers = 1 << (count.bit_length() - 1), 1 << count.bit_length()
        faults.append(_core.Fault("samples", repr(count), "must be a power of two", "write {} or {}".format(*powers)))
    if isinstance(seed, bool) or not isinstance(seed, int) or seed < 0:
        faults.append(_core.Fault("seed", repr(seed), "must be a whole number from 0", "write for instance 1"))
    if faults:
        raise line_error(faults)
    return count


def _filled(answers: np.ndarray, solved: np.ndarray, measure: str) -> np.ndarray:
    """The few answers that are missing take the median of the others: shares of a variance need every place filled."""
    missing = int((~solved).sum())
    if missing > MOST_UNSOLVED * solved.size:
        raise _core.SolveError(
            f"{missing} of {solved.size} cases have no answer: they stall, end in no numbers or make no line. Make "
            "the widest ranges narrower, or take cs.uncertainty, which counts such cases"
        )
    if not np.isfinite(answers[solved]).all():
        raise line_fault("measure", measure, "has no value at this condition", "ask for another one")
    return np.where(solved, answers, np.median(answers[solved]))


def effects_of(
    evaluate: Evaluate, names: Sequence[str], method: str, samples: int, seed: int
) -> dict[str, VarianceShare | ElementaryEffect]:
    """Effects of inputs that are even between 0 and 1 on what `evaluate` makes of them, the strongest first."""
    problem = {"num_vars": len(names), "names": list(names), "bounds": [[0.0, 1.0]] * len(names)}
    find = _sobol if method == "sobol" else _morris
    found = find(problem, evaluate, samples, seed)
    return dict(sorted(zip(names, found, strict=True), key=lambda entry: -_strength(entry[1])))


def _strength(effect: VarianceShare | ElementaryEffect) -> float:
    return effect.total if isinstance(effect, VarianceShare) else effect.mean


def _sobol(problem: dict[str, Any], evaluate: Evaluate, samples: int, seed: int) -> list[VarianceShare]:
    shares = _salib("sample", "sobol").sample(problem, samples, calc_second_order=False, seed=seed)
    found = _salib("analyze", "sobol").analyze(problem, evaluate(shares), calc_second_order=False, seed=seed)
    columns = (found[key] for key in ("S1", "S1_conf", "ST", "ST_conf"))
    return [VarianceShare(*map(float, row)) for row in zip(*columns, strict=True)]


def _morris(problem: dict[str, Any], evaluate: Evaluate, samples: int, seed: int) -> list[ElementaryEffect]:
    shares = _salib("sample", "morris").sample(problem, samples, seed=seed)
    found = _salib("analyze", "morris").analyze(problem, shares, evaluate(shares), seed=seed)
    columns = (np.asarray(found[key]) for key in ("mu_star", "mu_star_conf", "sigma"))
    return [ElementaryEffect(*map(float, row)) for row in zip(*columns, strict=True)]


def _salib(part: str, method: str) -> Any:
    """A module of SALib: it takes a second to load, so no earlier than needed. Raises LineError where it is missing."""
    try:
        return import_module(f"SALib.{part}.{method}")
    except ImportError:
        advice = 'install it by `pip install "calmshaft[sensitivity]"`; cs.uncertainty needs no such package'
        raise line_fault("sensitivity", method, "needs the package SALib, which is not installed", advice) from None
