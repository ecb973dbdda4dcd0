"""The launch's equations once more, as someone would write them for SciPy who needs this one line only.

Stations: 0 crank, 1 gearbox input, 2 output, 3 propeller, 4 free pair. Over crank angle, state
[clock | q_1..q_4 | w_0..w_4], q_i = angle_i - speed_ratio_i * crank angle. One function serves plain Python and Numba.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
from scipy.interpolate import CubicSpline
from scipy.optimize import brentq

import calmshaft as cs
from calmshaft import _core
from calmshaft.runs import cylinders, prepared

TABLE_NODES = 5760  # of an engine cycle; the cubic spline through them is off by less than 1e-5 of peak torque
STATES = 10
STATIONS = ["crank and flywheel", "gearbox input", "gearbox output", "propeller", "free pair"]


@dataclass(frozen=True, eq=False)
class Launch:
    """What the equations need of a line in a condition, ahead, with a sprung plate and one unloaded pair. SI."""

    speed: float  # [rad/s] asked of the crank
    rated_torque: float  # [N m]
    stations: list[dict]
    plate: dict
    mesh: dict
    pair: dict
    shaft: dict
    propeller: dict
    drags: list[float]  # [N m] by station
    friction: dict
    resistance: float  # [N m] at the crank
    mean_torque: dict[str, float]  # [N m] by coupling
    cycle: float  # [rad]
    tables: np.ndarray  # (node, 4): inertia, its slope, base torque, torque of one unit of fuelling
    rows: np.ndarray  # (node, 16): spline of the tables, highest power first


def launch(line: cs.Line, at: cs.Condition) -> Launch:
    """The described line's numbers as the library resolves them; the equations below are written anew."""
    found = _core.mass_elastic_system(prepared(line), at.core(cylinders(line)), TABLE_NODES)
    couplings = {coupling["kind"]: coupling for coupling in found["couplings"]}
    assert [station["name"] for station in found["stations"]] == STATIONS
    tables = found["tables"]
    columns = [tables[name] for name in ("inertia", "inertia_slope", "base_torque", "fuelled_torque")]
    columns = np.stack([np.asarray(column) for column in columns], axis=1)
    columns[:, 0] += found["stations"][0]["inertia"]
    grid = np.linspace(0, tables["cycle"], TABLE_NODES + 1)
    spline = CubicSpline(grid, np.vstack([columns, columns[:1]]), bc_type="periodic")
    loads = {load["station"]: load for load in found["loads"] if load["kind"] == "square law"}
    drags = {load["station"]: load["torque"] for load in found["loads"] if load["kind"] == "drag"}
    order = ("spring", "staged damper", "loaded mesh", "unloaded mesh")  # the compiled model's
    return Launch(
        at.core(cylinders(line)).speed, line.core.engine.rated_torque, found["stations"],
        couplings["staged damper"], couplings["loaded mesh"], couplings["unloaded mesh"], couplings["spring"],
        loads[3], [drags.get(station, 0.0) for station in range(5)], found["engine_friction"],
        found["resistance"], dict(zip(order, found["mean_torque"], strict=True)), tables["cycle"], columns,
        np.ascontiguousarray(spline.c.transpose(1, 2, 0).reshape(TABLE_NODES, 16)),
    )  # fmt: skip


def start_state(boat: Launch) -> np.ndarray:
    """Every station at its mean speed, every coupling wound up by its mean torque."""
    torque, plate = boat.mean_torque, boat.plate
    twist = brentq(lambda angle: plate_elastic(plate["ramps"], angle) - torque["staged damper"], 0.0, 1.0)
    state = np.zeros(STATES)
    state[1] = -twist
    closed = {kind: mesh["half_backlash"] + torque[kind] / mesh["stiffness"]
              for kind, mesh in (("loaded mesh", boat.mesh), ("unloaded mesh", boat.pair))}  # fmt: skip
    state[2] = (state[1] - closed["loaded mesh"]) / boat.mesh["ratio"]
    state[3] = state[2] - torque["spring"] / boat.shaft["stiffness"]
    state[4] = (state[1] - closed["unloaded mesh"]) / boat.pair["ratio"]
    state[5:] = [boat.speed * station["speed_ratio"] for station in boat.stations]
    return state


def plate_elastic(ramps: list[dict], twist: float) -> float:
    """Torque of the plate's stages [N m]."""
    return sum(ramp["side"] * ramp["slope"] * max(0.0, ramp["side"] * twist - ramp["corner"]) for ramp in ramps)


def slider(reach: float, memory: Any, twist: Any) -> float:
    """Elastic part of the plate's twist in dry friction [rad]: exact until the plate turns back."""
    return min(max(memory[2] + twist - memory[3], -reach), reach)


def turn_back(boat: Launch, state: Any, memory: Any) -> None:
    """Remember the slider where the plate's twist turns back."""
    twist = -state[1]
    memory[2], memory[3] = slider(boat.plate["presliding_angle"], memory, twist), twist


def _same(function: Callable) -> Callable:
    return function


