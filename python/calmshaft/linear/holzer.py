"""Holzer's table: one frequency, station after station, from the first one on; at a natural frequency nothing is left.

At w, every station has the inertia torque J w^2 a; their sum up to a joint twists it by sum / k and the next station
swings by that much less. Behind the last station the sum must be zero (held still: its angle). The frequency comes
from the eigenvalue solver, the table from these divisions alone: its rest checks the one by the other.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from calmshaft.condition import line_fault
from calmshaft.linear.modal import Modes
from calmshaft.linear.views import LinearView


@dataclass(frozen=True, slots=True)
class HolzerRow:
    """A station, at the first station's speed (J r^2, k r^2, angle / r), largest angle 1 rad.

    inertia [kg m^2], angle [rad], inertia_torque J w^2 a less what the ground holds [N m], total: of all stations up
    to here [N m], then the joint behind it: its name, stiffness [N m/rad] (infinite at rigid gears) and twist [rad];
    of the last station no joint, NaN.
    """

    station: str
    inertia: float
    angle: float
    inertia_torque: float
    total: float
    joint: str = ""
    stiffness: float = math.nan
    twist: float = math.nan


@dataclass(frozen=True, slots=True)
class HolzerTable:
    """rows: from the first station past the one that moves most to an end. branches: stations
    aside, whose torque [N m] is in the row they hang on.

    residual [-]: what is left at the end over the largest torque (held still: over the largest angle) of the table.
    """

    angular_frequency: float
    words: str
    rows: tuple[HolzerRow, ...]
    branches: dict[str, float]
    residual: float


def holzer(found: Modes, mode: int) -> HolzerTable:
    """The table of a mode of cs.modes. LineError for a rigid body's mode or a station held midway."""
    frequency = float(found.angular_frequency[mode])
    if not frequency > 0:
        raise line_fault("mode", mode, "does not swing", "take a mode with a frequency")
    seen = np.abs(found.shapes[mode] / found._view.speed_ratios)
    return _Walk(found._view, frequency).table(found.words[mode], int(np.argmax(seen)))


class _Walk:
    """Stations as a tree from the first one, at the first one's speed."""

    def __init__(self, view: LinearView, frequency: float) -> None:
        first, second, _ = view.ends
        self.view, self.square = view, frequency**2
        self.frequency = frequency
        ratios = np.asarray(view.speed_ratios)
        self.inertia = np.asarray(view.core.inertia) * ratios**2
        self.ground = np.asarray(view.core.ground_stiffness) * ratios**2
        self.children: dict[int, list[tuple[int, int, float]]] = {index: [] for index in range(len(view.stations))}
        for joint, (here, there) in enumerate(zip(first, second, strict=True)):
            rigid = view.kinds[joint] == "gear pair"
            stiffness = math.inf if rigid else float(view.core.stiffness[joint]) * ratios[here] ** 2
            self.children[int(here)].append((joint, int(there), stiffness))

    def table(self, words: str, through: int) -> HolzerTable:
        """By way of the station `through`, which moves most: aside it would leave small differences of large ones."""
        path = self._way(0, through)
        fixed = set(self.view.core.fixed)
        if fixed - {0, path[-1][1] if path else 0}:
            raise line_fault("fixed", sorted(fixed), "a station midway is held still", "make two chains of it")
        rows, branches = [], {}
        here, angle, total = 0, 0.0 if 0 in fixed else 1.0, 1.0 if 0 in fixed else 0.0
        for joint, there, stiffness in [*path, (-1, -1, math.nan)]:
            own = (self.inertia[here] * self.square - self.ground[here]) * angle
            for aside, end, spring in self.children[here]:
                if aside != joint:
                    branches[self.view.stations[end]] = self._into(end, spring) * angle
                    own += branches[self.view.stations[end]]
            total += own
            twist = total / stiffness
            name = self.view.joints[joint] if joint >= 0 else ""
            rows.append(HolzerRow(self.view.stations[here], float(self.inertia[here]), angle, own, total, name,
                                  stiffness, twist))  # fmt: skip
            here, angle = there, angle - twist
        return self._scaled(words, rows, branches, rows[-1].station in {self.view.stations[one] for one in fixed})

    def _into(self, station: int, stiffness: float) -> float:
        """Inertia torque that a branch adds, per radian of the station it hangs on."""
        own = self.inertia[station] * self.square - self.ground[station]
        own += sum(self._into(end, spring) for _, end, spring in self.children[station])
        return own if math.isinf(stiffness) else own * stiffness / (stiffness - own)

    def _way(self, station: int, through: int) -> list[tuple[int, int, float]]:
        """Steps from a station past another one to the end that is farthest from there."""
        if station == through:
            return self._farthest(station)
        for step in self.children[station]:
            if step[1] == through or self._leads(step[1], through):
                return [step, *self._way(step[1], through)]
        return self._farthest(station)

    def _leads(self, station: int, to: int) -> bool:
        return any(end == to or self._leads(end, to) for _, end, _ in self.children[station])

    def _farthest(self, station: int) -> list[tuple[int, int, float]]:
        ways = [[step, *self._farthest(step[1])] for step in self.children[station]]
        return max(ways, key=len, default=[])

    def _scaled(self, words: str, rows: list[HolzerRow], branches: dict[str, float], held: bool) -> HolzerTable:
        largest = max(abs(row.angle) for row in rows)
        sign = math.copysign(1 / largest, next(row.angle for row in rows if row.angle))
        scaled = [replace(row, angle=row.angle * sign, inertia_torque=row.inertia_torque * sign,
                          total=row.total * sign, twist=row.twist * sign) for row in rows]  # fmt: skip
        torque = max(max(abs(row.inertia_torque), abs(row.total)) for row in scaled[:-1] or scaled)
        residual = abs(scaled[-1].angle) if held else abs(scaled[-1].total) / torque
        return HolzerTable(self.frequency, words, tuple(scaled), {k: v * sign for k, v in branches.items()}, residual)
