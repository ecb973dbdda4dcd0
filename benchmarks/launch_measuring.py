"""Seconds and errors of one condition by every way, against a reference orbit that SciPy integrates tightly."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

import numpy as np

import calmshaft as cs
from launch_equations import Launch
from launch_marching import Cycle, March, advance, cold, loop_cycle, numba, scipy_cycle, settled
from launch_peers import cvode_cycle, cvode_missing, odeint_cycle, odeint_missing

OURS, SWEPT, LOOP = "calmshaft, single condition", "calmshaft, point of a sweep, one core", "Runge-Kutta loop, Numba"
METHODS = ("RK45", "DOP853", "LSODA")
CVODE_METHODS = ("Adams", "BDF")
ODEINT = "Boost.Odeint dopri5, C++"
FINEST_STEPS = 23040
REFERENCE = 1e-10  # relative tolerance of the reference
REFERENCE_REPEATS = 1e-4  # of the ripple: the reference against the orbit marched to by another integrator


@dataclass(frozen=True)
class Case:
    """A condition of the launch whose motion repeats."""

    line: cs.Line
    at: cs.Condition
    nodes: int  # where SciPy's engine cycle is looked at; impacts need more than smooth torque
    promise: float  # [-] error that calmshaft may have at the steps it chooses itself


def ways(case: Case, boat: Launch, steps: tuple, tolerances: tuple) -> list[tuple[str, tuple, Callable[..., Cycle]]]:
    """(name, settings, setting -> integrator of one engine cycle) of all but calmshaft."""
    found: list = [(LOOP, steps, partial(loop_cycle, boat))] if numba else []
    if odeint_missing() is None:
        found.append((ODEINT, tolerances, partial(odeint_cycle, boat, nodes=case.nodes)))
    for method in CVODE_METHODS if cvode_missing() is None else ():
        found.append((f"CVODE {method}, Numba", tolerances, partial(cvode_cycle, boat, method, nodes=case.nodes)))
    for words in ("Numba", "plain Python") if numba else ("plain Python",):
        for method in METHODS:
            cycle = partial(scipy_cycle, boat, method, compiled=words == "Numba", nodes=case.nodes)
            found.append((f"solve_ivp {method}, {words}", tolerances, cycle))
    return found


def left_out() -> dict[str, str]:
    """Ways that cannot be measured here, each with its reason."""
    asked = {
        "Numba: loop and right-hand sides": None if numba else "Numba is not installed",
        "CVODE": cvode_missing(),
        ODEINT: odeint_missing(),
    }
    return {name: reason for name, reason in asked.items() if reason}


def reference_orbit(case: Case, boat: Launch) -> March:
    """The periodic orbit: marched to, then three cycles by solve_ivp at a tight tolerance, which must repeat it."""
    march = cold(boat)
    cycle = (
        loop_cycle(boat, max(FINEST_STEPS, 2 * case.nodes))
        if numba
        else scipy_cycle(boat, "DOP853", 1e-9, False, case.nodes)
    )
    while not settled(boat, march, 1e-6 if numba else 1e-5):
        assert len(march.ripple) < 100, "the case does not repeat"
        advance(boat, march, cycle)
    orbit = march.copy()
    tight = scipy_cycle(boat, "DOP853", REFERENCE, numba is not None, 2 * case.nodes)
    for _ in range(3):
        advance(boat, orbit, tight, corrected=False)
    defect = max(abs(a[-1] - b[-1]) for a, b in ((march.ripple, orbit.ripple), (march.least, orbit.least)))
    assert defect < REFERENCE_REPEATS * orbit.ripple[-1], f"the reference differs from its orbit by {defect} N m"
    return orbit


def error(orbit: March, ripple: float, least: float) -> float:
    """Larger error of ripple and least torque, over the ripple."""
    return max(abs(ripple - orbit.ripple[-1]), abs(least - orbit.least[-1])) / orbit.ripple[-1]


def error_of(orbit: March, run: cs.Run) -> float:
    """The same of a run."""
    return error(orbit, run.measures["mesh_torque_ripple"], run.measures["mesh_torque_min"])


def timed(call: Callable) -> tuple:
    """What a call returns, and its least processor time [s] of five calls or of half a second's worth."""
    spent: list[float] = []
    while len(spent) < 5 or sum(spent) < 0.5:
        begun = time.process_time()
        found = call()
        spent.append(time.process_time() - begun)
    return found, min(spent)


def our_rows(case: Case, orbit: March, all_steps: tuple) -> list[dict]:
    """Whole conditions from the cold start, search and output included, over the cycles they took."""
    rows = []
    speeds = case.at.rpm + 0.5 * np.arange(16)
    for steps in all_steps:
        run, seconds = timed(lambda steps=steps: cs.steady(case.line, case.at, steps_per_cycle=steps))
        if run.status != "periodic":
            continue  # too coarse to find the orbit
        row = {"setting": steps, "error": error_of(orbit, run)}
        rows.append({"way": OURS, **row, "seconds_a_cycle": seconds / run.cycles})

        def swept(steps: int = steps) -> object:
            return cs.sweep(case.line, {"rpm": speeds}, case.at, threads=1, steps_per_cycle=steps)

        ds, seconds = timed(swept)
        rows.append({"way": SWEPT, **row, "seconds_a_cycle": seconds / float(ds["cycles"].sum())})
    return sorted(rows, key=lambda row: row["way"])


def cycle_row(boat: Launch, orbit: March, cycle: Cycle) -> dict:
    """Three cycles on from the reference orbit: the least time of one, and the error of the last."""
    march = orbit.copy()
    for _ in range(3):
        advance(boat, march, cycle, corrected=False)
    found = error(orbit, march.ripple[-1], march.least[-1])
    return {"error": found if np.isfinite(found) else None, "seconds_a_cycle": min(march.seconds)}


def fastest(rows: list[dict], target: float) -> dict:
    """By way, the quickest row whose error is within the target; None where none is."""
    found = {}
    for way in dict.fromkeys(row["way"] for row in rows):
        within = [row for row in rows if row["way"] == way and row["error"] is not None and row["error"] <= target]
        found[way] = min(within, key=lambda row: row["seconds_a_cycle"]) if within else None
    return found


def whole_conditions(case: Case, boat: Launch, orbit: March, best: dict, all_ways: list) -> list[dict]:
    """From a cold start to the answer, by calmshaft and by the quickest other way of each kind.

    The others march as many cycles as calmshaft took, so they need no search for where to stop.
    """
    if not best.get(OURS):
        return []
    setting = best[OURS]["setting"]
    run, seconds = timed(lambda: cs.steady(case.line, case.at, steps_per_cycle=setting))
    found = [{"way": OURS, "setting": setting, "error": error_of(orbit, run), "cycles": run.cycles, "seconds": seconds}]
    kinds: dict[str, dict] = {}
    for name, _, cycle_of in all_ways:
        row, kind = best.get(name), name.split(", ")[1] if name.startswith("solve_ivp") else name.split()[0]
        if row and (kind not in kinds or row["seconds_a_cycle"] < kinds[kind]["seconds_a_cycle"]):
            kinds[kind] = row | {"cycle_of": cycle_of}
    for row in kinds.values():
        march, cycle = cold(boat), row["cycle_of"](row["setting"])
        for _ in range(run.cycles):
            advance(boat, march, cycle)
        found.append({"way": row["way"], "setting": row["setting"], "cycles": run.cycles, "seconds": sum(march.seconds),
                      "error": error(orbit, march.ripple[-1], march.least[-1])})  # fmt: skip
    return found
