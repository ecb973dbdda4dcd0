"""The lowest idle speed at which the gearbox is quiet, healthy and with a cylinder dead."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from calmshaft.condition import Condition, Misfiring, line_fault, misfiring_label
from calmshaft.judgement.rules import SEPARATED_LIMIT
from calmshaft.line import Line
from calmshaft.misfiring import cylinders_alike
from calmshaft.runs import cylinders
from calmshaft.sweeps import sweep

LOWEST, HIGHEST = 0.75, 1.25  # [-] of idle speed, and of max_shift_rpm (else of twice idle speed): the speeds looked at
_SHARE = {"neutral": "unloaded_mesh_separated_share"}  # in gear: that of the loaded mesh


@dataclass(frozen=True, slots=True)
class QuietIdle:
    """One answer. rpm [rpm]: lowest quiet speed, NaN where none was found; remedy: whether idle could be set there,
    None where the gearbox's max_shift_rpm is not given; words: the same for people."""

    gear: str
    misfiring: str
    rpm: float
    remedy: bool | None
    words: str


def quiet_idle(
    line: Line,
    misfiring: Sequence[Misfiring] | None = None,
    gears: Sequence[str] = ("neutral", "ahead"),
    step: float = 25.0,
    threads: int = 0,
) -> tuple[QuietIdle, ...]:
    """For each gear and fault the lowest speed, of steps [rpm] from 0.75 idle on, that is quiet with the step above it.

    Quiet: teeth apart for no more than 0.1 % of the time, in gear those of the loaded mesh, in neutral those of every
    unloaded pair. misfiring: faults as Condition takes them; by default healthy and one cylinder dead (each of them
    where they are not alike). Raises LineError.
    """
    if not 1.0 <= step <= 500.0:
        raise line_fault("step", step, "lies between 1 and 500 rpm", "write for instance 25")
    faults = [misfiring_label(one) for one in misfiring] if misfiring is not None else _usual_faults(line)
    speeds = _speeds(line, step)
    at = Condition(rpm=float(speeds[0]), gear=gears[0])
    found = sweep(line, {"gear": list(gears), "misfiring": faults, "rpm": speeds}, at, threads=threads)
    answers = []
    for gear in gears:
        apart = found[_SHARE.get(gear, "mesh_separated_share")].sel(gear=gear)
        answers += [_answer(line, gear, fault, speeds, apart.sel(misfiring=fault).values) for fault in faults]
    return tuple(answers)


def _usual_faults(line: Line) -> list[str]:
    dead = 1 if cylinders_alike(line) else cylinders(line)
    return ["none", *(str(n) for n in range(1, dead + 1))]


def _rpm(line: Line, key: str) -> float:
    quantity = line.quantities.get(key)
    return quantity.value * 30 / math.pi if quantity else math.nan


def _speeds(line: Line, step: float) -> np.ndarray:
    idle, shift = _rpm(line, "engine.idle_rpm"), _rpm(line, "engine.max_shift_rpm")
    highest = HIGHEST * (shift if math.isfinite(shift) else 2 * idle)
    lowest = LOWEST * idle
    return lowest + step * np.arange(max(2, math.ceil((highest - lowest) / step) + 1))


def _answer(line: Line, gear: str, fault: str, speeds: np.ndarray, apart: np.ndarray) -> QuietIdle:
    quiet = apart <= SEPARATED_LIMIT  # NaN, where the engine stalls, is not quiet
    both = np.flatnonzero(quiet[:-1] & quiet[1:])
    engine = "all cylinders firing" if fault == "none" else f"misfiring {fault}"
    case = f"{gear}, {engine}"
    if np.isnan(apart).all():
        return QuietIdle(gear, fault, math.nan, None, f"{case}: not judged, no teeth there that could part")
    if not both.size:
        words = f"{case}: not quiet anywhere from {speeds[0]:.0f} to {speeds[-1]:.0f} rpm; idle speed is not a remedy"
        return QuietIdle(gear, fault, math.nan, False, words)
    rpm, shift = float(speeds[both[0]]), _rpm(line, "engine.max_shift_rpm")
    idle = _rpm(line, "engine.idle_rpm")
    words = f"{case}: quiet from {rpm:.0f} rpm" + (" on, which idle already is" if rpm <= idle else "")
    if rpm <= idle:
        words = f"{case}: quiet at idle, from {rpm:.0f} rpm" if quiet[speeds >= idle][:1].all() else words
    if not math.isfinite(shift):
        unknown = "max_shift_rpm is not given, so whether it helps is not judged"
        return QuietIdle(gear, fault, rpm, None, f"{words}; {unknown}")
    if rpm > shift:
        return QuietIdle(gear, fault, rpm, False, f"{words}, above max_shift_rpm {shift:.0f}: not a remedy")
    return QuietIdle(gear, fault, rpm, True, words)
