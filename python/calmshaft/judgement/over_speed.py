"""What is judged over speed: each respect with its value and its limit at every point of a sweep."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from calmshaft import units
from calmshaft.condition import Condition
from calmshaft.judgement.entered import (
    ENTERED,
    Entered,
    limit_over,
    stress_of,
    value_in_sweep,
    why_missing,
    worst_in_sweep,
)
from calmshaft.judgement.joint import SLIP, joint_in
from calmshaft.judgement.line_shaft import ShaftOverSpeed, line_stress, ruled_shaft, why_not_ruled
from calmshaft.judgement.rules import SEPARATED_LIMIT, SIDES
from calmshaft.judgement.shafts import HIGHEST_RATIO, STRESS, barred_range, continuous_stress, passing_stress
from calmshaft.line import Line
from calmshaft.quantity import Quantity
from calmshaft.results import STATUS
from calmshaft.wording import number

if TYPE_CHECKING:
    import xarray as xr

RPM = math.pi / 30.0  # [rad/s]
BELOW_IDLE = 0.5  # [rpm] for speeds that were rounded
ABOVE_IDLE = 1.2  # [-] times idle speed: from here on the line is under way; ours
SHARE = "% of the time"
INVALID = (STATUS.index("stalled"), STATUS.index("failed"))
RATTLE_IN_GEAR = "rattle of the free pair"
SHAFT_STRESS = "shaft stress by IACS UR M68"


@dataclass(frozen=True)
class Respect:
    """One thing judged over speed.

    value and limit [unit] over (rpm, misfiring); value NaN where there is none. speeds [rpm]: lowest and highest of
    those it is judged at. why_not: why it cannot be judged at all, empty where it can. matters: whether that leaves
    something open that could do harm. document: where the limit stands. coast: share on the coast flanks [%] of teeth.
    entered: the limit itself where a user entered it, with a document for each range of speeds.
    """

    subject: str
    value: xr.DataArray | None = None
    limit: xr.DataArray | float = math.nan
    unit: str = ""
    speeds: tuple[float, float] = (0.0, math.inf)
    why_not: str = ""
    matters: bool = True
    document: str = ""
    coast: xr.DataArray | None = None
    entered: Quantity | None = None

    def document_at(self, rpm: float) -> str:
        """Where the limit at a speed [rpm] stands."""
        band = self.entered.at_speed(rpm * RPM) if self.entered else None
        return band.document if band else self.document


def valid(ds: xr.Dataset) -> xr.DataArray:
    """Points with a steady result."""
    return ~ds["status"].isin(INVALID) & (ds["status"] >= 0)


def held(ds: xr.Dataset) -> xr.DataArray:
    """Points whose speed the engine can hold without more fuel than at rated torque."""
    return ~ds["overfuelled"]


def respects(line: Line, at: Condition, ds: xr.Dataset, threads: int = 0) -> list[Respect]:
    """Everything judged of a sweep over rpm and misfiring at the gear and load of `at`."""
    gear, shaft = at.gear, _shaft(line, at, ds, threads)
    made = of_measures(line, gear, ds, shaft)
    if gear != "neutral":
        if "application_factor" not in line.limits:
            made.append(_unlimited_factor(line, ds))
        made.append(_ruled_stress(line, ds, shaft))
    running = (
        _idle(line) - BELOW_IDLE
    )  # below idle the line is drawn, not judged: it runs there when it starts and stops
    return [replace(one, speeds=(max(one.speeds[0], running), one.speeds[1])) for one in made]


def of_measures(line: Line, gear: str, ds: xr.Dataset, shaft: ShaftOverSpeed | None = None) -> list[Respect]:
    """What follows point by point from the measures, over whatever `ds` goes over, at all its speeds.

    shaft: its torque, which a sweep itself does not give; without it nothing is held against that.
    """
    made = list(_teeth(line, gear, ds))
    if line.has_plate:
        made += _plate(line, ds)
    return made + [_entered(line, ENTERED[key], line.limits[key], gear, ds, shaft)
                   for key in ENTERED if key in line.limits]  # fmt: skip


def _idle(line: Line) -> float:
    return line.quantities["engine.idle_rpm"].value / RPM


def _teeth(line: Line, gear: str, ds: xr.Dataset) -> Iterator[Respect]:
    under_way = ABOVE_IDLE * _idle(line) + 1e-6
    low, high = (0.0, under_way), (under_way, math.inf)
    mesh, names = "mesh", ["teeth at idle", "teeth under way"]
    if gear == "neutral":
        mesh, names = "unloaded_mesh", ["rattle at idle"]
    share, coast = (100 * ds[f"{mesh}_{what}_share"] for what in ("separated", "coast"))
    for subject, speeds in zip(names, (low, high), strict=False):
        yield Respect(subject, share, 100 * SEPARATED_LIMIT, SHARE, speeds, coast=coast)
    if gear != "neutral":
        free = [100 * ds[f"unloaded_mesh_{what}_share"] for what in ("separated", "coast")]
        if np.isfinite(free[0]).any():
            yield Respect(RATTLE_IN_GEAR, free[0], 100 * SEPARATED_LIMIT, SHARE, coast=free[1])
        mean = abs(ds["mesh_torque_mean"])
        yield Respect("vibratory torque against mean", ds["mesh_torque_vibratory"], mean, "N m")


def _plate(line: Line, ds: xr.Dataset) -> Iterator[Respect]:
    plate, stop, stated = line.core.plate, "stop of the plate", "torque stated for the plate"
    if math.isfinite(min(plate.drive.stop_angle, plate.coast.stop_angle)):
        yield _sides(stop, ds, plate.drive.stop_angle, plate.coast.stop_angle)
    else:
        yield Respect(stop, why_not="its stop_angle is not known")
    if line.document["plate"].get("springs"):
        from calmshaft.workshop.plate_twist import plate_springs  # loads no earlier than needed

        springs = plate_springs(line)
        yield _sides("coil bind of the plate", ds, *(springs.bind_angle(side) for side in SIDES))
    torque = np.maximum(worst_in_sweep(ds, "plate_torque_max", "highest_cycle"),
                        -worst_in_sweep(ds, "plate_torque_min", "lowest_cycle"))  # fmt: skip
    if plate.rated_torque:
        yield Respect(stated, torque, plate.rated_torque, "N m")
    else:
        yield Respect(stated, why_not="its maker's rated_torque is not given")
    if joint := joint_in(line):
        yield Respect(SLIP, torque, joint.slip.low, "N m")


def _sides(subject: str, ds: xr.Dataset, drive: float, coast: float) -> Respect:
    """Twist against an angle of each side; the side that is nearer to it counts."""
    high = worst_in_sweep(ds, "plate_twist_max", "highest_cycle")
    low = -worst_in_sweep(ds, "plate_twist_min", "lowest_cycle")
    drives = high / drive >= low / coast
    limit = (drives * 0.0 + drive).where(drives, coast)
    twist = high.where(drives, low).where(np.isfinite(high + low))
    return Respect(subject, np.degrees(twist), np.degrees(limit), "deg")


def _shaft(line: Line, at: Condition, ds: xr.Dataset, threads: int) -> ShaftOverSpeed | None:
    """Only where something is held against its torque."""
    asked = any(key.startswith("shaft_") for key in line.limits) or not why_not_ruled(line)
    if at.gear == "neutral" or not asked:
        return None
    running = ds["rpm"] >= _idle(line) - BELOW_IDLE
    return ShaftOverSpeed(line, at, ds, valid(ds) & held(ds) & running, threads)


def _entered(
    line: Line, one: Entered, limit: Quantity, gear: str, ds: xr.Dataset, shaft: ShaftOverSpeed | None
) -> Respect:
    document, neutral = limit.document or "", gear == "neutral"
    over_rpm = ds["rpm"].copy(data=limit_over(limit, ds["rpm"].values))
    torque: xr.DataArray | float = math.nan
    if shaft and one.how.startswith("shaft"):
        torque = shaft.beside(over_rpm / stress_of(one, line, 1.0))
    found = value_in_sweep(one, line, ds, torque)
    value, allowed = (each / units.factor(one.unit, one.kind) for each in (found, over_rpm))
    if not np.isfinite(value).any() and (neutral or one.how in ("over rated torque", "shaft stress")):
        why = f"{'in neutral' if neutral else why_missing(one)} there is none to hold against it"
        return Respect(one.subject, why_not=why, matters=not neutral, document=document)
    ends = [[band.low / RPM, band.high / RPM] for band in limit.bands] or [[0.0, math.inf]]
    speeds = (ends[0][0] - BELOW_IDLE, ends[-1][1] + BELOW_IDLE)
    return Respect(one.subject, value, allowed, one.shown_unit, speeds, document=document, entered=limit)


def _unlimited_factor(line: Line, ds: xr.Dataset) -> Respect:
    one = ENTERED["application_factor"]
    most = float(value_in_sweep(one, line, ds).where(valid(ds) & held(ds)).max())
    known = f"up to {number(most)}; " if math.isfinite(most) else ""
    return Respect(one.subject, why_not=f"{known}no limit is entered", matters=False)


def _ruled_stress(line: Line, ds: xr.Dataset, over: ShaftOverSpeed | None) -> Respect:
    """Against tau_C; only up to 1.05 of rated speed, as far as the rule goes."""
    why, shaft = why_not_ruled(line), ruled_shaft(line)
    if why or shaft is None or over is None:
        return Respect(SHAFT_STRESS, why_not=why, matters=not why.startswith("nobody said"), document=str(STRESS))
    ratio = ds["rpm"] * RPM / line.quantities["engine.rated_rpm"].value
    limit = ratio.copy(data=[continuous_stress(shaft, float(one)).value / 1e6 if one <= HIGHEST_RATIO else math.nan
                             for one in ratio])  # fmt: skip
    torque = over.beside(1e6 * limit / line_stress(line, 1.0))
    return Respect(SHAFT_STRESS, line_stress(line, torque) / 1e6, limit, "MPa", document=str(STRESS))


def barred_words(line: Line, rpm: float, stress: float) -> str:
    """For a stress [MPa] that is over at a speed [rpm]: the range that IACS UR M68 has passed quickly, or none."""
    shaft, rated = ruled_shaft(line), line.quantities["engine.rated_rpm"].value / RPM
    ends = barred_range(rpm, rated)
    if shaft is None or ends is None or stress * 1e6 >= passing_stress(shaft, rpm / rated).value:
        return "more than the rule has for passing quickly"
    return f"barred from {number(ends[0])} to {number(ends[1])} rpm, to be run through quickly"
