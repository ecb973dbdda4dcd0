"""What each input has to do with the spread of an answer, from cases that were drawn anyway."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from calmshaft.quantity import Quantity
from calmshaft.uncertainties.bands import quantiles

FINEST = 10  # parts of a range; a value known to a tenth of its range is known well
IN_A_PART = 40  # cases, at the least: its outer twentieths then hold two each


@dataclass(frozen=True, slots=True)
class Influence:
    """One input and an answer.

    rank_correlation [-]: Spearman's; its sign says which way the answer goes. variance_share [-]: of the answer's
    variance that would go if the input were known (first order). remaining [unit of the answer]: width of the band
    that would be left, on the average, if it were known to within `part` [-] of its range.
    """

    path: str
    quantity: Quantity
    rank_correlation: float
    variance_share: float
    remaining: float
    part: float


def parts_for(cases: int) -> int:
    """Into how many parts a range can be cut that each still holds cases enough."""
    return max(2, min(FINEST, cases // IN_A_PART))


def rank_correlation(share: np.ndarray, answer: np.ndarray) -> float:
    """Spearman's coefficient of two columns (case,): the correlation of their ranks. 0 where one never changes."""
    one, other = _ranks(share), _ranks(answer)
    spread = one.std() * other.std()
    return float(((one - one.mean()) * (other - other.mean())).mean() / spread) if spread > 0 else 0.0


def _ranks(column: np.ndarray) -> np.ndarray:
    """Ranks, equal values with the mean of theirs."""
    _, place, count = np.unique(column, return_inverse=True, return_counts=True)
    return (np.cumsum(count) - (count - 1) / 2)[place]


def variance_share(share: np.ndarray, answer: np.ndarray) -> float:
    """First-order share of the variance, from the means of the answer over parts of the input's range.

    1 - (variance within parts) / (variance of all), each with its degrees of freedom, so that an input without
    influence gets 0 on the average; never below 0.
    """
    inside = _parts(share, answer, max(2, min(50, answer.size // 20)))
    within = sum(((part - part.mean()) ** 2).sum() for part in inside)
    total = ((answer - answer.mean()) ** 2).sum()
    if not total or answer.size <= len(inside):
        return 0.0
    return float(max(0.0, 1 - within / total * (answer.size - 1) / (answer.size - len(inside))))


def remaining_width(share: np.ndarray, answer: np.ndarray) -> float:
    """Mean width of the answer's band inside the parts of an input's range [unit of the answer]."""
    widths = [ends[2] - ends[0] for ends in map(quantiles, _parts(share, answer, parts_for(answer.size)))]
    return float(np.mean(widths))


def _parts(share: np.ndarray, answer: np.ndarray, count: int) -> list[np.ndarray]:
    """The answers in parts of equal count by the input: equal to parts of its range as the shares are even."""
    order = np.argsort(share, kind="stable")
    return [answer[part] for part in np.array_split(order, count)]


def influence(path: str, quantity: Quantity, share: np.ndarray, answer: np.ndarray) -> Influence:
    """All that is told of one input; share (case,) of its range, answer (case,), solved cases alone."""
    part = 1 / parts_for(answer.size)
    told = rank_correlation(share, answer), variance_share(share, answer), remaining_width(share, answer)
    return Influence(path, quantity, *told, part)
