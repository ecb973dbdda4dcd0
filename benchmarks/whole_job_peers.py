"""What the whole job would cost other integrators, from a few of its points."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING, Any

import numpy as np

import calmshaft as cs
from launch_equations import Launch, launch
from launch_marching import Cycle, March, advance, cold, loop_cycle, numba, scipy_cycle
from launch_measuring import LOOP, ODEINT, left_out
from launch_peers import cvode_cycle, cvode_missing, odeint_cycle, odeint_missing

if TYPE_CHECKING:
    import xarray as xr

SEED = 1
WARM_CYCLES = 6  # marched before the cycle that is compared
TOLERANCES = (1e-4, 1e-5, 1e-6, 1e-7, 1e-8, 1e-9)
NODES = 5760
FINE_NODES = 46_080  # of the reference
FLOOR = 1e-3  # no way is asked to be nearer than this share of the cycle's ripple
RUNS = 3


def peers(table: xr.Dataset, sample: int) -> dict[str, Any]:
    """Seconds that one thread would need for the table's points, by way.

    At each sampled point all ways run one engine cycle from the same state. Each uses its quickest tolerance at which
    ripple and least torque are as near to DOP853 at 1e-10 as a Runge-Kutta loop with calmshaft's number of steps. The
    seconds of the sampled points grow to those of all in the ratio of their steps. Compiling is left out.
    """
    if numba is None:
        return {"left_out": left_out()}
    points = _sampled(table, sample)
    ways: dict[str, list[float]] = {}
    for point in points:
        for way, seconds in _seconds_a_cycle(point).items():
            ways.setdefault(way, []).append(seconds * point["cycles"])
    steps = (table["cycles"] * table["steps_per_cycle"]).sum()
    scale = float(steps) / sum(point["cycles"] * point["steps_per_cycle"] for point in points)
    return {
        "sampled_points": [{key: value for key, value in point.items() if key != "line"} for point in points],
        "seconds_on_one_thread": {way: scale * sum(spent) for way, spent in ways.items() if len(spent) == sample},
        "left_out": left_out() | {way: "not as near at any tolerance" for way in ways if len(ways[way]) < sample},
    }


def _sampled(table: xr.Dataset, sample: int) -> list[dict[str, Any]]:
    """Points drawn at random among those that were solved."""
    listed = table[["status", "cycles", "steps_per_cycle"]].stack(point=table["status"].dims)
    solved = np.flatnonzero(listed["status"].values < 3)
    line, points = cs.sample_line("harbour-launch"), []
    for place in sorted(np.random.default_rng(SEED).choice(solved, sample, replace=False)):
        one = listed.isel(point=int(place))
        stiffness, rpm, misfiring = one.point.item()
        points.append({
            "stiffness": float(stiffness), "rpm": float(rpm), "misfiring": str(misfiring),
            "cycles": int(one["cycles"]), "steps_per_cycle": int(one["steps_per_cycle"]),
            "line": line.replace({"plate.stiffness": f"{float(stiffness)!r} N*m/deg"}),
        })  # fmt: skip
    return points


def _seconds_a_cycle(point: dict[str, Any]) -> dict[str, float]:
    boat = launch(point["line"], cs.Condition(point["rpm"], misfiring=point["misfiring"]))
    start, loop = cold(boat), loop_cycle(boat, point["steps_per_cycle"])
    for _ in range(WARM_CYCLES):
        advance(boat, start, loop)
    exact = _one(boat, start, scipy_cycle(boat, "DOP853", 1e-10, True, FINE_NODES))
    same = _one(boat, start, loop)
    allowed = max(_error(exact, same), FLOOR)
    point["error"] = allowed
    found = {LOOP: _quickest(boat, start, loop)}
    for way, cycle_of in _ways(boat).items():
        for tolerance in TOLERANCES:
            cycle = cycle_of(tolerance=tolerance)
            if _error(exact, _one(boat, start, cycle)) <= allowed:
                found[way] = _quickest(boat, start, cycle)
                break
    return found


def _ways(boat: Launch) -> dict[str, Callable[..., Cycle]]:
    found: dict[str, Callable[..., Cycle]] = {}
    if odeint_missing() is None:
        found[ODEINT] = partial(odeint_cycle, boat, nodes=NODES)
    if cvode_missing() is None:
        found["CVODE Adams, Numba"] = partial(cvode_cycle, boat, "Adams", nodes=NODES)
    for method in ("RK45", "LSODA"):
        found[f"solve_ivp {method}, Numba"] = partial(scipy_cycle, boat, method, compiled=True, nodes=NODES)
    return found


def _one(boat: Launch, start: March, cycle: Cycle) -> March:
    march = start.copy()
    advance(boat, march, cycle, corrected=False)
    return march


def _quickest(boat: Launch, start: March, cycle: Cycle) -> float:
    return min(_one(boat, start, cycle).seconds[0] for _ in range(RUNS))


def _error(exact: March, found: March) -> float:
    """Larger error of the cycle's ripple and least torque, over its ripple."""
    pairs = ((exact.ripple[0], found.ripple[0]), (exact.least[0], found.least[0]))
    return max(abs(a - b) for a, b in pairs) / exact.ripple[0]