def equations(boat: Launch, compiled: Callable = _same) -> Callable[[float, Any, Any], tuple[float, ...]]:
    """rates(crank angle, state, memory) -> d(state)/d(crank angle).

    memory: fuelling, mean crank speed, slider and twist of the plate at its last turning back.
    compiled: Numba's njit, or nothing for plain Python.
    """
    rows = boat.rows.tolist() if compiled is _same else boat.rows
    nodes, step = len(rows), boat.cycle / len(rows)
    ramps = tuple((ramp["side"], ramp["corner"], ramp["slope"]) for ramp in boat.plate["ramps"])
    damping, reach, friction = (boat.plate[k] for k in ("damping", "presliding_angle", "friction_torque"))
    drive_stop, coast_stop = boat.plate["drive_stop"], boat.plate["coast_stop"]
    stop, stop_factor = boat.plate["stop_stiffness"], boat.plate["stop_damping_factor"]
    ratio, teeth, factor, half = (boat.mesh[k] for k in ("ratio", "stiffness", "damping_factor", "half_backlash"))
    pair_ratio, pair_teeth = boat.pair["ratio"], boat.pair["stiffness"]
    pair_factor, pair_half = boat.pair["damping_factor"], boat.pair["half_backlash"]
    shaft, shaft_damping = boat.shaft["stiffness"], boat.shaft["damping"]
    law, extra = boat.propeller["coefficient"], boat.propeller["extra_damping"]
    f0, f1, f2 = (boat.friction[k] for k in ("constant", "per_speed", "per_speed_squared"))
    _, j1, j2, j3, j4 = (station["inertia"] for station in boat.stations)
    _, r1, r2, r3, r4 = (station["speed_ratio"] for station in boat.stations)
    d0, d1, d2, d3, d4 = boat.drags
    limited = compiled(slider)

    @compiled
    def flank(stiffness, damping_factor, depth, approach):
        return stiffness * depth * max(0.0, 1.0 + damping_factor * approach) if depth > 0.0 else 0.0

    @compiled
    def rates(angle, y, memory):
        q1, q2, q3, q4, w0, w1, w2, w3, w4 = y[1], y[2], y[3], y[4], y[5], y[6], y[7], y[8], y[9]
        # plate: viscous damping, dry friction, stages, stops
        twist, turning = -q1, w0 - w1
        plate = damping * turning + friction / reach * limited(reach, memory, twist)
        for side, corner, slope in ramps:
            depth = side * twist - corner
            if depth > 0.0:
                plate += side * slope * depth
        plate += flank(stop, stop_factor, twist - drive_stop, turning)
        plate -= flank(stop, stop_factor, -twist - coast_stop, -turning)
        # teeth, shaft, propeller
        twist, rate = q1 - ratio * q2, w1 - ratio * w2
        mesh = flank(teeth, factor, twist - half, rate) - flank(teeth, factor, -twist - half, -rate)
        twist, rate = q1 - pair_ratio * q4, w1 - pair_ratio * w4
        pair = flank(pair_teeth, pair_factor, twist - pair_half, rate)
        pair -= flank(pair_teeth, pair_factor, -twist - pair_half, -rate)
        shaft_torque = shaft * (q2 - q3) + shaft_damping * (w2 - w3)
        mean = r3 * memory[1]
        load = law * (w3 * abs(w3) + extra * abs(mean) * (w3 - mean))
        # engine
        place = int(angle / step)
        x = angle - place * step
        row = rows[place % nodes]
        inertia = ((row[0] * x + row[1]) * x + row[2]) * x + row[3]
        bend = ((row[4] * x + row[5]) * x + row[6]) * x + row[7]
        gas = ((row[8] * x + row[9]) * x + row[10]) * x + row[11]
        gas += memory[0] * (((row[12] * x + row[13]) * x + row[14]) * x + row[15])
        crank = gas - f0 - w0 * (f1 + w0 * f2) - 0.5 * bend * w0 * w0 - plate - d0
        s = 1.0 / w0
        return (
            s, (w1 - r1 * w0) * s, (w2 - r2 * w0) * s, (w3 - r3 * w0) * s, (w4 - r4 * w0) * s,
            crank / inertia * s, (plate - mesh - pair - d1) / j1 * s, (ratio * mesh - shaft_torque - d2) / j2 * s,
            (shaft_torque - load - d3) / j3 * s, (pair_ratio * pair - d4) / j4 * s,
        )  # fmt: skip

    return rates


def mesh_torque(boat: Launch, states: np.ndarray) -> np.ndarray:
    """Torque in the loaded mesh [N m] of states (state, sample), at its input side."""
    twist = states[1] - boat.mesh["ratio"] * states[2]
    rate = states[6] - boat.mesh["ratio"] * states[7]
    total = np.zeros_like(twist)
    for side in (1.0, -1.0):
        depth = np.maximum(side * twist - boat.mesh["half_backlash"], 0.0)
        opening = np.maximum(1.0 + boat.mesh["damping_factor"] * side * rate, 0.0)
        total += side * boat.mesh["stiffness"] * depth * opening
    return total
