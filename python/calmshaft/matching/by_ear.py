"""Plausible lines are drawn until enough of them fall silent where the builder hears it; what they share is known."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial

import numpy as np

from calmshaft import _core
from calmshaft.condition import line_fault
from calmshaft.line import Line
from calmshaft.matching.found import Match, Nearest
from calmshaft.matching.heard import Heard, Said, heard, idle_of, rated_of
from calmshaft.matching.silence import quiet, stops
from calmshaft.quiet_idle import LOWEST
from calmshaft.uncertainties.asked import check_numbers
from calmshaft.uncertainties.cases import Family, Report, steady_of
from calmshaft.uncertainties.draws import drawn

ENOUGH = 80  # agreeing cases: ends of an interval then lie within a twentieth of the range, mostly
ROUND = 200  # cases drawn at a time
FINER = 6  # parts of the heard interval in which an agreeing case's own speed is looked for
LOOKED_AT, SPEEDS = 60, 20  # cases and speeds, to tell how near the nearest comes

Trial = Callable[[list[_core.Line]], np.ndarray]  # lines -> 1 agrees, 0 does not, NaN no answer


def match(
    line: Line, neutral_quiet_at: Said | None = None, ahead_quiet_at: Said | None = None,
    idle_swing: Said | None = None, heard_to: Said = "25 rpm", swing_to: Said = "20 %", cases: int = 2000,
    seed: int = 1, threads: int = 0, report: Report | None = None,
) -> Match:  # fmt: skip
    """Which plausible lines fall silent where it is heard, and what that tells of the uncertain values.

    neutral_quiet_at, ahead_quiet_at: speed from which on the gearbox is quiet, "900 rpm", heard to within `heard_to`: a
    case agrees that rattles so much below it and is quiet so much above it, and a step further. Quiet is what
    cs.quiet_idle calls so. idle_swing: greatest less least speed of the crank within an engine cycle at idle in
    neutral, "24 rpm" or "3 %" of the mean, known to within `swing_to` of itself. cases: at the most; fewer where
    enough agree. The same for any number of threads. report: called with the number of cases tried.

    Raises LineError with all faults: of what was heard, of a line without ranges.
    """
    check_numbers(cases, seed, "random")
    told = heard(line, neutral_quiet_at, ahead_quiet_at, idle_swing, heard_to, swing_to)
    family = Family(line)
    inputs = family.felt()
    if not inputs:
        raise line_fault("ranges", "none", "no value has a range in which to look",
                         'write range = "5 %" beside what you are not sure of')  # fmt: skip
    search = _Search(line, told, threads)
    agreeing, members, tried, unsolved = [], [], 0, 0
    shares = drawn("random", cases, len(inputs), seed)
    for start in range(0, cases, ROUND):
        rows = shares[start : start + ROUND]
        lines = [family.member(dict(zip(inputs, row, strict=True)))[0] for row in rows]
        places, lost = search.agreeing(lines)
        agreeing += [rows[place] for place in places]
        members += [lines[place] for place in places]
        tried, unsolved = tried + len(rows), unsolved + lost
        if report:
            report(tried)
        if len(agreeing) >= ENOUGH:
            break
    found = np.array(agreeing).reshape(len(agreeing), len(inputs))
    near = () if agreeing else search.nearest(lines[:LOOKED_AT])
    swung = search.swings(lines[:LOOKED_AT]) if not agreeing and told.swing is not None else None
    return Match(
        line, told, seed, tried, unsolved, inputs, found, search.stops(members), search.swings(members), near,
        None if swung is None else (float(np.nanmin(swung)), float(np.nanmax(swung))),
    )  # fmt: skip


@dataclass(frozen=True)
class _Search:
    line: Line
    told: Heard
    threads: int

    def agreeing(self, lines: list[_core.Line]) -> tuple[list[int], int]:
        """Places of the lines that agree with all that was heard, and how many were dropped without an answer.

        Each trial is asked of those alone that passed the ones before.
        """
        left, lost = np.arange(len(lines)), 0
        for trial in self._trials():
            answer = trial([lines[place] for place in left])
            lost += int(np.isnan(answer).sum())
            left = left[answer == 1]
        return left.tolist(), lost

    def _trials(self) -> Iterator[Trial]:
        to = self.told.to
        if self.told.swing is not None:
            yield self._swings_so
        for gear, rpm in self.told.quiet_at.items():
            for speed, expected in ((rpm - to, 0), (rpm + to, 1), (rpm + 2 * to, 1)):
                yield partial(self._is_so, gear, speed, expected)

    def _is_so(self, gear: str, rpm: float, expected: int, lines: list[_core.Line]) -> np.ndarray:
        answer = quiet(lines, gear, [rpm], self.threads)[:, 0]
        return np.where(np.isnan(answer), np.nan, answer == expected)

    def _swings_so(self, lines: list[_core.Line]) -> np.ndarray:
        swings = self.swings(lines)
        asked = self.told.swing or 0.0
        return np.where(np.isnan(swings), np.nan, np.abs(swings - asked) <= self.told.swing_to * asked)

    def swings(self, lines: list[_core.Line]) -> np.ndarray:
        """Swing of the crank's speed at idle in neutral [-], (line,); NaN where it was not asked."""
        if self.told.swing is None or not lines:
            return np.full(len(lines), np.nan)
        at = self.told.at_idle(self.line)
        return steady_of(lines, [at], self.threads).of("cyclic_irregularity")[:, 0]

    def stops(self, lines: list[_core.Line]) -> dict[str, np.ndarray]:
        """By gear, where the rattle of agreeing lines stops [rpm]."""
        to, parts = self.told.to, np.linspace(-1, 2, 3 * FINER // 2 + 1)
        return {gear: stops(lines, gear, rpm + to * parts, self.threads) if lines else np.zeros(0)
                for gear, rpm in self.told.quiet_at.items()}  # fmt: skip

    def nearest(self, lines: list[_core.Line]) -> tuple[Nearest, ...]:
        """How near lines that do not agree come, gear by gear, from below idle to what was heard, or twice idle."""
        idle = idle_of(self.line)
        highest = max(2 * idle, *(rpm + 2 * self.told.to for rpm in self.told.quiet_at.values()))
        speeds = np.linspace(LOWEST * idle, min(highest, rated_of(self.line)), SPEEDS)
        half = (speeds[1] - speeds[0]) / 2  # it stops between the lowest quiet speed and the one below
        return tuple(
            _nearest(gear, rpm, stops(lines, gear, speeds, self.threads) - half, speeds[-1])
            for gear, rpm in self.told.quiet_at.items()
        )


def _nearest(gear: str, rpm: float, found: np.ndarray, up_to: float) -> Nearest:
    there = found[np.isfinite(found)]
    ends = (there.min(), there.max(), there[np.abs(there - rpm).argmin()]) if there.size else [np.nan] * 3
    lowest, highest, nearest = map(float, ends)
    counts = int((found == -np.inf).sum()), int((found == np.inf).sum())
    return Nearest(gear, rpm, len(found), lowest, highest, nearest, *counts, float(up_to))
