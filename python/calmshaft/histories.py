"""A line through a manoeuvre: the history and what happened in it."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from calmshaft import _core
from calmshaft.condition import Condition, line_fault
from calmshaft.line import Line
from calmshaft.manoeuvres import Manoeuvre
from calmshaft.runs import condition_text, cylinders, prepared

if TYPE_CHECKING:
    import xarray as xr

STALL_SHARE = 0.2  # of idle speed: below it a diesel's air is too cold to fire; value from memory, a wide guess


class Peak(NamedTuple):
    """Extremes of a signal over all steps, SI, and the times [s] at which they occur."""

    least: float
    least_at: float
    greatest: float
    greatest_at: float


@dataclass(frozen=True)
class History:
    """What a line did in a manoeuvre.

    status: "finished", "at rest" (a stop that came to rest), "hunting" (the speed still swings at the end), "stalled",
    "unfinished" (budget spent), "failed"; `reason` says in a sentence what there is to say.
    signals: xarray.Dataset over time [s]: crank_angle, fuelling, mean_speed, speed(station), twist(coupling),
    torque(coupling), evenly sampled. In a gear pair with a clutch the twist is that of the teeth, slip left out.
    peaks: coupling -> "twist" [rad] and "torque" [N m] -> Peak, from every step, so finer than the samples.
    stop_hits: "drive" and "coast" -> times [s] at which the plate met its stop. mesh: gear pair -> "drive",
    "separated", "coast" shares of time. clutch: gear pair -> "heat" [J], "slip_ended" [s] (NaN: it never slipped under
    load), "slips" at the end. energy_audit: work in, dissipated, stored [J] and the defect, which is numerical error.
    statistics: steps, rejected_steps, evaluations, ended_at [s].
    """

    line: Line
    manoeuvre: Manoeuvre
    at: Condition
    status: str
    reason: str
    peaks: dict[str, dict[str, Peak]] = field(repr=False)
    stop_hits: dict[str, np.ndarray] = field(repr=False)
    mesh: dict[str, dict[str, float]] = field(repr=False)
    clutch: dict[str, dict[str, float]] = field(repr=False)
    energy_audit: dict[str, float] = field(repr=False)
    statistics: dict[str, float] = field(repr=False)
    signals: xr.Dataset = field(repr=False)


class SimulationInterrupted(KeyboardInterrupt):
    """Ctrl-C during a manoeuvre; `partial` is the History as far as it came."""

    def __init__(self, partial: History):
        super().__init__("the manoeuvre was interrupted; .partial holds the history so far")
        self.partial = partial


def simulate(
    line: Line,
    manoeuvre: Manoeuvre,
    at: Condition | None = None,
    *,
    sample_interval: float = 0.0,
    most_fuelling: float = 1.1,
    settle_cycles: int = 12,
    tolerance: float = 1e-4,
    most_evaluations: int = 40_000_000,
) -> History:
    """A line through a manoeuvre, in time.

    at: gear, load, misfiring cylinders and, where the manoeuvre does not say, the crank speed at the beginning; None:
    idle (a ramp: its start), in the gear that the manoeuvre begins in. sample_interval [s] of the signals, 0: twenty
    samples in a period of order 12 at the greatest speed asked, at most 200,000 in all. most_fuelling [-]: stop of the
    fuelling, 1 gives rated torque at rated speed. settle_cycles: engine cycles run before time 0. tolerance [-]: error
    of torque in a step over rated torque. most_evaluations: budget, then the history ends "unfinished".

    With at.fuelling "governed" the fuelling follows the speed; "fixed" leaves it where the healthy engine would need it
    at the speed asked. The governor has the droop and lag of [engine.governor], clutches have the torque and times of
    [gearbox.clutch]. Raises LineError when something does not fit the line, SimulationInterrupted on Ctrl-C; a
    numerical failure, a stalled engine or a hunting governor is a status with a reason.
    """
    if not isinstance(manoeuvre, Manoeuvre):
        raise line_fault("manoeuvre", manoeuvre, "must be a manoeuvre", "write for instance RunUp(500, 2600, rate=100)")
    begins = manoeuvre.begins_at(line, at)
    governor = {key: line.quantities[f"engine.governor.{key}"].value for key in ("droop", "lag")}
    options = _options(line, sample_interval, settle_cycles, tolerance, most_evaluations)
    options.governor = _core.Governor(most_fuelling=_positive("most_fuelling", most_fuelling), **governor)
    condition = _core_condition(line, begins, at)
    found = _core.simulate(prepared(line), condition, manoeuvre.schedule(line, begins), options)
    history = _history(line, manoeuvre, begins, found)
    if found["interrupted"]:
        raise SimulationInterrupted(history)
    return history


def _positive(name: str, value: float) -> float:
    if not (math.isfinite(value) and value > 0):
        raise line_fault(name, value, "must be more than zero", "leave it out to have the usual")
    return value


def _options(line: Line, interval: float, settle: int, tolerance: float, evaluations: int) -> _core.ManoeuvreOptions:
    if not (math.isfinite(interval) and interval >= 0):
        raise line_fault(
            "sample_interval", interval, "must be zero or more", "write seconds, e.g. 1e-4, or leave it out"
        )
    if settle < 0:
        raise line_fault("settle_cycles", settle, "must be zero or more", "write a whole number, e.g. 12")
    return _core.ManoeuvreOptions(
        stall_speed=STALL_SHARE * line.quantities["engine.idle_rpm"].value,
        sample_interval=interval,
        settle_cycles=settle,
        tolerance=_positive("tolerance", tolerance),
        most_evaluations=int(_positive("most_evaluations", evaluations)),
    )


def _core_condition(line: Line, begins: Condition, at: Condition | None) -> _core.Condition:
    """A load given as a torque holds at the speed that the user wrote beside it; the square law takes it along."""
    core = begins.core(cylinders(line))
    if at is not None:
        core.load_torque *= (begins.rpm / at.rpm) ** 2
    return core


def _history(line: Line, manoeuvre: Manoeuvre, at: Condition, found: Mapping[str, Any]) -> History:
    about = {
        "title": line.title,
        "condition": condition_text(at),
        "manoeuvre": repr(manoeuvre),
        "status": found["status"],
    }
    peaks = {
        coupling: {signal: Peak(*values) for signal, values in signals.items()}
        for coupling, signals in found["peaks"].items()
    }
    plain = ("status", "reason", "stop_hits", "mesh", "clutch", "energy_audit", "statistics")
    cycle = math.pi * line.core.engine.strokes
    return History(
        line=line,
        manoeuvre=manoeuvre,
        at=at,
        peaks=peaks,
        signals=history_dataset(found["signals"], cycle, about),
        **{name: found[name] for name in plain},
    )


def history_dataset(signals: Mapping[str, Any], cycle: float, attributes: Mapping[str, Any]) -> xr.Dataset:
    """Signals over `time` [s]; names, units and meanings as over crank angle in results.signals_dataset."""
    import xarray as xr

    time, angle = signals["time"], signals["crank_angle"]

    def one(name: str, unit: str, meaning: str, dims: tuple[str, ...], values: np.ndarray) -> tuple[Any, ...]:
        return name, (dims, values, {"units": unit, "long_name": meaning})

    by_time, by_station, by_coupling = ("time",), ("station", "time"), ("coupling", "time")
    side = "at the coupling's driving side"
    angle_words = "crank angle, 0 = firing top dead centre of cylinder 1"
    mean = mean_speed(time, angle, cycle)
    return xr.Dataset(
        dict(
            [
                one("crank_angle", "rad", angle_words, by_time, angle),
                one("mean_speed", "rad/s", "crank speed, mean over the engine cycle around", by_time, mean),
                one(
                    "fuelling",
                    "1",
                    "fuelling factor, 1 gives rated torque at rated speed",
                    by_time,
                    signals["fuelling"],
                ),
                one("speed", "rad/s", "speed of the station's own shaft", by_station, signals["speed"]),
                one("twist", "rad", f"twist {side}", by_coupling, signals["twist"]),
                one("torque", "N m", f"torque {side}", by_coupling, signals["torque"]),
            ]
        ),
        {
            "time": ("time", time, {"units": "s", "long_name": "time"}),
            "station": list(signals["stations"]),
            "coupling": list(signals["couplings"]),
        },
        dict(attributes),
    )


def mean_speed(time: np.ndarray, angle: np.ndarray, cycle: float) -> np.ndarray:
    """Crank speed [rad/s] over the engine cycle [rad] around each sample, over what there is of it at the ends."""
    if time.size < 2:
        return np.full(time.size, np.nan)
    forward = np.maximum.accumulate(angle)
    early = np.interp(forward - cycle / 2, forward, time)
    late = np.interp(forward + cycle / 2, forward, time)
    turned = np.interp(late, time, angle) - np.interp(early, time, angle)
    return turned / np.maximum(late - early, np.finfo(float).tiny)
