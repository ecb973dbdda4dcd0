"""Plates looked at: each put through the deciding conditions one after the other until it misses a limit."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from os import cpu_count

import numpy as np

from calmshaft import _core
from calmshaft.choosing.aims import FULL_TORQUE, STOP, Aims, missed
from calmshaft.choosing.plates import STOP as STOP_TORQUE
from calmshaft.choosing.plates import Plates
from calmshaft.condition import Condition
from calmshaft.results import sweep_dataset
from calmshaft.runs import cylinders, prepared

MEETS = "meets all"
Told = Callable[[str], None]
Misses = dict[tuple[Condition, str], np.ndarray]  # (condition, limit) -> whether each plate misses it


@dataclass
class Looked:
    """The plates so far: shares of the ranges (plate, trait), and of each the first limit missed, or MEETS."""

    shares: np.ndarray
    verdict: np.ndarray = field(default_factory=lambda: np.empty(0, dtype=object))

    @property
    def good(self) -> np.ndarray:
        """Whether a plate meets all limits."""
        return self.verdict == MEETS

    def add(self, shares: np.ndarray, verdict: np.ndarray) -> None:
        """More of them."""
        self.shares = np.concatenate([self.shares, shares])
        self.verdict = np.concatenate([self.verdict, verdict])


class Search:
    """Runs plates. order: the conditions, those that turn most plates down first."""

    def __init__(self, plates: Plates, aims: Aims, threads: int = 0) -> None:
        self.plates, self.aims, self.threads = plates, aims, threads or cpu_count() or 1
        self.order = list(aims.conditions)
        self.points = 0

    def prepared(self, shares: np.ndarray) -> list[_core.PreparedLine]:
        """The line with each plate; all have the cycles of one engine."""
        like = prepared(self.plates.line)
        return [_core.PreparedLine(self.plates.core(row), like) for row in self.plates.values(shares)]

    def misses(self, lines: Sequence[_core.PreparedLine], conditions: Sequence[Condition]) -> Misses:
        """Whether each limit is missed by each plate at each of these conditions, all in one sweep."""
        cores = [at.core(cylinders(self.plates.line)) for at in conditions]
        asked = [core for core in cores for _ in lines]
        found = _core.sweep(list(lines), list(range(len(lines))) * len(cores), asked, self.threads)
        if found.get("interrupted"):
            raise KeyboardInterrupt
        self.points += len(asked)
        shape = len(cores), len(lines)
        coords = {dim: (dim, np.arange(size)) for dim, size in zip(("condition", "plate"), shape, strict=True)}
        table = sweep_dataset(found, coords, shape, {})
        return {
            (at, aim.key): rows
            for place, at in enumerate(conditions)
            for aim, rows in zip(self.aims.at(at), missed(self.aims.at(at), table.isel(condition=place)), strict=True)
        }

    def judge(self, shares: np.ndarray, conditions: Sequence[Condition] | None = None) -> np.ndarray:
        """The first limit that each plate misses, or MEETS. A stop below the full torque itself needs no run.

        The first two conditions turn most plates down, so each is asked by itself, the others together.
        """
        verdict = np.full(len(shares), MEETS, dtype=object)
        torque = self.plates.line.quantities["engine.rated_torque"].value
        verdict[self.plates.values(shares)[:, STOP_TORQUE] <= FULL_TORQUE * torque] = STOP
        left = np.flatnonzero(verdict == MEETS)
        lines = self.prepared(shares[left])
        order = list(conditions or self.order)
        for asked in (order[:1], order[1:2], order[2:]):
            if not (left.size and asked):
                break
            for (_, key), rows in self.misses(lines, asked).items():
                verdict[left[rows & (verdict[left] == MEETS)]] = key
            stay = np.flatnonzero(verdict[left] == MEETS)
            left, lines = left[stay], [lines[place] for place in stay]
        return verdict
