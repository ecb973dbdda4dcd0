"""How the cost of a sweep grows with points, inertias, cores and the stiffness of the teeth.

python benchmarks/growth.py [--out results.json] [--plots DIRECTORY] [--small] [--large]

Each is the sweep of whole_job.py on the invented launch, with one thing changed. `--large` adds a million points.
Processor seconds of one thread are the least of several: other work on the machine disturbs them least. The step from
one core to two can only be had from wall time, which other work does disturb; it too is the least of several.
"""

from __future__ import annotations

import argparse
import json
import multiprocessing
import os
import resource
from concurrent.futures import ProcessPoolExecutor
from datetime import date
from pathlib import Path
from typing import Any

import calmshaft as cs
from machine import machine
from peak import STATIONS
from whole_job import LINE, fingerprint, grid_of, lane_steps, timed_sweep, with_pieces

POINTS = {1_000: (10, 20), 3_000: (12, 50), 10_000: (20, 100)}  # stiffnesses and speeds, each with five strengths
FEW_POINTS = {50: (2, 5), 200: (4, 10)}
MANY_POINTS = {1_000_000: (200, 1000)}
PIECES = (1, 4, 8)  # of the shaft: 5, 8 and 12 inertias
STIFFNESS_FACTORS = (0.25, 0.5, 1.0, 2.0, 4.0)
TEETH = ("gearbox.ahead.mesh_stiffness", "gearbox.unloaded[0].mesh_stiffness")
TEETH_STIFFNESS = 6e5  # [N m/rad] at the input shaft, of both pairs of the launch
TIMES = 3


def main() -> None:
    """Measure, check, draw, print."""
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("--out", type=Path, help="also write the JSON to this file")
    options.add_argument("--plots", type=Path, help="draw a picture of each growth into this directory")
    options.add_argument("--small", action="store_true", help="few points, to see that it runs")
    options.add_argument("--large", action="store_true", help="also a million points, which takes many minutes")
    asked = options.parse_args()
    results = measured(small=asked.small, large=asked.large)
    text = json.dumps(results, indent=2, allow_nan=False)
    if asked.out:
        asked.out.write_text(text + "\n", encoding="utf-8")
    if asked.plots:
        from growth_plots import draw

        draw(results, asked.plots)
    print(text)


def measured(small: bool = False, large: bool = False) -> dict[str, Any]:
    """All four growths."""
    sizes = FEW_POINTS if small else POINTS | (MANY_POINTS if large else {})
    axes, times = grid_of(2, 5) if small else grid_of(10, 20), 2 if small else TIMES
    return {
        "machine": machine(),
        "date": date.today().isoformat(),
        "version": cs.__version__,
        "points": [_in_fresh_process(size, shape) for size, shape in sizes.items()],
        "inertias": _by_inertias(axes, times),
        "cores": _by_cores(grid_of(4, 10) if small else grid_of(12, 50), times + 2),
        "mesh_stiffness": _by_mesh_stiffness(axes, times),
    }


def _in_fresh_process(size: int, shape: tuple[int, int]) -> dict[str, float]:
    """A sweep on all cores in a process of its own, so that its memory is its own."""
    with ProcessPoolExecutor(1, multiprocessing.get_context("spawn")) as pool:
        return pool.submit(_sized, size, shape).result()


def _sized(size: int, shape: tuple[int, int]) -> dict[str, float]:
    timed_sweep(LINE, grid_of(2, 2), 1)
    before = _peak_memory()
    table, wall, busy = timed_sweep(LINE, grid_of(*shape), 0, 1 if size > 10_000 else TIMES)
    assert table["status"].size == size
    return {"points": size, "seconds": wall, "processor_seconds": busy, "nanoseconds_a_step": _per_step(busy, table),
            "megabytes_before": before, "megabytes": _peak_memory(), "table_megabytes": table.nbytes / 1e6}  # fmt: skip


def _peak_memory() -> float:
    """Greatest resident memory of this process [MB]; a spawned process would inherit its parent's in getrusage."""
    listed = Path("/proc/self/status")
    for line in listed.read_text(encoding="utf-8").splitlines() if listed.exists() else []:
        if line.startswith("VmHWM"):
            return int(line.split()[1]) * 1.024e-3
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1.024e-3


def _per_step(busy: float, table: Any) -> float:
    return 1e9 * busy / lane_steps(table)


def _row(line: cs.Line, axes: dict[str, Any], times: int) -> dict[str, float]:
    table, _, busy = timed_sweep(line, axes, 1, times)
    return {
        "points": int(table["status"].size),
        "processor_seconds": busy,
        "cycles_a_point": float(table["cycles"].mean()),
        "steps_a_cycle": lane_steps(table) / float(table["cycles"].sum()),
        "nanoseconds_a_step": _per_step(busy, table),
    }


def _by_inertias(axes: dict[str, Any], times: int) -> dict[str, Any]:
    rows = [{"inertias": STATIONS - 1 + n} | _row(with_pieces(LINE, n), axes, times) for n in PIECES]
    eight, twelve = rows[1:]
    names = ("processor_seconds", "nanoseconds_a_step", "steps_a_cycle", "cycles_a_point")
    return {"rows": rows, "twelve_over_eight": {name: twelve[name] / eight[name] for name in names}}


def _by_cores(axes: dict[str, Any], times: int) -> dict[str, Any]:
    """Runs on one and two cores take turns, so that other work meets both alike."""
    wall: dict[int, float] = {}
    hashes = set()
    for _ in range(times):
        for threads in (1, 2):
            table, seconds, _ = timed_sweep(LINE, axes, threads)
            wall[threads] = min(seconds, wall.get(threads, seconds))
            hashes.add(fingerprint(table))
    assert len(hashes) == 1, "1 and 2 threads do not give the same bits"
    rows = [{"threads": threads, "seconds": seconds} for threads, seconds in wall.items()]
    return {"points": int(table["status"].size), "rows": rows, "least_of": times,
            "two_over_one": wall[1] / wall[2], "load_average": os.getloadavg()[0]}  # fmt: skip


def _by_mesh_stiffness(axes: dict[str, Any], times: int) -> list[dict[str, float]]:
    rows = []
    for factor in STIFFNESS_FACTORS:
        line = LINE.replace(dict.fromkeys(TEETH, f"{factor * TEETH_STIFFNESS!r} N*m/rad"))
        rows.append({"factor": factor} | _row(line, axes, times))
    return rows


if __name__ == "__main__":
    main()
