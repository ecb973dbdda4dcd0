"""The whole job: ten thousand different points of a sweep, search, checks and statistics included.

python benchmarks/whole_job.py [--out results.json] [--small]

20 stiffnesses x 100 speeds x cylinder 3 at 100, 75, 50, 25 and 0 % strength, of the invented launch as shipped and with
its shaft in four pieces, which makes 8 inertias. Wall seconds on 1 and 2 threads, the least of several, and what stands
behind them: cycles a point x steps a cycle x nanoseconds a step. Answers must be the same bits on 1 and 2 threads.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import time
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

import calmshaft as cs
from machine import machine
from peak import STATIONS, operations_a_step, peak

if TYPE_CHECKING:
    import xarray as xr

LINE = cs.sample_line("harbour-launch")
STRENGTHS = ("none", "3@75%", "3@50%", "3@25%", "3")
JOBS = {"launch as shipped": 1, "launch with 8 inertias": 4}  # pieces of the shaft
THREADS = (1, 2)
PATIENCE = 40.0  # [s]
PEER_SAMPLE = 6  # points at which the other ways are measured


def main() -> None:
    """Measure, check, print."""
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("--out", type=Path, help="also write the JSON to this file")
    options.add_argument("--small", action="store_true", help="a fiftieth of the points, to see that it runs")
    asked = options.parse_args()
    text = json.dumps(measured(small=asked.small), indent=2, allow_nan=False)
    if asked.out:
        asked.out.write_text(text + "\n", encoding="utf-8")
    print(text)


def measured(small: bool = False) -> dict[str, Any]:
    """Both jobs and the other ways, with the machine's peak measured in between."""
    from whole_job_peers import peers

    axes, times = grid_of(4, 10) if small else grid_of(20, 100), 2 if small else 5
    most = peak()
    jobs, tables = {}, {}
    for name, pieces in JOBS.items():
        jobs[name], tables[name] = _job(pieces, axes, times, most["operations_a_second"])
    shipped = next(iter(JOBS))
    return {
        "machine": machine(),
        "date": date.today().isoformat(),
        "version": cs.__version__,
        "peak_of_a_core": most,
        "jobs": jobs,
        "peers": peers(tables[shipped], 1 if small else PEER_SAMPLE),
    }


def grid_of(stiffnesses: int, speeds: int) -> dict[str, Any]:
    """Axes of a sweep of stiffnesses x speeds x 5 points, all different."""
    return {
        "plate.stiffness": (np.linspace(8, 60, stiffnesses), "N*m/deg"),
        "rpm": np.linspace(600, 2400, speeds),
        "misfiring": list(STRENGTHS),
    }


def with_pieces(line: cs.Line, pieces: int) -> cs.Line:
    """The line with its shaft in so many pieces, each adding an inertia."""
    return line.replace({"shaft.divisions": pieces})


def timed_sweep(line: cs.Line, axes: dict[str, Any], threads: int, times: int = 1) -> tuple[xr.Dataset, float, float]:
    """The sweep's table, its least wall time [s] and its least processor time [s] of several runs.

    times: most runs; none is begun when those before took longer than PATIENCE.
    """
    wall: list[float] = []
    busy: list[float] = []
    while not wall or (len(wall) < times and sum(wall) < PATIENCE):
        begun, begun_busy = time.perf_counter(), time.process_time()
        table = cs.sweep(line, axes, threads=threads)
        wall.append(time.perf_counter() - begun)
        busy.append(time.process_time() - begun_busy)
    return table, min(wall), min(busy)


def fingerprint(table: xr.Dataset) -> str:
    """A hash of all bits of all results, in the order of the points."""
    found = hashlib.sha256()
    for name in sorted(table.data_vars):
        found.update(name.encode())
        found.update(np.ascontiguousarray(table[name].values).tobytes())
    return found.hexdigest()


def lane_steps(table: xr.Dataset) -> float:
    """Steps of all points together: what a step costs is over these."""
    return float((table["cycles"] * table["steps_per_cycle"]).sum())


def _job(pieces: int, axes: dict[str, Any], times: int, most: float | None) -> tuple[dict[str, Any], xr.Dataset]:
    line, seconds, busy, hashes = with_pieces(LINE, pieces), {}, {}, set()
    for threads in THREADS:
        table, seconds[str(threads)], busy[str(threads)] = timed_sweep(line, axes, threads, times)
        hashes.add(fingerprint(table))
    assert len(hashes) == 1, "1 and 2 threads do not give the same bits"
    inertias, steps = STATIONS - 1 + pieces, lane_steps(table)
    assert not (table["status"] == 4).any(), "points failed"
    needed = operations_a_step(inertias)
    nanoseconds = 1e9 * busy["1"] / steps
    return {
        "points": int(table["status"].size),
        "inertias": inertias,
        "seconds": seconds,
        "processor_seconds": busy,
        "least_of_at_most": times,
        "cycles_a_point": float(table["cycles"].mean()),
        "steps_a_cycle": steps / float(table["cycles"].sum()),
        "nanoseconds_a_step": nanoseconds,
        "operations_a_step": needed,
        "share_of_peak": needed / (1e-9 * nanoseconds) / most if most else None,
        "points_by_status": {
            name: int((table["status"] == code).sum())
            for code, name in enumerate(table["status"].attrs["flag_meanings"].split())
        },
        "sha256": hashes.pop(),
        "same_bits_on_1_and_2_threads": True,
    }, table


if __name__ == "__main__":
    main()
