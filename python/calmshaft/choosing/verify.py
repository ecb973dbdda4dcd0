"""The window asked by another way: random plates inside and outside it, integrated in time under step control."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from os import cpu_count
from typing import TYPE_CHECKING

import numpy as np

from calmshaft.choosing.aims import IDLE, NEUTRAL, STOP, WAY, Aims
from calmshaft.choosing.choice import box_of
from calmshaft.choosing.plates import Plates
from calmshaft.choosing.window import Box
from calmshaft.condition import Condition, line_fault
from calmshaft.histories import History, simulate
from calmshaft.line import Line
from calmshaft.manoeuvres import Hold

if TYPE_CHECKING:
    from calmshaft.choosing.choice import Choice

HELD = 1.5  # [s] looked at
SETTLED = 20  # engine cycles before
MOST_FUELLING = 1.6  # [-] so that the governor can hold 1.1 x full torque
CHECKED = (NEUTRAL, IDLE, WAY, STOP)  # limits that a history shows; entered ones are held to the sweep alone


@dataclass(frozen=True)
class Verified:
    """Traits [SI] of the plates (plate, trait), and of each the first limit that it missed in time, "" for none."""

    inside: np.ndarray
    inside_missed: tuple[str, ...]
    outside: np.ndarray
    outside_missed: tuple[str, ...]

    @property
    def inside_met(self) -> int:
        """Plates inside that meet all limits."""
        return sum(not missed for missed in self.inside_missed)

    @property
    def outside_turned_down(self) -> int:
        """Plates outside that miss at least one."""
        return sum(bool(missed) for missed in self.outside_missed)


def verified(choice: Choice, count: int, seed: int, threads: int = 0) -> Verified:
    """`count` plates drawn inside the window, and as many over all ranges that lie beyond an edge by its margin."""
    if choice.window is None:
        raise line_fault("choose", choice.line.title, "found no window to verify", "see `unmet` of the answer")
    if count < 1:
        raise line_fault("count", count, "at least one plate is needed", "write e.g. 30")
    box = box_of(choice.plates, choice.window.ranges)
    inside = choice.plates.draw(box.low, box.high, count, seed + 5000)
    outside = drawn_outside(choice.plates, box, choice.window.margin, count, seed + 6000)
    values = choice.plates.values(np.concatenate([inside, outside]))
    with ThreadPoolExecutor(threads or cpu_count()) as pool:
        missed = list(pool.map(lambda row: missed_in_time(choice.line, choice.plates, choice.aims, row), values))
    first = len(inside)
    return Verified(values[:first], tuple(missed[:first]), values[first:], tuple(missed[first:]))


def drawn_outside(plates: Plates, box: Box, margin: float, count: int, seed: int) -> np.ndarray:
    """Shares of plates that can be, evenly over all ranges, with a trait past the window by more than a margin."""
    traits = len(plates.traits)
    shares = plates.draw(np.zeros(traits), np.ones(traits), 20 * count, seed)
    return shares[~box.holds(shares, margin)][:count]


def missed_in_time(line: Line, plates: Plates, aims: Aims, values: np.ndarray) -> str:
    """The first limit that the line with this plate misses, "" where it meets all."""
    fitted = line.with_plate(plates.plate(values))
    asked = [aim for aim in aims.all if aim.key in CHECKED]
    missed = (aim.key for aim in asked if any(_misses(fitted, aim.key, at, aim.limit) for at in aim.conditions))
    return next(missed, "")


def _misses(line: Line, key: str, at: Condition, limit: float) -> bool:
    history = simulate(line, Hold(HELD), at, settle_cycles=SETTLED, most_fuelling=MOST_FUELLING)
    if history.status != "finished":
        return True
    if key == STOP:
        return any(hits.size for hits in history.stop_hits.values())
    return max(_apart(history, loaded=key != NEUTRAL), default=0.0) > limit


def _apart(history: History, loaded: bool) -> list[float]:
    return [pair["separated"] for name, pair in history.mesh.items() if (name == "loaded mesh") == loaded]
