"""`sweep`: every combination of some axes, as NetCDF and, where wanted, CSV."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import Any

import numpy as np
import xarray as xr

from calmshaft import Condition, Line, sweep
from calmshaft.axes import axis_of
from calmshaft.commands.common import Exit, all_of, say, say_json, show_progress, tell
from calmshaft.commands.vary import MOST_POINTS
from calmshaft.condition import line_fault
from calmshaft.output import write_csv, write_netcdf
from calmshaft.results import STATUS
from calmshaft.runs import cylinders
from calmshaft.sweeps import SweepInterrupted
from calmshaft.wording import number, percent


def suffix_known(out: Path) -> None:
    """Raises LineError where the result's name says no known format."""
    if out.suffix not in (".nc", ".csv"):
        raise line_fault("--out", str(out), "must end in .nc or .csv", "write for instance --out ripple.nc")


def run_sweep(line: Line, axes: dict[str, Any], at: Condition, out: Path, keep: str, jobs: int, as_json: bool) -> Exit:
    """Sweep and write `out` (.nc or .csv). Ctrl-C keeps the finished points."""
    all_of(
        *(partial(axis_of, name, values, line) for name, values in axes.items()),
        *(partial(_cylinders_there, line, at, label) for label in axes.get("misfiring", [])),
    )
    points = int(np.prod([len(values[0] if isinstance(values, tuple) else values) for values in axes.values()]))
    if points > MOST_POINTS:
        raise line_fault("--vary", f"{points} points", f"at most {MOST_POINTS} here", "take fewer values")
    interrupted = False
    try:
        ds = sweep(line, axes, at, keep=keep, progress=show_progress(), threads=jobs)
    except SweepInterrupted as stopped:
        ds, interrupted = stopped.partial, True
    (write_netcdf if out.suffix == ".nc" else write_csv)(ds, out)
    counts = {word: int((ds["status"] == code).sum()) for code, word in enumerate(STATUS)}
    if as_json:
        say_json({"file": str(out), "points": points, "status": counts, "interrupted": interrupted})
    else:
        _say(ds, counts, points)
        tell(f"written: {out}")
    if interrupted:
        return Exit.INTERRUPTED
    bad = counts["stalled"] + counts["failed"]
    return Exit.NUMERICAL if bad == points else Exit.PARTIAL if bad else Exit.WITHIN


def _cylinders_there(line: Line, at: Condition, misfiring: str) -> None:
    at.with_(misfiring=misfiring).strengths(cylinders(line))


def _say(ds: xr.Dataset, counts: dict[str, int], points: int) -> None:
    found = ", ".join(f"{count} {word}" for word, count in counts.items() if count)
    say(f"{points} points: {found or 'none finished'}.")
    apart = ds["mesh_separated_share"]
    if bool(np.isfinite(apart).any()):
        share = float((apart > 0.001).sum()) / points
        vibratory = ds["mesh_torque_vibratory"]
        low, high = (number(float(vibratory.min())), number(float(vibratory.max())))
        say(f"Teeth of the loaded mesh part at {percent(share)} of them; vibratory torque {low} to {high} N m.")
