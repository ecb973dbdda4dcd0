"""What a calibration by ear found: how well each value is determined, the nearest case, the best one as a line."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from decimal import ROUND_CEILING, ROUND_FLOOR, Context

import numpy as np

from calmshaft import units
from calmshaft.line import Line
from calmshaft.matching.heard import Heard
from calmshaft.quantity import Quantity
from calmshaft.schema_paths import kind_at
from calmshaft.uncertainties.bands import HIGH, LOW
from calmshaft.uncertainties.influence import rank_correlation
from calmshaft.uncertainties.ranges import spread_of, value_at

DETERMINED, NARROWED, OPEN = "determined", "narrowed", "open"
HALF, LESS = 0.5, 0.9  # [-] of the interval, at the most, is left of a determined and of a narrowed value; ours
BY_CHANCE = 0.001  # an input that hearing says nothing of seems to be told of so often
DIGITS = 5  # of an end as written
TOGETHER = 0.5  # [-] rank correlation from which two values are told of only together; ours
FEW = 20  # agreeing cases; with fewer an interval is that of all of them


@dataclass(frozen=True, slots=True)
class Matched:
    """One uncertain value before and after what was heard.

    before, after [SI]: ends of the interval that holds it in nine cases of ten. best [SI]: in the best case. left [-]:
    width of its interval, as a share of the one before. word: "determined", where what was heard leaves no more than
    half of the interval; "narrowed", no more than nine tenths; else, or where it is no more than chance, "open".
    """

    path: str
    quantity: Quantity
    before: tuple[float, float]
    after: tuple[float, float]
    best: float
    left: float
    word: str


@dataclass(frozen=True, slots=True)
class Nearest:
    """Where the rattle of some cases stops in a gear [rpm], when no case agrees: lowest, highest, nearest to `heard`.

    NaN where it stops in none of them. quiet: how many are quiet from the lowest speed tried on; rattling: how many are
    not quiet anywhere up to the highest, `up_to` [rpm].
    """

    gear: str
    heard: float
    cases: int
    lowest: float
    highest: float
    nearest: float
    quiet: int
    rattling: int
    up_to: float

    def within(self, to: float) -> bool:
        """Whether what was heard lies among the cases, `to` [rpm] more on either side."""
        return self.lowest - to <= self.heard <= self.highest + to


@dataclass(frozen=True)
class Match:
    """shares (agreeing case, input): where in its range, 0 low, 1 high. stops [rpm]: by gear, (agreeing case,).

    swings (agreeing case,) [-], NaN where it was not asked. tried: cases drawn; unsolved: without an answer at one of
    the speeds tried. nearest, nearest_swings (lowest, highest) [-]: where no case agrees, how near they come.
    """

    line: Line
    heard: Heard
    seed: int
    tried: int
    unsolved: int
    inputs: Mapping[str, Quantity] = field(repr=False)
    shares: np.ndarray = field(repr=False)
    stops: Mapping[str, np.ndarray] = field(repr=False)
    swings: np.ndarray = field(repr=False)
    nearest: tuple[Nearest, ...] = ()
    nearest_swings: tuple[float, float] | None = None

    @property
    def agreeing(self) -> int:
        """How many cases fall silent where it was heard."""
        return len(self.shares)

    def met_alone(self) -> list[bool]:
        """Where no case agrees with all: whether each thing heard lies among the cases, the swing last."""
        met = [one.within(self.heard.to) for one in self.nearest]
        if self.heard.swing is None or self.nearest_swings is None:
            return met
        away = self.heard.swing_to * self.heard.swing
        return [*met, self.nearest_swings[0] - away <= self.heard.swing <= self.nearest_swings[1] + away]

    @property
    def coverage(self) -> float:
        """How often such an interval holds the true value [-], were the ranges and the model right."""
        return min(HIGH - LOW, (self.agreeing - 1) / (self.agreeing + 1)) if self.agreeing else math.nan

    def best(self) -> int:
        """Place of the case that comes nearest to all that was heard, each by its accuracy."""
        away = [np.abs(self.stops[gear] - rpm) / self.heard.to for gear, rpm in self.heard.quiet_at.items()]
        if self.heard.swing is not None:
            away.append(np.abs(self.swings / self.heard.swing - 1) / self.heard.swing_to)
        return int(np.argmin(np.max(away, axis=0)))

    def values(self) -> tuple[Matched, ...]:
        """All uncertain values, the best determined first; empty where no case agrees."""
        if not self.agreeing:
            return ()
        best = self.shares[self.best()]
        found = [
            _matched(path, quantity, self.shares[:, column], best[column])
            for column, (path, quantity) in enumerate(self.inputs.items())
        ]
        return tuple(sorted(found, key=lambda one: ((DETERMINED, NARROWED, OPEN).index(one.word), one.left)))

    def told_together(self) -> list[tuple[str, str, float]]:
        """Pairs of values that agreeing cases know only together, with their rank correlation [-], strongest first."""
        if self.agreeing < FEW:
            return []
        paths = list(self.inputs)
        pairs = [
            (paths[i], paths[j], rank_correlation(self.shares[:, i], self.shares[:, j]))
            for j in range(len(paths)) for i in range(j)
        ]  # fmt: skip
        floor = max(TOGETHER, 4 / math.sqrt(self.agreeing))  # four standard errors: there are hundreds of pairs
        return sorted((pair for pair in pairs if abs(pair[2]) >= floor), key=lambda pair: -abs(pair[2]))

    def best_line(self) -> Line:
        """The best case as a line, each value an estimate whose ends are those that the agreeing cases leave of it.

        The best case's own value lies between them; where it is further out than nine cases of ten, it is the end.
        Values that go together are not tied to each other in it, and cases drawn anew from it lie about the best one:
        half to either side of each of its values, also of those that stay open. Raises LineError where no case agrees.
        """
        from calmshaft.condition import line_fault

        if not self.agreeing:
            raise line_fault("match", "no case", "agrees with what was heard", "look for what is wrong first")
        values = {one.path: one for one in self.values()}
        line = self.line.replace({path: _as_written(one) for path, one in values.items()})
        # Where values go together, an end of one may lie beyond what another's best value allows: as it was cut there.
        told = [path for path in {fault.path for fault in line.warnings} if path in values]
        cut = {
            path: replace(values[path], after=(line.quantities[path].low, line.quantities[path].high)) for path in told
        }
        return line.replace({path: _as_written(one) for path, one in cut.items()})


def _matched(path: str, quantity: Quantity, share: np.ndarray, best: float) -> Matched:
    # By this method it holds the next one in nine cases of ten, from 19 on.
    low, high = map(float, np.quantile(share, [LOW, HIGH], method="weibull"))
    left = (high - low) / (HIGH - LOW)
    told = _unlike_even(share) > math.sqrt(-math.log(BY_CHANCE / 2) / 2)
    word = OPEN if not told or left > LESS else DETERMINED if left <= HALF else NARROWED
    spread = spread_of(quantity)
    ends = ((value_at(one, path, spread), value_at(other, path, spread)) for one, other in ((LOW, HIGH), (low, high)))
    before, after = ends
    return Matched(path, quantity, before, after, value_at(float(best), path, spread), left, word)


def _unlike_even(share: np.ndarray) -> float:
    """Kolmogorov's statistic: sqrt(n) times the greatest distance from an even distribution between 0 and 1."""
    ordered, count = np.sort(share), share.size
    ranks = np.arange(count + 1) / count
    return math.sqrt(count) * float(max((ranks[1:] - ordered).max(), (ordered - ranks[:-1]).max()))


def _as_written(one: Matched) -> dict[str, str]:
    """The value as a line file takes it, its two ends rounded inwards: none lies beyond what the old range held."""
    kind = units.kind_named(kind_at(one.path) or "pure")
    low, high = min(one.after[0], one.best), max(one.after[1], one.best)
    ends = {"low": _rounded(low, kind, ROUND_CEILING), "high": _rounded(high, kind, ROUND_FLOOR)}
    value = units.write(one.best, kind)
    passed = {"low": units.parse(ends["low"], kind) > one.best, "high": units.parse(ends["high"], kind) < one.best}
    ends = {key: value if passed[key] else text for key, text in ends.items()}
    if ends["low"] == ends["high"]:  # nothing is left open, as of a number of blades
        return {"value": value}
    return {"value": value, "source": "estimated", **ends}


def _rounded(end: float, kind: units.Kind, way: str) -> str:
    shown = Context(prec=DIGITS, rounding=way).create_decimal(repr(units.express(end, kind.shown, kind)))
    return f"{float(shown):.12g} {kind.shown}".strip()
