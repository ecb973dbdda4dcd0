"""The lowest idle speed at which the gearbox is quiet, healthy and with a cylinder dead."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import asdict, dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from calmshaft.condition import HEALTHY, Condition, Misfiring, line_fault, misfiring_label
from calmshaft.judgement.rules import SEPARATED_LIMIT
from calmshaft.line import Line
from calmshaft.misfiring import fault_words
from calmshaft.runs import cylinders, fire_evenly, usual_gear
from calmshaft.speed_steps import STEP
from calmshaft.sweeps import sweep
from calmshaft.wording import number

if TYPE_CHECKING:
    import xarray as xr

LOWEST, HIGHEST = 0.75, 1.25  # [-] of idle speed, and of max_shift_rpm: the speeds looked at; ours
RPM = math.pi / 30.0  # [rad/s]


@dataclass(frozen=True, slots=True)
class QuietIdle:
    """One answer. rpm [rpm]: lowest quiet speed, NaN where none was found; loaded_rpm [rpm]: the lowest at which the
    loaded teeth stay together, NaN in neutral; remedy: whether idle could be set there, None where it cannot be judged;
    words: the same for people."""

    gear: str
    misfiring: str
    rpm: float
    loaded_rpm: float
    remedy: bool | None
    words: str

    def as_dict(self) -> dict[str, Any]:
        """Plain values, None for NaN."""
        return {key: None if value != value else value for key, value in asdict(self).items()}


def quiet_idle(
    line: Line,
    misfiring: Sequence[Misfiring] | None = None,
    gears: Sequence[str] | None = None,
    step: float = STEP,
    threads: int = 0,
) -> tuple[QuietIdle, ...]:
    """For each gear and fault the lowest speed, of steps [rpm] from 0.75 idle on, that is quiet with the step above it.

    Quiet: the teeth of every unloaded pair, and in gear those of the loaded mesh as well, are apart for no more than
    0.1 % of the time. misfiring: faults as Condition takes them; by default none, and one cylinder dead (each of them
    where they are not alike). gears: by default neutral, and ahead where the line has it. Raises LineError.
    """
    if not 1.0 <= step <= 500.0:
        raise line_fault("step", step, "lies between 1 and 500 rpm", "write for instance 25")
    faults = [misfiring_label(one) for one in misfiring] if misfiring is not None else [HEALTHY, *one_dead(line)]
    gears = list(gears) if gears is not None else list(dict.fromkeys(["neutral", usual_gear(line)]))
    speeds = _speeds(line, step)
    axes = {"gear": gears, "misfiring": faults, "rpm": speeds}
    found = sweep(line, axes, Condition(float(speeds[0]), gears[0]), threads=threads)
    return tuple(_answer(line, found.sel(gear=gear, misfiring=fault)) for gear in gears for fault in faults)


def one_dead(line: Line) -> list[str]:
    """Labels of every cylinder dead by itself; of one, where it makes no difference which."""
    return [str(n) for n in range(1, 2 if fire_evenly(line) else cylinders(line) + 1)]


def is_quiet(gear: str, free: np.ndarray, loaded: np.ndarray) -> np.ndarray:
    """Whether the gearbox is quiet. free, loaded [-]: shares of time that teeth are apart, NaN of teeth not there."""
    if gear == "neutral":
        return free <= SEPARATED_LIMIT
    return (loaded <= SEPARATED_LIMIT) & ~(free > SEPARATED_LIMIT)


def _rpm(line: Line, key: str) -> float:
    return line.quantities[key].value / RPM


def _speeds(line: Line, step: float) -> list[float]:
    idle, shift = _rpm(line, "engine.idle_rpm"), _rpm(line, "engine.max_shift_rpm")
    count = max(2, math.ceil((HIGHEST * max(shift, idle) - LOWEST * idle) / step) + 1)
    return [round(LOWEST * idle + step * n, 6) for n in range(count)]


def _answer(line: Line, part: xr.Dataset) -> QuietIdle:
    """part: over rpm, of one gear and one fault. Where the engine stalls shares are NaN, which is not quiet."""
    gear, fault, speeds = str(part.gear.values), str(part.misfiring.values), part.rpm.values
    neutral = gear == "neutral"
    free, loaded = part.unloaded_mesh_separated_share.values, part.mesh_separated_share.values
    case = f"{gear}, {fault_words(line, fault)}"
    if np.isnan(free).all() and (neutral or np.isnan(loaded).all()):
        return QuietIdle(gear, fault, math.nan, math.nan, None, f"{case}: not judged, no teeth there that could part")
    together, quiet = loaded <= SEPARATED_LIMIT, is_quiet(gear, free, loaded)
    rpm, loaded_rpm = _lowest(speeds, quiet), math.nan if neutral else _lowest(speeds, together)
    remedy, words = _said(line, speeds, quiet, rpm)
    if loaded_rpm < rpm or (loaded_rpm == loaded_rpm and rpm != rpm):
        words += f" (at {number(loaded_rpm)} rpm the loaded teeth stay together, but the free pair rattles)"
    return QuietIdle(gear, fault, rpm, loaded_rpm, remedy, f"{case}: {words}")


def _lowest(speeds: np.ndarray, quiet: np.ndarray) -> float:
    """The lowest speed that is quiet with the one above it; NaN where there is none."""
    both = np.flatnonzero(quiet[:-1] & quiet[1:])
    return float(speeds[both[0]]) if both.size else math.nan


def _said(line: Line, speeds: np.ndarray, quiet: np.ndarray, rpm: float) -> tuple[bool | None, str]:
    """Whether idle could be set to `rpm`, and the answer in words."""
    idle, shift = _rpm(line, "engine.idle_rpm"), _rpm(line, "engine.max_shift_rpm")
    if not math.isfinite(rpm):
        looked_at = f"{number(speeds[0])} to {number(speeds[-1])} rpm"
        return False, f"not quiet anywhere from {looked_at}; idle speed is not a remedy"
    words = f"quiet at {number(rpm)} rpm, not below"
    if rpm <= idle and quiet[speeds >= idle][:1].all():
        words = f"quiet at idle as it is set; the lowest quiet speed is {number(rpm)} rpm"
    if line.quantities["engine.max_shift_rpm"].source == "estimated":
        return None, f"{words}; whether idle may be set there is not judged, max_shift_rpm is not given"
    if rpm > shift:
        return False, f"{words}, above the {number(shift)} rpm at which the gear may be shifted: not a remedy"
    return True, words
