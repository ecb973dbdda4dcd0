"""CVODE and Boost.Odeint on the launch's equations: one engine cycle each, and why a way is left out."""

from __future__ import annotations

import ctypes
from functools import cache
from pathlib import Path

import numpy as np

from launch_equations import STATES, Launch, turn_back
from launch_marching import SIZES, Cycle, compiled_rates, numba
from native import boost, compiled, compiler_missing

try:
    from sksundae.cvode import CVODE
except ImportError:
    CVODE = None

SOURCE = Path(__file__).with_name("launch_odeint.cpp")
MOST_STEPS = 1_000_000  # of CVODE between two looks, of Odeint in an engine cycle
ODEINT_FLAGS = ("-std=c++20", "-O3", "-march=native")  # more than calmshaft is built with


def cvode_missing() -> str | None:
    """Why CVODE cannot be measured; None: it can."""
    if numba is None:
        return "Numba is not installed"
    return "scikit-sundae is not installed" if CVODE is None else None


def cvode_cycle(boat: Launch, method: str, tolerance: float, nodes: int) -> Cycle:
    """One engine cycle by CVODE, started afresh wherever the plate's twist turns back, as for solve_ivp.

    method: "Adams" or "BDF". The right-hand side is the one that Numba compiles; CVODE calls it through Python.
    """
    grid, rates = np.linspace(0.0, boat.cycle, nodes + 1), compiled_rates(boat)

    def run(state: np.ndarray, memory: list[float]) -> np.ndarray:
        held = np.array(memory)

        def fill(angle: float, y: np.ndarray, out: np.ndarray) -> None:
            out[:] = rates(angle, y, held)

        def turns_back(_angle: float, y: np.ndarray, out: np.ndarray) -> None:
            out[0] = y[5] - y[6]

        angle, parts, ahead = 0.0, [state[:, None]], state[5] > state[6]
        while angle < boat.cycle:
            turns_back.terminal, turns_back.direction = [True], [-1 if ahead else 1]
            looks = np.concatenate([[angle], grid[grid > angle]])
            # two times would ask for every step of its own choice
            between = looks if len(looks) > 2 else np.insert(looks, 1, looks.mean())
            solver = CVODE(fill, method=method, rtol=tolerance, atol=tolerance * SIZES, eventsfn=turns_back,
                           num_events=1, max_num_steps=MOST_STEPS)  # fmt: skip
            part = solver.solve(between, state)
            if part.status < 0:
                raise RuntimeError(f"CVODE {method} at {tolerance:g}: {part.message}")
            parts.append(part.y[np.isin(part.t, looks[1:])].T)
            if part.t_events is None:
                break
            angle, state, ahead = float(part.t_events[0]), np.array(part.y_events[0]), not ahead
            turn_back(boat, state, held)
        memory[:] = held.tolist()
        return np.concatenate(parts, axis=1)

    return run


ORDER = """damping reach friction drive_stop coast_stop stop stop_factor ratio teeth factor half
    pair_ratio pair_teeth pair_factor pair_half shaft shaft_damping law extra f0 f1 f2
    j1 j2 j3 j4 r1 r2 r3 r4 d0 d1 d2 d3 d4 cycle"""


class Numbers(ctypes.Structure):
    """The launch's numbers in the order of the struct in launch_odeint.cpp, SI."""

    _fields_ = [(name, ctypes.c_double) for name in ORDER.split()]


def _numbers(boat: Launch) -> Numbers:
    plate, mesh, pair, shaft = boat.plate, boat.mesh, boat.pair, boat.shaft
    teeth = ("ratio", "stiffness", "damping_factor", "half_backlash")
    parts = ("damping", "presliding_angle", "friction_torque", "drive_stop", "coast_stop", "stop_stiffness",
             "stop_damping_factor")  # fmt: skip
    return Numbers(
        *(plate[key] for key in parts), *(mesh[key] for key in teeth), *(pair[key] for key in teeth),
        shaft["stiffness"], shaft["damping"], boat.propeller["coefficient"], boat.propeller["extra_damping"],
        *(boat.friction[key] for key in ("constant", "per_speed", "per_speed_squared")),
        *(station["inertia"] for station in boat.stations[1:]),
        *(station["speed_ratio"] for station in boat.stations[1:]), *boat.drags, boat.cycle,
    )  # fmt: skip


def odeint_missing() -> str | None:
    """Why Boost.Odeint cannot be measured; None: it can."""
    if boost() is None:
        return "no Boost headers: pip install boost-headers, or set BOOST_ROOT"
    return compiler_missing()


@cache
def compiled_odeint() -> ctypes.CDLL:
    """launch_odeint.cpp as a library; takes seconds, once for all lines."""
    loaded = compiled(SOURCE, *ODEINT_FLAGS, f"-isystem{boost()}")
    loaded.launch_cycle.restype = ctypes.c_long
    return loaded


def odeint_cycle(boat: Launch, tolerance: float, nodes: int) -> Cycle:
    """One engine cycle by Boost.Odeint's dopri5 under step control with dense output, all of it in C++."""
    march, numbers = compiled_odeint().launch_cycle, _numbers(boat)
    ramps = np.array([[ramp["side"], ramp["corner"], ramp["slope"]] for ramp in boat.plate["ramps"]])

    def pointer(array: np.ndarray) -> ctypes.c_void_p:
        return ctypes.c_void_p(array.ctypes.data)

    def run(state: np.ndarray, memory: list[float]) -> np.ndarray:
        held, states = np.array(memory), np.empty((nodes + 1, STATES))
        states[0] = state
        steps = march(
            ctypes.byref(numbers), pointer(ramps), len(ramps), pointer(boat.rows), len(boat.rows), pointer(SIZES),
            ctypes.c_double(tolerance), ctypes.c_long(MOST_STEPS), pointer(held), nodes, pointer(states),
        )  # fmt: skip
        if steps < 0:
            raise RuntimeError(f"Odeint at {tolerance:g}: more than {MOST_STEPS} steps, or not a number")
        memory[:] = held.tolist()
        return states.T

    return run
