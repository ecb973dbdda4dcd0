"""The largest box of shares in which no plate that was looked at misses a limit.

Peeled like an onion: from all that was looked at, the side is cut that takes most misses for each good plate lost,
until no miss is inside; then each side goes back out to the next miss. The best of several peelings counts, each with
another weight of the good.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

PEELINGS = 24


@dataclass(frozen=True)
class Box:
    """low, high: shares by trait."""

    low: np.ndarray
    high: np.ndarray

    def holds(self, shares: np.ndarray, beyond: float | np.ndarray = 0.0) -> np.ndarray:
        """Whether each plate lies inside, or no more than `beyond` outside."""
        return ((shares >= self.low - beyond) & (shares <= self.high + beyond)).all(axis=1)

    def grown(self, by: float) -> Box:
        """Wider by a share of its own width on each side, no wider than the range."""
        step = by * (self.high - self.low)
        return Box(np.clip(self.low - step, 0, 1), np.clip(self.high + step, 0, 1))

    def drawn_in(self, by: float) -> Box:
        """Narrower likewise, but for sides that lie at an end of the range: there is no miss behind these."""
        step = by * (self.high - self.low)
        low = np.where(self.low <= 0, self.low, self.low + step)
        return Box(low, np.where(self.high >= 1, self.high, self.high - step))


def largest(shares: np.ndarray, good: np.ndarray, bounds: np.ndarray, seed: int = 1) -> Box | None:
    """The box with most good plates and no other; None where none is good. bounds: sides that may be cut (trait, 2)."""
    if not good.any():
        return None
    peeled = [_peeled(shares, good, bounds, (seed, n)) for n in range(PEELINGS)]
    pasted = [_pasted(box, shares[~good]) for box in peeled if box is not None]
    return max(pasted, key=lambda box: int(box.holds(shares[good]).sum()), default=None)


def _peeled(shares: np.ndarray, good: np.ndarray, bounds: np.ndarray, seed: tuple[int, int]) -> Box | None:
    random = np.random.default_rng(seed)
    low, high = np.zeros(shares.shape[1]), np.ones(shares.shape[1])
    while True:
        inside = Box(low, high).holds(shares)
        points, fine = shares[inside], good[inside]
        if fine.all():
            return Box(low, high)
        worth, trait, upper, cut = _best_cut(points, fine, bounds, random)
        if worth < 0:
            return None  # no side that may be cut leaves a good plate
        (high if upper else low)[trait] = cut


def _best_cut(
    points: np.ndarray, fine: np.ndarray, bounds: np.ndarray, random: np.random.Generator
) -> tuple[float, int, bool, float]:
    """Its worth, trait, whether its upper side, and where: most misses taken away for each good plate lost."""
    order = np.argsort(points, axis=0)
    sorted_fine = fine[order]
    goods, misses = int(fine.sum()), int((~fine).sum())
    weight = 1.0 + 4.0 * random.random((points.shape[1], 2))
    best = (-1.0, 0, False, 0.0)
    for upper in (False, True):
        lost = np.cumsum(sorted_fine, axis=0)[:-1]
        gone = np.arange(1, len(points))[:, None] - lost
        if upper:
            lost, gone = goods - lost, misses - gone
        allowed = (lost < goods) & bounds[:, int(upper)]
        worth = gone / (lost + weight[:, int(upper)]) * np.minimum(1, gone / (0.03 * misses + 1))
        score = np.where(allowed, worth, -1.0)
        place, trait = np.unravel_index(np.argmax(score), score.shape)
        if score[place, trait] > best[0]:
            pair = points[order[place : place + 2, trait], trait]
            best = (float(score[place, trait]), int(trait), upper, float(pair.mean()))
    return best


def _pasted(box: Box, misses: np.ndarray) -> Box:
    """Each side in turn out to the next miss that the other traits let in."""
    low, high = box.low.copy(), box.high.copy()
    for trait in range(len(low)):
        others = np.arange(len(low)) != trait
        beside = misses[Box(low[others], high[others]).holds(misses[:, others]), trait]
        below, above = beside[beside < low[trait]], beside[beside > high[trait]]
        low[trait] = np.nextafter(below.max(), 1.0) if below.size else 0.0  # short of the miss itself
        high[trait] = np.nextafter(above.min(), 0.0) if above.size else 1.0
    return Box(low, high)
