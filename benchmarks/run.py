"""Speed and memory of the main job, each answer checked, as JSON beside the goals.

python benchmarks/run.py [--out results.json] [--small]
"""

from __future__ import annotations

import argparse
import json
import math
import resource
import statistics
import subprocess
import sys
import time
from datetime import date
from itertools import product
from pathlib import Path

import numpy as np

import calmshaft as cs
from calmshaft.uncertainties.cases import Family, steady_of
from machine import machine

GOALS = {"steady_seconds": 0.3, "import_seconds": 0.3, "sweep_seconds": 20.0, "peak_memory_megabytes": 500.0,
         "thousand_cases_seconds": 5.0}  # fmt: skip
LINE = cs.sample_line("harbour-launch")
PLATES = {"A": LINE, "B": LINE.with_plate("plate-b"), "C": LINE.with_plate("plate-c")}
FINEST_STEPS = 23040  # of an engine cycle: the end of the ladder
BIN_STEPS = 336  # steps of a cycle are asked for in multiples of this
JUDGED = ("mesh_torque_ripple", "mesh_torque_vibratory")
CONDITIONS = {
    "closed": (PLATES["C"], cs.Condition(1820)),
    "misfiring": (PLATES["B"], cs.Condition(800, misfiring=[3])),
    "rattling": (LINE, cs.Condition(800, "neutral")),
}


def main() -> None:
    """Measure, check, print."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--out", type=Path, help="also write the JSON to this file")
    options.add_argument("--small", action="store_true", help="a tenth of the work, to see that it runs")
    asked = options.parse_args()
    results = measured(small=asked.small)
    text = json.dumps(jsonable(results), indent=2, allow_nan=False)
    if asked.out:
        asked.out.write_text(text + "\n", encoding="utf-8")
    print(text)


def measured(small: bool = False) -> dict:
    """All figures with the machine they were had on, and each goal beside its figure."""
    steady = {name: _steady_seconds(line, at, 3 if small else 9) for name, (line, at) in CONDITIONS.items()}
    swept = _sweep(small)
    cases = {plate: _cases(PLATES[plate], 100 if small else 1000) for plate in "AB"}
    errors = _error_by_steps(small)
    figures = {
        "steady_seconds": max(steady.values()),
        "import_seconds": _import_seconds(3 if small else 7),
        "sweep_seconds": swept["seconds"],
        "thousand_cases_seconds": cases["B"]["seconds_a_case"] * 1000,
        "peak_memory_megabytes": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024,
    }
    return {
        "machine": machine(),
        "date": date.today().isoformat(),
        "version": cs.__version__,
        "goals": {name: {"goal": goal, "measured": figures[name]} for name, goal in GOALS.items()},
        "steady_seconds_by_condition": steady,
        "sweep": swept,
        "plausible_cases": cases,
        "worst_error_by_steps": _worst_errors(errors),
        "error_by_steps": errors,
    }


def _steady_seconds(line: cs.Line, at: cs.Condition, times: int) -> float:
    cs.steady(line, at)
    spent = []
    for _ in range(times):
        begun = time.perf_counter()
        run = cs.steady(line, at)
        spent.append(time.perf_counter() - begun)
        assert abs(run.energy_audit["relative_defect"]) < 1e-3
    return statistics.median(spent)


def _import_seconds(times: int) -> float:
    code = "import time; t = time.perf_counter(); import calmshaft; print(time.perf_counter() - t)"
    runs = [subprocess.run([sys.executable, "-c", code], check=True, capture_output=True) for _ in range(times)]
    return statistics.median(float(run.stdout) for run in runs)


def _sweep(small: bool) -> dict:
    """The demo's sweep; one point in a hundred is compared with the single condition."""
    stiffness = np.linspace(8, 60, 3 if small else 14)
    axes = {
        "plate.stiffness": (stiffness, "N*m/deg"),
        "rpm": np.linspace(600, 2400, 13 if small else 37),
        "misfiring": ["none", "1", "2", "3", "4"],
    }
    begun = time.perf_counter()
    ds = cs.sweep(LINE, axes, cs.Condition(800))
    seconds = time.perf_counter() - begun
    points = ds["mesh_torque_vibratory"].stack(point=ds["status"].dims)
    for point in points[::100]:
        value, rpm, misfiring = point.point.item()
        line = LINE.replace({"plate.stiffness": f"{float(value)!r} N*m/deg"})
        alone = cs.steady(line, cs.Condition(float(rpm), misfiring=str(misfiring)))
        assert alone.measures["mesh_torque_vibratory"] == float(point)
    return {
        "points": int(points.size),
        "seconds": seconds,
        "cycles_a_point": float(ds["cycles"].mean()),
        "steps_a_cycle": float(ds["steps_per_cycle"].mean()),
        "share_by_status": {
            name: float((ds["status"] == code).mean())
            for code, name in enumerate(ds["status"].attrs["flag_meanings"].split())
        },
    }


