"""The misfiring ladder in rows, for the command and the report."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from calmshaft.line import Line
from calmshaft.misfiring import deciding_measure, filled
from calmshaft.results import STATUS
from calmshaft.runs import fire_evenly
from calmshaft.wording import number, percent

if TYPE_CHECKING:
    import xarray as xr

_SHORT = {
    "mesh_torque_vibratory": "vibratory [N m]",
    "plate_torque_ripple": "plate, peak to peak [N m]",
    "cyclic_irregularity": "irregularity",
}
_MOTION = {
    "periodic": "repeats",
    "subharmonic": "repeats over several cycles",
    "aperiodic": "never repeats",
    "stalled": "the engine stops",
    "failed": "no result",
}


def ladder_rows(line: Line, ladder: xr.Dataset) -> list[list[str]]:
    """A row a fuelling, cylinder and strength under a heading; one cylinder where all are alike."""
    name = deciding_measure(ladder)
    rows = [["fuelling", "cylinder", "strength", _SHORT[name], "teeth apart", "rpm", "the motion"]]
    numbers = ladder.cylinder.values[:1] if fire_evenly(line) else ladder.cylinder.values
    for fuelling in ladder.fuelling.values:
        for n in numbers:
            for strength in ladder.strength.values:
                rung = ladder.sel(fuelling=fuelling, cylinder=n, strength=strength)
                which = "any one" if fire_evenly(line) else str(n)
                rows.append([str(fuelling), which, percent(float(strength)), *_cells(rung, name)])
    return rows


def _cells(rung: xr.Dataset, name: str) -> list[str]:
    status = STATUS[int(rung.status)]
    if status in ("stalled", "failed"):
        return ["-", "-", "-", _MOTION[status]]
    share = float(rung.mesh_separated_share)
    fuel = ", more fuel than rated" if bool(rung.overfuelled) else ""
    apart = percent(share) if math.isfinite(share) else "-"
    return [number(float(filled(rung, name))), apart, f"{float(rung.mean_rpm):.0f}", _MOTION[status] + fuel]
