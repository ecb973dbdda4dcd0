"""What a plate feels from idle to rated speed: twist, stages, stop hits, coil bind, torque, heat and warming."""

from __future__ import annotations

import math
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from itertools import product
from typing import TYPE_CHECKING

import numpy as np

from calmshaft.condition import HEALTHY, Condition, Misfiring, line_fault, misfiring_label
from calmshaft.duty.plate import PlateDuty, plate_duty
from calmshaft.duty.stages import SIDES, alone, bands
from calmshaft.line import Line
from calmshaft.results import STATUS
from calmshaft.runs import Run, steady, usual_gear

if TYPE_CHECKING:
    import xarray as xr

SPEEDS = 16
# name -> unit, meaning, how it is had of a PlateDuty
# fmt: off
_VALUES = {
    "twist_min": ("rad", "least twist from the middle of the free play", lambda one: one.twist_min),
    "twist_max": ("rad", "greatest twist from the middle of the free play", lambda one: one.twist_max),
    "travel_used": ("1", "largest share of the travel to a stop", lambda one: one.used),
    "torque_mean": ("N m", "mean torque over crank angle (DIN 740-2: T_N)", lambda one: one.torque_mean),
    "torque_alternating": ("N m", "half range of the torque (DIN 740-2: T_W)", lambda one: one.torque_alternating),
    "torque_alternating_ten_hertz":
        ("N m", "the same with the frequency factor of DIN 740-2, for makers who state it at 10 Hz",
         lambda one: one.alternating_at_ten_hertz),
    "torque_greatest": ("N m", "greatest torque in either direction (DIN 740-2: T_max)",
                        lambda one: one.torque_greatest),
    "main_frequency": ("Hz", "frequency of the largest order of the torque", lambda one: one.main_frequency),
    "friction_power": ("W", "friction alone", lambda one: one.friction_power),
    "heat_power": ("W", "friction, damping and stops (DIN 740-2: P_W)", lambda one: one.heat_power),
    "warming": ("K", "over the air around, an estimate", lambda one: one.warming.value),
    "warming_low": ("K", "low end of that estimate", lambda one: one.warming.low),
    "warming_high": ("K", "high end of that estimate", lambda one: one.warming.high),
    "solid_share": ("1", "share of time with the coils of a spring touching",
                    lambda one: max((spring.solid_share for spring in one.springs), default=math.nan)),
}
# fmt: on


def plate_over_rpm(
    line: Line,
    rpm: Sequence[float] | None = None,
    misfiring: Sequence[Misfiring] = (HEALTHY, "1"),
    *,
    gear: str | None = None,
    load: str = "under way",
    threads: int = 0,
) -> xr.Dataset:
    """cs.plate_duty at every speed: an xarray.Dataset over misfiring and rpm.

    rpm: 16 speeds from idle to rated speed where not given. gear: ahead, or neutral where the line ends at the gearbox.
    Besides single values it holds `stage_share` [-] (stage) and `stop_hits` [-] (side) of an engine cycle; NaN where
    there is no steady answer, see `status`. attrs["stops"] and attrs["corners"]: twist [rad] of the stops, drive and
    coast (inf where not known), and of all corners of the curve. Raises LineError for a line without plate, no speed
    or no fault, and where a condition does not fit.
    """
    if not line.has_plate:
        raise line_fault("plate", line.title, "has no damper plate", "describe one in [plate]")
    speeds = [float(one) for one in rpm] if rpm is not None else usual_speeds(line)
    labels = [misfiring_label(one) for one in misfiring]
    if not speeds or not labels:
        raise line_fault("rpm" if labels else "misfiring", "nothing", "needs at least one", 'write [800] or ["none"]')
    at = Condition(speeds[0], gear or usual_gear(line), load=load)
    conditions = [at.with_(rpm=speed, misfiring=label) for label, speed in product(labels, speeds)]
    with ThreadPoolExecutor(threads or None) as pool:
        runs = list(pool.map(lambda one: steady(line, one), conditions))
    return _dataset(line, runs, labels, speeds)


def usual_speeds(line: Line) -> list[float]:
    """From idle to rated speed [rpm]."""
    idle, rated = (line.quantities[f"engine.{key}_rpm"].value * 30 / math.pi for key in ("idle", "rated"))
    return [round(float(speed), 1) for speed in np.linspace(idle, rated, SPEEDS)]


def _dataset(line: Line, runs: list[Run], labels: list[str], speeds: list[float]) -> xr.Dataset:
    import xarray as xr

    duties = [plate_duty(run) if run.signals is not None else None for run in runs]
    plate, shape, over = alone(line), (len(labels), len(speeds)), ("misfiring", "rpm")
    edges, names = bands(plate)

    def each(unit: str, meaning: str, value) -> tuple:
        found = np.array([value(one) if one else math.nan for one in duties])
        return over, found.reshape(shape), {"units": unit, "long_name": meaning}

    def many(meaning: str, dim: str, keys: Sequence[str], values) -> tuple:
        found = np.array([[values(one)[key] if one else math.nan for key in keys] for one in duties])
        return (*over, dim), found.reshape(*shape, len(keys)), {"units": "1", "long_name": meaning}

    made = {name: each(*about) for name, about in _VALUES.items()}
    made["stage_share"] = many("share of time on a stage of the curve", "stage", names, _shares)
    made["stop_hits"] = many("hits of the stop in an engine cycle", "side", SIDES, _hits)
    made["status"] = over, np.array([STATUS.index(run.status) for run in runs]).reshape(shape)
    made["overfuelled"] = over, np.array([run.overfuelled for run in runs]).reshape(shape)
    coords = {"misfiring": labels, "rpm": ("rpm", speeds, {"units": "rpm"}), "stage": names, "side": list(SIDES)}
    about = {"title": line.title, "plate": plate.title, "gear": runs[0].at.gear, "load": runs[0].at.load,
             "stops": [plate.stop(side) for side in SIDES], "corners": edges}  # fmt: skip
    return xr.Dataset(made, coords, about)


def _shares(one: PlateDuty) -> dict[str, float]:
    return one.shares


def _hits(one: PlateDuty) -> dict[str, float]:
    return one.stop_hits
