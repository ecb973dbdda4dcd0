"""Several lines beside each other over speed: who parts its teeth, reaches its stop, rattles in neutral, and where."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import asdict, dataclass, field
from functools import partial
from typing import TYPE_CHECKING, Any

import numpy as np

from calmshaft.condition import HEALTHY, Condition, line_fault
from calmshaft.judgement.joint import SLIP, joint_in
from calmshaft.judgement.rules import SEPARATED_LIMIT
from calmshaft.judgement.verdicts import NEAR
from calmshaft.line import Line
from calmshaft.results import STATUS
from calmshaft.runs import cylinders, fire_evenly, usual_gear
from calmshaft.sweeps import sweep
from calmshaft.wording import number, percent

if TYPE_CHECKING:
    import xarray as xr

RPM = math.pi / 30.0  # [rad/s]
ABOVE_IDLE = 1.2  # [-] times idle speed: from here on the line is under way; ours
ONE_DEAD = "one dead"
UNREACHED = -1.0  # in place of a share
INVALID = (STATUS.index("stalled"), STATUS.index("failed"))


@dataclass(frozen=True, slots=True)
class Verdict:
    """One line judged in one respect.

    word: "within", "near", "over" or "not judged". value and limit [unit] decide it, at `rpm` with `cylinder` dead (0:
    all fire, or any of an engine that fires evenly); NaN where there is none. margin: what is left of the limit [-],
    negative beyond it. finding: in words.
    """

    line: str
    gear: str
    cylinders: str
    subject: str
    word: str
    finding: str
    value: float = math.nan
    limit: float = math.nan
    unit: str = ""
    rpm: float = math.nan
    cylinder: int = 0

    @property
    def margin(self) -> float:
        return 1.0 - self.value / self.limit

    def as_dict(self) -> dict[str, Any]:
        """Plain values, None for NaN."""
        plain = {**asdict(self), "margin": self.margin}
        return {key: None if isinstance(value, float) and math.isnan(value) else value for key, value in plain.items()}


@dataclass(frozen=True)
class Comparison:
    """verdicts: by line, gear, cylinders and subject. datasets: by (line, gear), over rpm and misfiring."""

    lines: Mapping[str, Line]
    verdicts: tuple[Verdict, ...]
    datasets: Mapping[tuple[str, str], xr.Dataset] = field(repr=False)


def compare(lines: Mapping[str, Line], rpm: Sequence[float] | None = None, gears: Sequence[str] = ("ahead", "neutral"),
            threads: int = 0, progress: bool = False) -> Comparison:  # fmt: skip
    """Every line at every speed, healthy and with each cylinder dead (one, where all are alike), judged.

    lines: name -> Line. rpm: 40 speeds from 0.8 x the lowest idle to the highest rated speed where not given. Gears
    that a line lacks are left out. Raises LineError for no line or a condition that does not fit, and on Ctrl-C
    SweepInterrupted.
    """
    if not lines:
        raise line_fault("compare", "no line", "there is nothing to compare", "name two lines, or a line and plates")
    speeds = list(rpm) if rpm is not None else _speeds(lines)
    datasets = {}
    for name, line in lines.items():
        for gear in gears:
            if gear == "neutral" or usual_gear(line) != "neutral":
                axes = {"rpm": speeds, "misfiring": [HEALTHY, *_one_dead(line)]}
                at = Condition(speeds[0], gear)
                datasets[name, gear] = sweep(line, axes, at, threads=threads, progress=progress)
    verdicts = [one for (name, gear), ds in datasets.items() for one in _verdicts(name, lines[name], gear, ds)]
    return Comparison(dict(lines), tuple(verdicts), datasets)


def _one_dead(line: Line) -> list[str]:
    return [str(one + 1) for one in range(1 if fire_evenly(line) else cylinders(line))]


def _speeds(lines: Mapping[str, Line]) -> list[float]:
    idle = min(line.quantities["engine.idle_rpm"].value for line in lines.values()) / RPM
    rated = max(line.quantities["engine.rated_rpm"].value for line in lines.values()) / RPM
    below, above = np.linspace(0.8 * idle, idle, 5), np.linspace(idle, rated, 36)
    return [round(float(speed), 1) for speed in [*below, *above[1:]]]


def _verdicts(name: str, line: Line, gear: str, ds: xr.Dataset) -> list[Verdict]:
    idle = line.quantities["engine.idle_rpm"].value / RPM
    below, above = ds.rpm <= ABOVE_IDLE * idle + 1e-6, ds.rpm > ABOVE_IDLE * idle + 1e-6
    at_idle = below & (ds.rpm >= idle - 0.5)
    made = []
    for word, part in ((HEALTHY, ds.sel(misfiring=[HEALTHY])), (ONE_DEAD, ds.drop_sel(misfiring=HEALTHY))):
        judged = partial(Verdict, name, gear, "all fire" if word == HEALTHY else word)
        if gear == "neutral":
            quiet = part.sel(rpm=at_idle)
            made.append(_judged(judged, "rattle at idle", _share(quiet, "unloaded_mesh"), SEPARATED_LIMIT))
            continue
        made.append(_judged(judged, "teeth at idle", _share(part.sel(rpm=at_idle)), SEPARATED_LIMIT))
        made.append(_judged(judged, "teeth under way", _share(part.sel(rpm=above)), SEPARATED_LIMIT))
        made += _of_plate(judged, line, part)
    return made


def _of_plate(judged: Callable[..., Verdict], line: Line, part: xr.Dataset) -> list[Verdict]:
    plate, made = line.core.plate, []
    if not line.has_plate:
        return []
    stop = min(plate.drive.stop_angle, plate.coast.stop_angle)
    if math.isfinite(stop):
        twist = _worst(part, "plate_twist", plate.drive.stop_angle, plate.coast.stop_angle)
        made.append(_judged(judged, "stop of the plate", twist, 1.0, "of its travel"))
    else:
        made.append(judged("stop of the plate", "not judged", "its stop_angle is not known"))
    if plate.rated_torque:
        torque = _worst(part, "plate_torque", plate.rated_torque, plate.rated_torque)
        made.append(_judged(judged, "torque stated for the plate", torque, 1.0, "of the stated torque"))
    else:
        made.append(judged("torque stated for the plate", "not judged", "its maker's rated_torque is not given"))
    if joint := joint_in(line):
        torque = _worst(part, "plate_torque", joint.slip.low, joint.slip.low)
        made.append(_judged(judged, SLIP, torque, 1.0, "of what the bolts hold at least"))
    return made


def _share(part: xr.Dataset, mesh: str = "mesh") -> xr.DataArray:
    return _where_valid(part, part[f"{mesh}_separated_share"])


def _worst(part: xr.Dataset, stem: str, drive: float, coast: float) -> xr.DataArray:
    """The larger of both sides over its limit, of the worst cycle where the motion does not repeat."""
    high, low = part[f"{stem}_max"], part[f"{stem}_min"]
    high = high.fillna(part[f"{stem}_max_highest_cycle"])
    low = low.fillna(part[f"{stem}_min_lowest_cycle"])
    return _where_valid(part, np.maximum(high / drive, -low / coast))


def _where_valid(part: xr.Dataset, values: xr.DataArray) -> xr.DataArray:
    """NaN where there is no result, so that nothing is called within on the strength of its neighbours.

    Speeds that a weak engine cannot hold, since they ask for more fuel than at rated torque, are left out as -1.
    """
    valid = ~part["status"].isin(INVALID) & (part["status"] >= 0)
    return values.where(valid).where(~part["overfuelled"], UNREACHED).transpose("rpm", "misfiring")


def _judged(
    judged: Callable[..., Verdict], subject: str, values: xr.DataArray, limit: float, unit: str = "of the time"
) -> Verdict:
    """The worst point decides; a point without a result leaves the subject open unless another one is over."""
    flat = values.values
    if not (flat >= 0).any():
        return judged(subject, "not judged", "no point has a valid result")
    row, column = np.unravel_index(int(np.nanargmax(flat)), flat.shape)
    value, rpm, label = float(flat[row, column]), float(values.rpm[row]), str(values.misfiring.values[column])
    word = "over" if value > limit else "near" if value >= NEAR * limit and limit == 1.0 else "within"
    finding = f"{percent(value)}, {number(rpm)} rpm" if value > 0 else percent(value)
    open_rows = np.isnan(flat).any(axis=1)
    if word != "over" and open_rows.any():
        word, finding = "not judged", f"no valid result at {number(float(values.rpm[open_rows][0]))} rpm"
    cylinder = 0 if label == HEALTHY or values.misfiring.size == 1 else int(label)
    return judged(subject, word, finding, value, limit, unit, rpm, cylinder)
