"""`sweep`: every combination of some axes, as NetCDF and, where wanted, CSV."""

from __future__ import annotations

from pathlib import Path

import numpy as np

from calmshaft import Condition, Line, sweep
from calmshaft.commands.common import Exit, say, say_json, show_progress, tell
from calmshaft.commands.vary import MOST_POINTS, axes_of, names_known
from calmshaft.condition import line_fault
from calmshaft.output import write_csv, write_netcdf
from calmshaft.results import STATUS
from calmshaft.sweeps import SweepInterrupted
from calmshaft.wording import number, percent


def run_sweep(line: Line, varied: list[str], at: Condition, out: Path, keep: str, jobs: int, as_json: bool) -> Exit:
    """Sweep and write `out` (.nc or .csv). Ctrl-C keeps the finished points."""
    if out.suffix not in (".nc", ".csv"):
        raise line_fault("--out", str(out), "must end in .nc or .csv", "write for instance --out ripple.nc")
    axes = axes_of(varied)
    names_known(list(axes), line.paths())
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


def _say(ds, counts: dict[str, int], points: int) -> None:
    found = ", ".join(f"{count} {word}" for word, count in counts.items() if count)
    say(f"{points} points: {found or 'none finished'}.")
    apart = ds["mesh_separated_share"]
    if bool(np.isfinite(apart).any()):
        share = float((apart > 0.001).sum()) / points
        vibratory = ds["mesh_torque_vibratory"]
        low, high = (number(float(vibratory.min())), number(float(vibratory.max())))
        say(f"Teeth of the loaded mesh part at {percent(share)} of them; vibratory torque {low} to {high} N m.")
