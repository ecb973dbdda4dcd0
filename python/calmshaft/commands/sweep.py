"""`sweep`: every combination of some axes, as NetCDF and, where wanted, CSV."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import xarray as xr

from calmshaft import Condition, Line, sweep
from calmshaft.commands.common import Exit, say, say_json, show_progress, tell
from calmshaft.results import STATUS
from calmshaft.storage import parts_of
from calmshaft.sweep_runs import SweepInterrupted
from calmshaft.wording import number, percent


def run_sweep(line: Line, axes: dict[str, Any], at: Condition, out: Path, *, as_json: bool = False, **how: Any) -> Exit:
    """Sweep into `out` (.nc or .csv); how: as calmshaft.sweep. Whatever stops it, finished points are kept."""
    unfinished, there = parts_of(out).exists(), out.exists()
    if how.get("resume") and not unfinished and not there:
        tell(f"note: nothing unfinished is kept in {parts_of(out)}; the sweep begins with its first point")
    try:
        ds = sweep(line, axes, at, out=out, progress=show_progress(), **how)
    except SweepInterrupted as stopped:
        tell(str(stopped))
        return Exit.INTERRUPTED
    points = ds["status"].size
    counts = {word: int((ds["status"] == code).sum()) for code, word in enumerate(STATUS)}
    if as_json:
        say_json({"file": str(out), "points": points, "status": counts})
    else:
        _say(ds, counts, points)
        whole = how.get("resume") and there and not unfinished
        tell(f"{out} is complete already: nothing was run" if whole else f"written: {out}")
    bad = counts["stalled"] + counts["failed"]
    return Exit.NUMERICAL if bad == points else Exit.PARTIAL if bad else Exit.WITHIN


def _say(ds: xr.Dataset, counts: dict[str, int], points: int) -> None:
    found = ", ".join(f"{count} {word}" for word, count in counts.items() if count)
    say(f"{points} points: {found or 'none finished'}.")
    if "jumps" in ds:
        say(f"Up and down settle on different states at {int(ds['jumps'].sum())} of {ds['jumps'].size} places.")
    apart = ds["mesh_separated_share"]
    if bool(np.isfinite(apart).any()):
        share = float((apart > 0.001).sum()) / points
        vibratory = ds["mesh_torque_vibratory"]
        low, high = (number(float(vibratory.min())), number(float(vibratory.max())))
        say(f"Teeth of the loaded mesh part at {percent(share)} of them; vibratory torque {low} to {high} N m.")
