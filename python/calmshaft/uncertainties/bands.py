"""Answers of many cases as a band, and how many lie past a limit. Cases without an answer are counted, not dropped."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

LOW, HIGH = 0.05, 0.95  # [-] of the cases below the ends of a band; ours
NEAR = 0.9  # [-] of a limit; as in the judgement
_Z = 1.959964  # of a two-sided interval of 95 %


@dataclass(frozen=True, slots=True)
class Band:
    """The answers [SI] of the solved cases: 5 % lie below `low`, half below `median`, 5 % above `high`.

    start: the answer with all values as they stand. NaN where there is none.
    """

    measure: str
    start: float
    low: float
    median: float
    high: float
    cases: int
    unsolved: int

    @property
    def width(self) -> float:
        """From `low` to `high` [SI]."""
        return self.high - self.low


@dataclass(frozen=True, slots=True)
class PastLimit:
    """How many plausible cases lie past a limit [SI]: above it, or below it for a least value (`downwards`).

    Peaks of a motion that never repeats count by their mean over engine cycles, not by the worst cycle.

    share: of the solved cases, with its standard error and its Wilson interval of 95 % (low, high). least and most: of
    all cases, were the unsolved ones all on the good side, or all on the bad. word: "over" where at least one solved
    case in twenty is past the limit, "near" where one in twenty comes within a tenth of it, else "within".
    """

    measure: str
    limit: float
    downwards: bool
    count: int
    solved: int
    unsolved: int
    word: str

    @property
    def share(self) -> float:
        """Of the solved cases [-]; NaN where none is solved."""
        return self.count / self.solved if self.solved else math.nan

    @property
    def standard_error(self) -> float:
        """Of the share, by the binomial law [-]."""
        return math.sqrt(self.share * (1 - self.share) / self.solved) if self.solved else math.nan

    @property
    def interval(self) -> tuple[float, float]:
        """Low and high end [-] (Wilson, 95 %)."""
        return wilson(self.count, self.solved)

    @property
    def least(self) -> float:
        """Share of all cases were no unsolved one to be past the limit [-]."""
        return self.count / (self.solved + self.unsolved)

    @property
    def most(self) -> float:
        """Share of all cases were every unsolved one to be past the limit [-]."""
        return (self.count + self.unsolved) / (self.solved + self.unsolved)


def band_of(measure: str, start: float, answers: np.ndarray, solved: np.ndarray) -> Band:
    """The band of answers (case,), of which `solved` (case,) are had."""
    ends = quantiles(answers[solved]) if solved.any() else [math.nan] * 3
    return Band(measure, start, *ends, cases=solved.size, unsolved=int((~solved).sum()))


def quantiles(answers: np.ndarray) -> list[float]:
    """Low end, median and high end; nearly unbiased for small numbers, whatever the distribution."""
    return [float(one) for one in np.quantile(answers, (LOW, 0.5, HIGH), method="median_unbiased")]


def past_limit(measure: str, limit: float, answers: np.ndarray, solved: np.ndarray) -> PastLimit:
    """How many of the solved answers (case,) are past the limit: above it, below it for a name that ends in _min."""
    downwards = measure.endswith("_min")
    past, against = (-answers[solved], -limit) if downwards else (answers[solved], limit)
    count = int((past > against).sum())
    unsolved = int((~solved).sum())
    return PastLimit(measure, limit, downwards, count, int(solved.sum()), unsolved, _word(past, against))


def _word(past: np.ndarray, limit: float) -> str:
    if not past.size:
        return "not judged"
    many = past.size / 20
    if (past > limit).sum() >= many:
        return "over"
    return "near" if (past > limit - (1 - NEAR) * abs(limit)).sum() >= many else "within"


def wilson(count: int, cases: int) -> tuple[float, float]:
    """95 % interval of a share: (p + z^2/2n +- z sqrt(p (1-p)/n + z^2/4n^2)) / (1 + z^2/n); NaN without a case."""
    if not cases:
        return math.nan, math.nan
    share, per = count / cases, _Z**2 / cases
    half = _Z * math.sqrt(share * (1 - share) / cases + per / (4 * cases))
    low, high = ((share + per / 2 + sign * half) / (1 + per) for sign in (-1, 1))
    return max(0.0, low) if count else 0.0, min(1.0, high) if count < cases else 1.0
