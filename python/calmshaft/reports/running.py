"""What the parts feel over speed, all cylinders firing, with one dead, and in neutral."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from calmshaft.condition import HEALTHY
from calmshaft.judgement.comparison import RPM, Comparison
from calmshaft.line import Line
from calmshaft.quiet_idle import QuietIdle, quiet_idle
from calmshaft.reports.parts import Part, Pictures, Points, Section, Table, Text, section
from calmshaft.runs import Run, fire_evenly
from calmshaft.wording import number

if TYPE_CHECKING:
    import xarray as xr

TOLD = 10  # speeds in a table, of those worked out
PEAKS = "Where the motion does not repeat: the worst engine cycle for twist, means over cycles for torque."
# heading, measure, what it is multiplied by
_IN_GEAR = (
    ("mean [N m]", "mesh_torque_mean", 1.0),
    ("vibratory [N m]", "mesh_torque_vibratory", 1.0),
    ("least [N m]", "mesh_torque_min", 1.0),
    ("teeth apart [%]", "mesh_separated_share", 100.0),
    ("plate twist from [deg]", "plate_twist_min", math.degrees(1)),
    ("to [deg]", "plate_twist_max", math.degrees(1)),
    ("plate, half range [N m]", "plate_torque_ripple", 0.5),
    ("plate heat [W]", "plate_heat_power", 1.0),
    ("irregularity [%]", "cyclic_irregularity", 100.0),
)
_NEUTRAL = (
    ("free pair apart [%]", "unloaded_mesh_separated_share", 100.0),
    ("free pair, peak to peak [N m]", "unloaded_mesh_torque_ripple", 1.0),
    ("impact power [W]", "unloaded_mesh_impact_power", 1.0),
    ("plate twist from [deg]", "plate_twist_min", math.degrees(1)),
    ("to [deg]", "plate_twist_max", math.degrees(1)),
    ("irregularity [%]", "cyclic_irregularity", 100.0),
)
_WORST = {"plate_twist_min": "lowest_cycle", "plate_twist_max": "highest_cycle"}


def over_speed(line: Line, ds: xr.Dataset, misfiring: str) -> Table:
    """A sweep at some of its speeds from idle on."""
    neutral = not np.isfinite(ds["mesh_torque_mean"]).any()
    columns = [one for one in (_NEUTRAL if neutral else _IN_GEAR) if np.isfinite(_filled(ds, one[1])).any()]
    running = ds.rpm.values >= line.quantities["engine.idle_rpm"].value / RPM - 0.5
    places = np.flatnonzero(running)[np.unique(np.linspace(0, running.sum() - 1, TOLD).round().astype(int))]
    values = [scale * _filled(ds, name).sel(misfiring=misfiring).values[places] for _, name, scale in columns]
    heavy = ds.overfuelled.sel(misfiring=misfiring).values[places]
    rows = [["rpm", *(heading for heading, _, _ in columns)]]
    for place, (rpm, star) in enumerate(zip(ds.rpm.values[places], heavy, strict=True)):
        rows.append([number(float(rpm)) + ("*" if star else ""), *(number(float(one[place])) for one in values)])
    who = "all cylinders firing" if misfiring == HEALTHY else f"cylinder {misfiring} dead, governed"
    stars = "; * more fuel than at rated torque, which no engine has" if any("*" in row[0] for row in rows) else ""
    return Table(f"{who[0].upper()}{who[1:]}{stars}", rows)


def _filled(ds: xr.Dataset, name: str) -> xr.DataArray:
    spread = f"{name}_{_WORST.get(name, 'mean')}"
    return ds[name].fillna(ds[spread]) if spread in ds else ds[name]


def healthy(line: Line, found: Comparison, linear: list[Part], pictures: Pictures, run: Run) -> Section | None:
    """All cylinders firing, ahead: over speed, by order, and what the plate goes through at idle."""
    ds = found.datasets.get((line.title, "ahead"))
    table = over_speed(line, ds, HEALTHY) if ds is not None else None
    return section(
        "Running with all cylinders", table, Text(PEAKS if table else ""), pictures, *linear, *plate_lives(run)
    )


def plate_lives(run: Run) -> list[Part]:
    """The plate in one condition in words, and the stress of its springs where they are entered."""
    if not run.line.has_plate or run.signals is None:
        return []
    from calmshaft.duty import plate_duty
    from calmshaft.duty.words import sentences, spring_rows

    duty, where = plate_duty(run), f"{number(run.at.rpm)} rpm, {run.at.gear}"
    said = [f"{sentence[0].upper()}{sentence[1:]}." for sentence in sentences(duty)]
    rows = spring_rows(duty)
    return [
        Text(f"The plate at {where}:"),
        Points(tuple(said)),
        *([Table(f"Springs at {where}", rows)] if rows else []),
    ]


def misfiring(line: Line, found: Comparison, more: list[Part], pictures: Pictures) -> Section | None:
    """One cylinder dead, ahead; more: the ladder and the orders."""
    ds = found.datasets.get((line.title, "ahead"))
    labels = [] if ds is None else [str(one) for one in ds.misfiring.values if one != HEALTHY]
    tables = [over_speed(line, ds, label) for label in labels]
    alike = (
        "With an even-firing engine on a rigid crank it does not matter which cylinder is dead."
        if fire_evenly(line)
        else ""
    )
    weak = "`calmshaft misfiring` prints a card for the helm."
    return section("Running with a cylinder dead", *tables, Text(f"{alike} {weak}".strip()), pictures, *more)


def neutral(line: Line, found: Comparison, idles: tuple[QuietIdle, ...]) -> Section | None:
    """Neutral over speed, and the lowest idle speeds that are quiet."""
    ds = found.datasets.get((line.title, "neutral"))
    table = over_speed(line, ds, HEALTHY) if ds is not None else None
    quiet = Points(tuple(f"{one.words[0].upper()}{one.words[1:]}." for one in idles))
    words = "Lowest quiet idle, calculated in steps of 25 rpm; a higher idle also shifts harder and pulls harder:"
    return section("Neutral and quiet idle", table, Text(words if idles else ""), quiet)


def quiet(line: Line, gears: tuple[str, ...], threads: int) -> tuple[QuietIdle, ...]:
    """Lowest quiet idle in some gears, healthy and with a cylinder dead."""
    return quiet_idle(line, gears=gears, threads=threads)
