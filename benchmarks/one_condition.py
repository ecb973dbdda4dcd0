"""Time at equal error: one steady condition by calmshaft, by SciPy, and by a loop that Numba compiles.

python benchmarks/one_condition.py [--out results.json] [--plot work_precision.png] [--small]

All integrate the same equations of the invented launch, each at several steps or tolerances. Ripple and least torque
are held against a reference that SciPy integrates tightly; wrong answers end the benchmark. Times are processor times
of one thread, which other work on the machine disturbs least. Numba, scikit-sundae (CVODE) and a C++ compiler with
Boost are optional: without them their rows are left out, with the reason.
"""

from __future__ import annotations

import argparse
import json
import sys
import time
from datetime import date
from pathlib import Path

import numpy as np
import scipy

import calmshaft as cs
from launch_equations import Launch, launch
from launch_marching import March, compiled_loop, compiled_rates, numba
from launch_measuring import (
    FINEST_STEPS,
    ODEINT,
    Case,
    cycle_row,
    error_of,
    fastest,
    left_out,
    our_rows,
    reference_orbit,
    ways,
    whole_conditions,
)
from launch_peers import compiled_odeint, odeint_missing
from machine import machine

LINE = cs.sample_line("harbour-launch")
WITH_B = LINE.with_plate("plate-b")
TARGETS = (3e-3, 3e-4)  # error of ripple and least torque, over the ripple
STEPS = (1440, 2016, 2880, 4032, 5760, 8064, 11520, 16128, FINEST_STEPS)
TOLERANCES = (1e-5, 1e-6, 1e-7, 1e-8, 1e-9)
FINEST_IS_RIGHT = 2e-3  # error of every way at its finest: what its setting cannot do has been done
CASES = {
    "teeth closed, one cylinder dead": Case(WITH_B, cs.Condition(1820, misfiring=3), 5760, 5e-3),
    "unloaded pair rattles": Case(WITH_B, cs.Condition(800), 5760, 5e-3),
    "loaded teeth hammer": Case(LINE, cs.Condition(750), 46080, 3e-2),
}


def main() -> None:
    """Measure, check, print, draw."""
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("--out", type=Path, help="also write the JSON to this file")
    options.add_argument("--plot", type=Path, help="draw time over error to this PNG")
    options.add_argument("--small", action="store_true", help="the shortest case, few tolerances, to see that it runs")
    asked = options.parse_args()
    for name, reason in left_out().items():
        print(f"{name} is left out: {reason}", file=sys.stderr)
    results = measured(small=asked.small)
    text = json.dumps(results, indent=2, allow_nan=False)
    if asked.out:
        asked.out.write_text(text + "\n", encoding="utf-8")
    if asked.plot:
        from work_precision_plot import draw

        draw(results, asked.plot)
    print(text)


def measured(small: bool = False) -> dict:
    """Every case, with the machine it was measured on."""
    steps, tolerances = (STEPS[2::3], TOLERANCES[1::2]) if small else (STEPS, TOLERANCES)
    cases = dict(list(CASES.items())[:1]) if small else CASES
    return {
        "machine": machine(),
        "date": date.today().isoformat(),
        "versions": {"calmshaft": cs.__version__, "scipy": scipy.__version__, "numpy": np.__version__,
                     "numba": numba.__version__ if numba else None},
        "left_out": left_out(),
        "targets": TARGETS,
        "cases": {name: _case(case, steps, tolerances) for name, case in cases.items()},
    }  # fmt: skip


def _case(case: Case, steps: tuple, tolerances: tuple) -> dict:
    boat = launch(case.line, case.at)
    compiling = _compile_seconds(boat)
    orbit = reference_orbit(case, boat)
    rows = our_rows(case, orbit, steps)
    others = ways(case, boat, steps, tolerances)
    for name, settings, cycle_of in others:
        for setting in settings:
            rows.append({"way": name, "setting": setting, **cycle_row(boat, orbit, cycle_of(setting))})
    _check(case, orbit, rows)
    best = {target: fastest(rows, target) for target in TARGETS}
    return {
        "condition": {"rpm": case.at.rpm, "misfiring": case.at.misfiring},
        "reference": {"ripple": orbit.ripple[-1], "least": orbit.least[-1]},
        "compile_seconds": compiling,
        "rows": rows,
        "fastest_within": {f"{target:g}": found for target, found in best.items()},
        "whole_condition": whole_conditions(case, boat, orbit, best[TARGETS[0]], others),
    }


def _compile_seconds(boat: Launch) -> dict[str, float]:
    found = {}
    for name, compiler in (("right-hand side, Numba", compiled_rates), ("loop, Numba", compiled_loop)) if numba else ():
        begun = time.process_time()
        compiler(boat)
        found[name] = time.process_time() - begun
    if odeint_missing() is None:
        begun = time.perf_counter()  # the compiler is another process
        compiled_odeint.__wrapped__()
        found[ODEINT] = time.perf_counter() - begun
    return found


def _check(case: Case, orbit: March, rows: list[dict]) -> None:
    """Raises AssertionError where calmshaft's own choice of steps, or any way at its finest, is wrong."""
    chosen = error_of(orbit, cs.steady(case.line, case.at))
    assert chosen < case.promise, f"calmshaft is off by {chosen}"
    for way in {row["way"] for row in rows}:
        finest = [row["error"] for row in rows if row["way"] == way][-1]
        assert finest is not None, f"{way} came to nothing"
        assert finest < FINEST_IS_RIGHT, f"{way} is off by {finest} at its finest"


if __name__ == "__main__":
    main()
