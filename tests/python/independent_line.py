"""Independent second implementation of a steady condition, used as a test oracle: `steady(line, condition)`.

Written from the equations, not from the library. Line and condition are nested dicts or objects in SI with
the field names of the library's elements.
"""

from dataclasses import dataclass
from typing import Any

import numpy as np

from independent_build import build, resistance, resistance_slope, start_state
from independent_chain import Chain
from independent_cycle import Cycle, integrate_cycle
from independent_engine import EngineTables, described


@dataclass
class SteadyAnswer:
    """What the oracle found: headline measures per cycle, the last cycle in full."""

    status: str  # "periodic", or "not periodic" within the cycles allowed
    cycles: int
    fuelling: float
    mean_speed: float  # [rad/s] of the last cycle
    measures: dict[str, float]  # of the last cycle
    history: dict[str, list[float]]  # per cycle
    last: Cycle
    chain: Chain


def extremes(angle: np.ndarray, values: np.ndarray) -> tuple[float, float]:
    """Least and greatest value by a parabola through the extreme sample; an open contact's 0 is exact."""
    found = []
    for sign in (-1, 1):
        best = int(np.clip(np.argmax(sign * values), 1, len(values) - 2))
        near = slice(best - 1, best + 2)
        offset = angle[near] - angle[best]
        bend, tilt, level = np.polyfit(offset, values[near], 2)
        top = -tilt / (2 * bend) if bend * sign < 0 else 0.0
        inside = offset[0] <= top <= offset[2] and values[best] != 0
        found.append(float(level + tilt * top + bend * top**2) if inside else float(values[best]))
    return found[0], found[1]


def measures(chain: Chain, cycle: Cycle) -> dict[str, float]:
    """Headline measures of one cycle; torques at the input side of the mesh (neutral: unloaded pair)."""
    count = len(chain.turns)
    mesh = "mesh" if chain.propeller is not None else chain.gaps[0][0]
    torque, weights = cycle.joints[mesh], cycle.weights
    half = chain.gaps[-1 if mesh == "mesh" else 0][3].half
    angle, speed = cycle.states[:, 0], cycle.states[:, count]
    angle_weights = weights * speed / chain.tables.period
    least, greatest = extremes(angle, torque)
    found = {
        "mesh_ripple": greatest - least,
        "mesh_min": least,
        "mesh_max": greatest,
        "mesh_mean": float(np.sum(angle_weights * torque)),
        "mesh_vibratory": vibratory(torque, angle, angle_weights, chain.tables.period),
        "mesh_separated": float(np.sum(weights * (np.abs(cycle.joints[mesh + "_twist"]) < half)) / cycle.duration),
        "mean_speed": chain.tables.period / cycle.duration,
        "irregularity": float(np.ptp(speed)) * cycle.duration / chain.tables.period,
        "audit": cycle.audit["defect"] / cycle.audit["gas"],
    }
    if chain.spring is not None:
        found["twist_min"], found["twist_max"] = extremes(angle, cycle.joints["plate_twist"])
        found["plate_ripple"] = float(np.ptp(extremes(angle, cycle.joints["plate"])))
    return found


def vibratory(torque: np.ndarray, angle: np.ndarray, angle_weights: np.ndarray, period: float) -> float:
    """Half range of the synthesis of orders 0.5 to 12 (per crank turn)."""
    numbers = np.arange(1, round(12 * period / (2 * np.pi)) + 1)
    grid = np.arange(1440) * period / 1440
    pattern = np.zeros(1440)
    for number in numbers:
        wave = 2 * np.pi * number / period
        factor = 2 * np.sum(angle_weights * torque * np.exp(-1j * wave * angle))
        pattern += np.real(factor * np.exp(1j * wave * grid))
    return float(np.ptp(pattern)) / 2


def steady(
    line: Any, condition: Any, tables: EngineTables | None = None, fuelling: float | None = None,
    state: np.ndarray | None = None, most_cycles: int = 40, settled: int = 4, rtol: float = 1e-9,
    tolerance: float = 5e-4,
) -> SteadyAnswer:  # fmt: skip
    """March cycles until headline measures repeat; a given `fuelling` is kept and the speed left free.

    Otherwise each cycle ends with a Newton step on the fuelling, from its speed and its gain of momentum.
    """
    condition = described(condition)
    chain = build(line, condition, tables)
    speed, given, rated = condition.speed, fuelling is not None, described(line).engine.rated_torque
    gain = float(chain.tables.fuelled.mean())
    if not given:
        fuelling = (resistance(chain, speed) - float(chain.tables.base.mean())) / gain
    state = start_state(chain, speed) if state is None else np.array(state, dtype=float)
    history: dict[str, list[float]] = {}
    quiet = 0
    for number in range(1, most_cycles + 1):
        chain.set_fuelling(fuelling)
        cycle = integrate_cycle(chain, state, rtol=rtol)
        found = measures(chain, cycle)
        for name, value in found.items():
            history.setdefault(name, []).append(value)
        quiet = quiet + 1 if repeats(history, tolerance, rated, speed, given) else 0
        if quiet >= settled or number == most_cycles:
            break
        state = cycle.state.copy()
        defect = (cycle.momentum[1] - cycle.momentum[0]) / cycle.duration
        short, trust = speed - found["mean_speed"], 1.0 if number <= 6 else 0.25
        slope = resistance_slope(chain, speed)
        if given:  # the mean goes with the speed, so the extra damping resists no change of it
            short = defect / (slope - chain.extra_slope())
            chain.set_mean_speed(found["mean_speed"] + trust * short)
        else:
            fuelling += trust * (slope * short - defect) / gain
        state[len(chain.turns) :] += trust * short / np.array(chain.turns)
    status = "periodic" if quiet >= settled else "not periodic"
    return SteadyAnswer(status, number, fuelling, found["mean_speed"], found, history, cycle, chain)


def repeats(history: dict[str, list[float]], tolerance: float, rated: float, speed: float, speed_is_free: bool) -> bool:
    """Whether the last cycle repeats the one before (to a share of it or of rated torque) at that speed."""
    if len(history["mesh_ripple"]) < 2:
        return False
    torque_names = [name for name in ("mesh_ripple", "mesh_min", "mesh_vibratory", "plate_ripple") if name in history]
    for name in torque_names:
        before, now = history[name][-2:]
        if abs(now - before) > tolerance * max(rated, abs(now)):
            return False
    before, now = history["mean_speed"][-2:]
    return abs(now - before) < tolerance * speed and (speed_is_free or abs(now - speed) < 1e-3 * speed)
