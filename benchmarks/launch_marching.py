"""March the launch's equations to the steady state, as calmshaft does, with any integrator of one engine cycle."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cache
from typing import Any

import numpy as np
from scipy.integrate import solve_ivp

from launch_equations import STATES, Launch, equations, mesh_torque, start_state, turn_back

try:
    import numba
except ImportError:
    numba = None

# Sizes of the states for absolute tolerances: a cycle's time, the teeth's deflection, a small speed.
SIZES = np.array([0.1] + [2.5e-5] * 4 + [1.0] * 5)
SAME, ALIKE = 5e-4, 8  # cycles are the same to this share of rated torque or ripple; so many must be
QUICK, SLOW = 6, 0.25  # cycles of full correction, and its gain after that

Cycle = Callable[[np.ndarray, Any], np.ndarray]  # (state, memory) -> states (state, node) of one engine cycle


@dataclass
class March:
    """Where marching has come to, and what each cycle showed."""

    state: np.ndarray
    memory: list[float]
    ripple: list[float] = field(default_factory=list)  # [N m]
    least: list[float] = field(default_factory=list)  # [N m]
    seconds: list[float] = field(default_factory=list)  # of processor time, each cycle

    def copy(self) -> March:
        """The same place with no cycles seen."""
        return March(self.state.copy(), list(self.memory))


def cold(boat: Launch) -> March:
    """The start: mean speeds, mean twists, the fuelling that balances the mean torques."""
    state = start_state(boat)
    fuelling = (boat.resistance - boat.tables[:, 2].mean()) / boat.tables[:, 3].mean()
    return March(state, [fuelling, boat.speed, 0.0, -state[1]])


def scipy_cycle(boat: Launch, method: str, tolerance: float, compiled: bool, nodes: int) -> Cycle:
    """One engine cycle by solve_ivp, started afresh wherever the plate's twist turns back and its friction with it.

    nodes: even crank angles at which the cycle is looked at.
    """
    grid = np.linspace(0.0, boat.cycle, nodes + 1)
    rates = compiled_rates(boat) if compiled else _list_rates(equations(boat))

    def run(state: np.ndarray, memory: list[float]) -> np.ndarray:
        held = np.array(memory) if compiled else memory
        angle, parts, ahead = 0.0, [state[:, None]], state[5] > state[6]
        while angle < boat.cycle:

            def turns_back(_angle: float, y: np.ndarray) -> float:
                return y[5] - y[6]

            turns_back.terminal, turns_back.direction = True, -1 if ahead else 1
            part = solve_ivp(
                lambda angle, y, held=held: rates(angle, y, held), (angle, boat.cycle), state, method,
                t_eval=grid[grid > angle], events=turns_back, rtol=tolerance, atol=tolerance * SIZES,
            )  # fmt: skip
            if part.status < 0:
                raise RuntimeError(f"{method} at {tolerance:g}: {part.message}")
            parts += [part.y] if len(part.t) else []
            if part.status == 0:
                break
            angle, state, ahead = part.t_events[0][0], part.y_events[0][0], not ahead
            turn_back(boat, state, held)
        memory[:] = [float(value) for value in held]
        return np.concatenate(parts, axis=1)

    return run


def _list_rates(rates: Callable) -> Callable:
    return lambda angle, y, memory: rates(angle, y.tolist(), memory)


@cache
def compiled_rates(boat: Launch) -> Callable:
    """The equations compiled by Numba, which takes seconds, for solve_ivp."""
    rates = equations(boat, numba.njit)

    @numba.njit
    def as_array(angle, y, memory):
        found = np.empty(STATES)
        for i, rate in enumerate(rates(angle, y, memory)):
            found[i] = rate
        return found

    as_array(0.0, np.ones(STATES), np.ones(4))
    return as_array


def loop_cycle(boat: Launch, steps: int) -> Cycle:
    """One engine cycle by a loop of fourth-order Runge-Kutta steps, all of it compiled by Numba."""
    march = compiled_loop(boat)

    def run(state: np.ndarray, memory: list[float]) -> np.ndarray:
        held, states = np.array(memory), np.empty((steps + 1, STATES))
        states[0] = state
        march(states, held, boat.cycle / steps)
        memory[:] = held.tolist()
        return states.T

    return run


@cache
def compiled_loop(boat: Launch) -> Callable:
    """Equations and steps compiled by Numba, which takes seconds."""
    rates, reach = equations(boat, numba.njit), boat.plate["presliding_angle"]

    @numba.njit
    def march(states, memory, step):
        y = np.empty(STATES)
        for number in range(len(states) - 1):
            begin, angle = states[number], number * step
            a = rates(angle, begin, memory)
            for i in range(STATES):
                y[i] = begin[i] + step / 2 * a[i]
            b = rates(angle + step / 2, y, memory)
            for i in range(STATES):
                y[i] = begin[i] + step / 2 * b[i]
            c = rates(angle + step / 2, y, memory)
            for i in range(STATES):
                y[i] = begin[i] + step * c[i]
            d = rates(angle + step, y, memory)
            for i in range(STATES):
                states[number + 1, i] = begin[i] + step / 6 * (a[i] + 2 * b[i] + 2 * c[i] + d[i])
            twist = -states[number + 1, 1]
            memory[2] = min(max(memory[2] + twist - memory[3], -reach), reach)
            memory[3] = twist

    march(np.ones((1, STATES)), np.ones(4), 1.0)
    return march


def advance(boat: Launch, march: March, cycle: Cycle, corrected: bool = True) -> None:
    """One more engine cycle, measured; then speed and fuelling corrected towards the asked speed."""
    begun = time.process_time()
    states = cycle(march.state, march.memory)
    least, greatest = extremes(mesh_torque(boat, states))
    march.ripple.append(greatest - least)
    march.least.append(least)
    end = states[:, -1].copy()
    if corrected:
        _correct(boat, march, end)
    end[0] = 0.0
    march.state = end
    march.seconds.append(time.process_time() - begun)


def _correct(boat: Launch, march: March, end: np.ndarray) -> None:
    """The library's own rule: speed towards the asked one, fuelling against the torque left over."""
    gain = 1.0 if len(march.ripple) <= QUICK else SLOW
    ratios = np.array([station["speed_ratio"] for station in boat.stations])
    inertias = np.array([boat.tables[0, 0]] + [station["inertia"] for station in boat.stations[1:]])
    surplus = float(np.sum(inertias * ratios * (end[5:] - march.state[5:]))) / end[0]
    short = boat.speed - boat.cycle / end[0]
    load, friction = boat.propeller, boat.friction
    slope = friction["per_speed"] + 2 * friction["per_speed_squared"] * boat.speed
    slope += (2 + load["extra_damping"]) * load["coefficient"] * abs(ratios[3]) ** 3 * boat.speed
    end[5:] += gain * short * ratios
    march.memory[0] += gain * (slope * short - surplus) / boat.tables[:, 3].mean()


def settled(boat: Launch, march: March, same: float = SAME) -> bool:
    """Whether the last cycles agree in ripple and least torque."""
    if len(march.ripple) < ALIKE:
        return False
    tolerance = same * max(boat.rated_torque, march.ripple[-1])
    return all(np.ptp(values[-ALIKE:]) <= tolerance for values in (march.ripple, march.least))


def extremes(torque: np.ndarray) -> tuple[float, float]:
    """Least and greatest by the parabola through the extreme sample and its neighbours; open teeth are exactly 0."""
    found = []
    for sign in (-1.0, 1.0):
        middle = int(np.clip(np.argmax(sign * torque), 1, len(torque) - 2))
        a, b, c = (float(value) for value in torque[middle - 1 : middle + 2])
        bend = a - 2 * b + c
        place = np.clip((a - c) / (2 * bend), -0.5, 0.5) if bend * sign < 0 and b != 0 else 0.0
        found.append(b + 0.5 * place * (c - a + place * bend))
    return found[0], found[1]
