"""From the record of a steady run to what its plate feels: twist, stages, stop, torque, heat, springs."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from calmshaft.duty.heat import Warming, diameter_of, warming
from calmshaft.duty.springs import SpringDuty, spring_duties
from calmshaft.duty.stages import alone, shares, stop_hits
from calmshaft.judgement.couplings import frequency_factor
from calmshaft.judgement.verdicts import worst
from calmshaft.runs import Run


@dataclass(frozen=True)
class PlateDuty:
    """What a plate feels in one steady condition, over the `cycles` engine cycles on record.

    Of the whole run, worst cycle where it does not repeat: twist_min, twist_max [rad] from the middle of the free play;
    torque_mean, torque_alternating (half range) and torque_greatest (either direction) [N m]; friction_power and
    heat_power (friction, damping and stops) [W]. stops: drive and coast [rad], infinite where not known. shares: band
    of the curve -> share of time [-], coast first. stop_hits: side -> hits in an engine cycle [-].
    main_frequency [Hz]: of the largest order of the torque. warming: estimate with a range. springs: empty where the
    plate is given by its stages or points.
    """

    title: str
    cycles: int
    twist_min: float
    twist_max: float
    stops: tuple[float, float]
    shares: dict[str, float]
    stop_hits: dict[str, float]
    torque_mean: float
    torque_alternating: float
    torque_greatest: float
    main_frequency: float
    friction_power: float
    heat_power: float
    warming: Warming
    springs: tuple[SpringDuty, ...]

    @property
    def used(self) -> float:
        """Largest share of the travel to a stop that is used [-]; NaN where no stop is known."""
        known = [twist / stop for twist, stop in zip((self.twist_max, -self.twist_min), self.stops, strict=True)
                 if math.isfinite(stop)]  # fmt: skip
        return max(known, default=math.nan)

    @property
    def alternating_at_ten_hertz(self) -> float:
        """Alternating torque times the frequency factor of DIN 740-2 [N m], for makers who state T_KW at 10 Hz.

        Meant for rubber; steel springs do not ask for it.
        """
        return self.torque_alternating * frequency_factor(self.main_frequency)


def plate_duty(run: Run) -> PlateDuty:
    """What the plate of a steady run feels. Raises ValueError for a line without plate and a run without signals."""
    if not run.line.has_plate:
        raise ValueError("this line has no damper plate: a rigid drive or a table's coupling is in its place")
    if run.signals is None:
        raise ValueError(f"there are no signals: {run.status}, {run.reason}")
    plate = alone(run.line)
    twist, torque = (run.signals[name].sel(coupling="plate").values for name in ("twist", "torque"))
    time = run.signals["time"].values
    cycles = (twist.size - 1) // run.steps_per_cycle
    high, low = worst(run, "plate_torque_max", "highest_cycle"), worst(run, "plate_torque_min", "lowest_cycle")
    diameter, size = diameter_of(run.line, plate.springs)
    heat = run.measures["plate_heat_power"]
    return PlateDuty(
        title=plate.title,
        cycles=cycles,
        twist_min=worst(run, "plate_twist_min", "lowest_cycle"),
        twist_max=worst(run, "plate_twist_max", "highest_cycle"),
        stops=(plate.stop("drive"), plate.stop("coast")),
        shares=shares(plate, twist, time),
        stop_hits={side: hits / cycles for side, hits in stop_hits(plate, twist).items()},
        torque_mean=run.measures["plate_torque_mean"],
        torque_alternating=0.5 * worst(run, "plate_torque_ripple", "highest_cycle"),
        torque_greatest=max(high, -low),
        main_frequency=_main_frequency(torque, float(np.ptp(time))),
        friction_power=run.measures["plate_friction_power"],
        heat_power=heat,
        warming=warming(heat, run.measures["mean_rpm"] * math.tau / 60, diameter, size),
        springs=spring_duties(plate.springs, twist, time) if plate.springs else (),
    )


def _main_frequency(torque: np.ndarray, duration: float) -> float:
    """Frequency [Hz] of the largest line in the spectrum of a record of whole cycles."""
    lines = np.abs(np.fft.rfft(torque[:-1]))
    return float(1 + np.argmax(lines[1:])) / duration
