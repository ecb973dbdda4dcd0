"""One disc on a wall through a spring damper, by the library's own equations and stepper, and what to read from it."""

import math

import numpy as np
from scipy.interpolate import CubicHermiteSpline

from calmshaft import _core

WALL = 1e15  # [kg m^2] moves less than rounding


def both_sides(*corner_and_slope: tuple[float, float]) -> list[_core.Ramp]:
    """Stages that are alike in drive and coast: corner [rad], change of stiffness [N m/rad]."""
    return [_core.Ramp(side=side, corner=c, slope=k) for c, k in corner_and_slope for side in (1.0, -1.0)]


def pair(inertia: float, far_inertia: float, **damper) -> _core.MassElastic:
    """Two discs [kg m^2] joined by a damper."""
    joint = _core.StagedDamper(name="damper", from_station=0, to_station=1, **damper)
    discs = [("near", inertia), ("far", far_inertia)]
    return _core.MassElastic(
        stations=[_core.Station(name=name, inertia=size, speed_ratio=1.0) for name, size in discs], couplings=[joint]
    )


def released(start: float, duration: float, steps: int = 1000, inertia: float = 1.0, **damper) -> dict:
    """Free motion of a disc on the wall after a release from rest at `start` [rad]."""
    system = pair(inertia, WALL, **damper)
    return _core.oscillate(
        system, duration=duration, largest_step=duration / steps, angle=[start, 0.0], speed=[0.0, 0.0]
    )


def turning_points(motion: dict) -> tuple[np.ndarray, np.ndarray]:
    """Times [s] and angles [rad] where the near disc stands still, read between the steps by cubics."""
    time, speed = motion["time"], motion["speed"][0]
    at = CubicHermiteSpline(time, speed, motion["acceleration"][0]).roots(extrapolate=False)
    return at, CubicHermiteSpline(time, motion["angle"][0], speed)(at)


def period(start: float, guess: float, **damper) -> float:
    """Time [s] from the release to the second standstill; `guess` [s] only says how long to look."""
    at, _ = turning_points(released(start, 1.1 * guess, **damper))
    return at[at > 0.1 * guess][1]


def shaken_amplitude(speed_ratio: float, friction: float, damping_ratio: float, give: float) -> float:
    """Steady amplitude over P0 / k under P0 cos wt; friction: F / P0; give: presliding twist over P0 / k."""
    natural, cycles = 10.0, 60 if damping_ratio else 300
    forced, k = speed_ratio * natural, natural**2
    turn = math.tau / forced
    viscous = 2 * damping_ratio * natural
    system = pair(
        1.0, WALL, ramps=both_sides((0.0, k)), friction_torque=friction * k, presliding_angle=give, damping=viscous
    )
    motion = _core.oscillate(
        system, duration=cycles * turn, largest_step=turn / 2000, angle=[0.0, 0.0], speed=[0.0, 0.0],
        torque_amplitude=k, frequency=forced, record_from=(cycles - 4) * turn,
    )  # fmt: skip
    return float(np.mean(np.abs(turning_points(motion)[1])))


def imposed(amplitude: float, frequency: float, cycles: int, far_inertia: float = WALL, **damper) -> dict:
    """A disc so heavy that nothing disturbs its amplitude * cos(frequency t) [rad, rad/s]."""
    shaft, turn = 1e9, math.tau / frequency
    far = amplitude if far_inertia < WALL else 0.0
    return _core.oscillate(
        pair(shaft, far_inertia, **damper), duration=cycles * turn, largest_step=turn / 1000,
        angle=[amplitude, far], speed=[0.0, 0.0],
        torque_amplitude=-shaft * frequency**2 * amplitude, frequency=frequency,
    )  # fmt: skip


def work_of_last_cycle(motion: dict, frequency: float) -> float:
    """Work [J] that the damper takes in the last turn of the shaking."""
    power = motion["torque"][0] * (motion["speed"][0] - motion["speed"][1])
    work = CubicHermiteSpline(motion["time"], motion["work"][0], power)
    return float(work(motion["time"][-1]) - work(motion["time"][-1] - math.tau / frequency))


def without_give(value_at, give: float) -> float:
    """The limit of rigid friction: a give delays each reversal by the time to cross it, which grows as its root."""
    return 2 * value_at(give / 4) - value_at(give)
