"""What to look for in a plate: the window, how sharp its edges are, and what stands behind each of them."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

import numpy as np

from calmshaft.choosing.aims import Aims, aims_of
from calmshaft.choosing.explore import Explored, explore
from calmshaft.choosing.fit import Fit, fit_list
from calmshaft.choosing.helping import Unmet, unmet
from calmshaft.choosing.own import Own, own_plate
from calmshaft.choosing.plates import Plates, Trait
from calmshaft.choosing.search import MEETS, Search, Told
from calmshaft.choosing.window import Box
from calmshaft.line import Line

if TYPE_CHECKING:
    from calmshaft.choosing.verify import Verified

MARGINS = (0.0, 0.05, 0.1, 0.15, 0.2)  # [-] of the range looked at
NOT_SHARP = 0.1  # [-] margin that is told where too many plates outside suit by any of these
SHARP = 0.95  # [-] of the plates outside miss a limit; ours
BESIDE = 0.25  # [-] of the box's width that a plate may lie outside by other traits and still tell of this edge
_REASONS = 3  # fewest plates that tell by themselves, without those that lie outside by other traits too


@dataclass(frozen=True)
class Range:
    """What to look for in one trait [SI]. beyond: the limit that plates past either end miss first, "" where that end
    is open: nothing was missed there in all that was looked at."""

    trait: Trait
    low: float
    high: float
    beyond: tuple[str, str]

    def holds(self, value: float) -> bool:
        """Whether a value lies inside; an open end holds all that is further out."""
        return (not self.beyond[0] or value >= self.low) and (not self.beyond[1] or value <= self.high)


@dataclass(frozen=True)
class Window:
    """Ranges that hold at once. inside: plates drawn inside last, and how many met all limits. outside: plates drawn
    over all ranges beyond an edge by more than `margin` [-] of the range looked at, and how many missed a limit."""

    ranges: tuple[Range, ...]
    inside: tuple[int, int]
    margin: float
    outside: tuple[int, int]

    def __getitem__(self, key: str) -> Range:
        return next(one for one in self.ranges if one.trait.key == key)


@dataclass(frozen=True)
class Choice:
    """The answer of `choose`. window: None where no plate meets the limits, then `unmet` says why and what helps.

    own: the plate now in the line. fit: item by item, judged where both sides are entered. plates_looked_at, points:
    how much was worked out.
    """

    line: Line
    aims: Aims
    window: Window | None
    unmet: Unmet | None
    own: Own | None
    fit: tuple[Fit, ...]
    plates_looked_at: int
    points: int
    seed: int
    plates: Plates = field(repr=False)

    def verify(self, count: int = 30, seed: int = 1, threads: int = 0) -> Verified:
        """Random plates inside and outside the window, each put through all conditions by integration in time.

        Raises LineError where there is no window.
        """
        from calmshaft.choosing.verify import verified

        return verified(self, count, seed, threads)

    def as_dict(self) -> dict[str, Any]:
        """Plain values, SI."""
        from calmshaft.choosing.words import as_dict

        return as_dict(self)


def choose(line: Line, seed: int = 1, threads: int = 0, progress: Told | None = None) -> Choice:
    """What to look for in a plate for this line, its own plate left aside.

    Works to: no rattle in neutral at idle, no teeth apart ahead at idle and from 1.2 x idle to rated speed with all
    cylinders firing, no stop at 1.1 x full torque, and the line's own [limits]. Looks at plates of two stages over
    practical ranges about the engine's torque (common practice, no source). seed: another one looks at other plates.
    Raises LineError where the line has a coupling in the plate's place or cannot be asked ahead.
    """
    aims = aims_of(line)
    plates = Plates(line)
    search = Search(plates, aims, threads)
    found = explore(search, seed, progress or (lambda words: None))
    window = _window(plates, found) if found.box is not None and found.inside[1] else None
    return Choice(
        line=line,
        aims=aims,
        window=window,
        unmet=None if window else unmet(search, found),
        own=own_plate(search),
        fit=fit_list(line),
        plates_looked_at=len(found.looked.shares),
        points=search.points,
        seed=seed,
        plates=plates,
    )


def _window(plates: Plates, found: Explored) -> Window:
    ranges = tuple(_range(plates, found, place) for place in range(len(plates.traits)))
    box = box_of(plates, ranges)
    shares, good = found.looked.shares[: found.first], found.looked.good[: found.first]
    outside = {margin: ~box.holds(shares, margin) for margin in MARGINS}
    sharp = [margin for margin, out in outside.items() if good[out].sum() <= (1 - SHARP) * out.sum()]
    margin = sharp[0] if sharp else NOT_SHARP
    out = outside[margin]
    return Window(ranges, found.inside, margin, (int(out.sum()), int((out & ~good).sum())))


def box_of(plates: Plates, ranges: tuple[Range, ...]) -> Box:
    """The window in shares of the ranges."""
    ends = np.array([[one.low, one.high] for one in ranges])
    low, high = plates.shares(ends.T)
    return Box(np.clip(low, 0, 1), np.clip(high, 0, 1))


def _range(plates: Plates, found: Explored, place: int) -> Range:
    box, trait = found.box, plates.traits[place]
    assert box is not None
    low, high = (float(trait.at(end)) for end in (box.low[place], box.high[place]))
    beyond = (
        _beyond(found, box, place, -1) if box.low[place] > 0 else "",
        _beyond(found, box, place, +1) if box.high[place] < 1 else "",
    )
    return Range(trait, *_rounded(trait, low, high, beyond), beyond)


def _beyond(found: Explored, box: Box, place: int, side: int) -> str:
    """The limit most often missed first by plates past this edge, that lie inside or little outside by the others."""
    shares, verdict = found.looked.shares, found.looked.verdict
    past = shares[:, place] < box.low[place] if side < 0 else shares[:, place] > box.high[place]
    others = np.arange(shares.shape[1]) != place
    room = BESIDE * (box.high - box.low)[others]
    for beside in (0.0, room):
        near = past & Box(box.low[others], box.high[others]).holds(shares[:, others], beside)
        counted = Counter(one for one in verdict[near] if one != MEETS)
        if counted.total() >= _REASONS:
            break
    return counted.most_common(1)[0][0] if counted else MEETS


def _rounded(trait: Trait, low: float, high: float, beyond: tuple[str, str]) -> tuple[float, float]:
    """Inwards to two digits of the workshop's unit, where that leaves something; open ends stay."""
    factor = trait.shown(1.0)
    for digits in (2, 3, 6):
        ends = [_digits(low * factor, digits, math.ceil), _digits(high * factor, digits, math.floor)]
        made = [ends[0] / factor if beyond[0] else low, ends[1] / factor if beyond[1] else high]
        if made[0] < made[1]:
            break
    return made[0], made[1]


def _digits(value: float, digits: int, towards: Any) -> float:
    if value == 0:
        return 0.0
    step = 10.0 ** (math.floor(math.log10(abs(value))) - digits + 1)
    return float(towards(round(value / step, 6)) * step)
