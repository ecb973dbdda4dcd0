"""One steady condition of a line."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from calmshaft import _core
from calmshaft.condition import Condition, line_fault
from calmshaft.line import Line
from calmshaft.results import STATUS, signals_dataset

if TYPE_CHECKING:
    import xarray as xr


@dataclass(frozen=True)
class Run:
    """The steady state of one condition.

    status: "periodic", "subharmonic", "aperiodic", "stalled" or "failed", with `reason` for the last two.
    measures: value by name, SI (names, units and meanings: calmshaft.results.MEASURES); peaks are NaN unless
    the motion repeats, see `spread` for their mean, lowest and highest cycle and standard error.
    orders: complex amplitudes [N m] of orders 0.5, 1, ... 24 of the loaded mesh (neutral: unloaded pair).
    signals: xarray.Dataset over crank_angle, one whole period (eight cycles where it does not repeat).
    energy_audit: work in, dissipated, stored [J] and the defect, which is numerical error.
    """

    line: Line
    at: Condition
    status: str
    reason: str
    measures: dict[str, float] = field(repr=False)
    spread: dict[str, dict[str, float]] = field(repr=False)
    orders: np.ndarray = field(repr=False)
    fuelling: float
    overfuelled: bool
    period_cycles: int
    cycles: int
    steps_per_cycle: int
    energy_audit: dict[str, float] = field(repr=False)
    signals: xr.Dataset | None = field(repr=False)

    def best(self, name: str) -> float:
        """The value where it stands, else the mean over cycles (NaN where neither exists)."""
        value = self.measures[name]
        return self.spread[name]["mean"] if np.isnan(value) and self.spread[name]["cycles"] else value


@lru_cache(maxsize=256)
def prepared(line: Line, like: Line | None = None) -> _core.PreparedLine:
    """The line with its engine's cycles worked out; kept, since many conditions share it.

    like: a line whose cycles serve both where its engine is the same.
    """
    return _core.PreparedLine(line.core) if like is None else _core.PreparedLine(line.core, prepared(like))


def cylinders(line: Line) -> int:
    """Number of cylinders."""
    return len(line.core.engine.firing_angles)


def fire_evenly(line: Line) -> bool:
    """Whether it makes no difference which cylinder misfires: even intervals, and the crank is rigid in every model."""
    angles = np.sort(line.core.engine.firing_angles)
    return bool(np.ptp(np.diff(angles, append=angles[0] + math.pi * line.core.engine.strokes)) < 1e-9)


def usual_gear(line: Line) -> str:
    """ "ahead", or "neutral" where the line ends at the gearbox."""
    ahead = Condition(rpm=line.quantities["engine.idle_rpm"].value * 30 / math.pi, gear="ahead")
    faults = _core.check(line.core, ahead.core(cylinders(line)))
    return "neutral" if any(fault.path == "gear" for fault in faults) else "ahead"


def check_budget(steps_per_cycle: int, most_cycles: int = 72) -> None:
    """Raises LineError for steps that orders and bins cannot be had from, or a budget of no cycles."""
    divides = steps_per_cycle % 336 == 0 or steps_per_cycle % 360 == 0
    if steps_per_cycle and not (336 <= steps_per_cycle <= 100_000 and divides):
        raise line_fault("steps_per_cycle", steps_per_cycle, "must be a multiple of 336 or 360", "write 0 or e.g. 2880")
    if most_cycles < 24:
        raise line_fault("most_cycles", most_cycles, "statistics need 24 cycles", "write 24 or more")


def steady(line: Line, at: Condition, *, steps_per_cycle: int = 0, most_cycles: int = 72) -> Run:
    """The periodic steady state of one condition.

    steps_per_cycle: 0 picks it by the line's highest mode and the speed. most_cycles: budget before a
    motion that does not settle is called aperiodic. Raises LineError when the condition does not fit the line;
    a numerical failure is a status.
    """
    check_budget(steps_per_cycle, most_cycles)
    found = _core.steady(prepared(line), at.core(cylinders(line)), steps_per_cycle, most_cycles)
    signals = found.pop("signals", None)
    about = {"title": line.title, "condition": condition_text(at)}
    return Run(
        line=line,
        at=at,
        signals=None if signals is None else signals_dataset(signals, about),
        **{**found, "status": STATUS[found["status"]]},
    )


def condition_text(at: Condition) -> str:
    """The condition in words."""
    misfire = "" if at.misfiring == "none" else f", misfiring {at.misfiring}"
    return f"{at.rpm:g} rpm, {at.gear}, {at.load}, {at.fuelling} fuelling{misfire}"