def _cases(line: cs.Line, count: int) -> dict:
    """Plausible cases at idle ahead; every tenth of a hundred is solved again, to the bit."""
    at = cs.Condition(800)
    begun, busy = time.perf_counter(), time.process_time()
    found = cs.uncertainty(line, at, count)
    seconds, processor_seconds = time.perf_counter() - begun, time.process_time() - busy
    family, again = Family(line), slice(0, 100, 10)
    members = [family.member(dict(zip(found.inputs, row, strict=True)))[0] for row in found.shares[again]]
    assert np.array_equal(steady_of(members, [at]).of(found.measures[0])[:, 0], found.of()[again], equal_nan=True)
    return {
        "cases": count,
        "uncertain_values": len(found.inputs),
        "seconds_a_case": seconds / count,
        "processor_seconds": processor_seconds,
        "unsolved": found.unsolved(),
    }


def _error_by_steps(small: bool) -> list[dict]:
    """Relative error of ripple and vibratory torque against the finest steps, at half, once and twice those chosen."""
    plates = {"B": PLATES["B"]} if small else PLATES
    speeds = (1200, 2600) if small else (750, 1200, 1800, 2600)
    rows = []
    for (plate, line), rpm, misfiring in product(plates.items(), speeds, ("none", "3")):
        at = cs.Condition(rpm, misfiring=misfiring)
        finest, chosen = cs.steady(line, at, steps_per_cycle=FINEST_STEPS), cs.steady(line, at)
        about = {"plate": plate, "rpm": rpm, "misfiring": misfiring, "calm": _calm(chosen) and _calm(finest)}
        for share in (0.5, 1.0, 2.0):
            steps = BIN_STEPS * round(share * chosen.steps_per_cycle / BIN_STEPS)
            run = cs.steady(line, at, steps_per_cycle=steps)
            errors = {name: run.best(name) / finest.best(name) - 1 for name in JUDGED}
            rows.append(about | {"steps": steps, "of_chosen": share} | errors)
    return rows


def _calm(run: cs.Run) -> bool:
    """Whether the motion repeats and the teeth of the loaded mesh stay together."""
    return run.status in ("periodic", "subharmonic") and run.measures["mesh_separated_share"] == 0


def _worst_errors(rows: list[dict]) -> list[dict]:
    """Greatest error of calm motion and of all the rest, by steps over those chosen."""
    worst = []
    for calm, share in product((True, False), (0.5, 1.0, 2.0)):
        group = [row for row in rows if row["calm"] == calm and row["of_chosen"] == share]
        errors = {name: max((abs(row[name]) for row in group), default=None) for name in JUDGED}
        worst.append({"calm": calm, "of_chosen": share, "conditions": len(group)} | errors)
    return worst


def jsonable(value: object) -> object:
    """The same with None for what is not a number: steps too coarse to run at all."""
    if isinstance(value, dict):
        return {name: jsonable(one) for name, one in value.items()}
    if isinstance(value, list):
        return [jsonable(one) for one in value]
    return None if isinstance(value, float) and not math.isfinite(value) else value


if __name__ == "__main__":
    main()
