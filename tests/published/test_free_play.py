"""Free play, stages and backlash: periods of free swings, and where a gear mesh opens."""

import math

import numpy as np
import pytest

from calmshaft import _core
from damped_swings import both_sides, period
from published_rows import Tolerance

QUADRATURE = "energy quadrature, closed form"
STEPPED = Tolerance(1e-8, "steps controlled to 1e-10, corners within them")


@pytest.mark.parametrize(
    ("amplitude", "expected"),
    [(0.012, 0.2628318531), (0.015, 0.1428318531), (0.02, 0.1028318531), (0.05, 0.0728318531), (0.1, 0.0672762975)],
)
def test_free_play_lengthens_the_period(amplitude, expected, compare):
    # 2 pi / w + 4 d / (w (A - d)), w = 100 rad/s, d = 0.01 rad either side
    ours = period(amplitude, expected, ramps=both_sides((0.01, 1e4)))
    compare(f"period with free play, amplitude {amplitude:g} [s]", ours, expected, STEPPED, QUADRATURE)


def test_a_second_stage_shortens_the_period(compare):
    # 50 rad/s within 0.01 rad, 200 rad/s beyond, amplitude 0.02 rad
    ours = period(0.02, 0.05, ramps=both_sides((0.0, 2500.0), (0.01, 37500.0)))
    compare("period on two stages [s]", ours, 0.0487569655, STEPPED, QUADRATURE)


def test_a_preload_shortens_the_period(compare):
    # (4 / w) acos(s / (A + s)), w = 100 rad/s, s = 0.005, A = 0.02 rad; the jump at the middle is a steep stage
    k, width = 1e4, 1e-9
    steep = 0.005 * k / width
    ours = period(0.02, 0.055, ramps=both_sides((0.0, steep), (width, k - steep)))
    kept = Tolerance(5e-8, "the jump of the preload spread over 1e-9 rad")
    compare("period of a preloaded spring [s]", ours, 0.0547775362, kept, QUADRATURE)


RATIO, DRIVE, FRONT, SHAFT = 2.0, 22000.0, 6000.0, 12000.0  # [-], [N m/rad]: crank, damper, propeller shaft
TEETH, HALF_GAP = 1e7, 0.005  # [N m/rad] stiff beside the rest, [rad]
WATER = 5.0  # [N m s/rad] of the propeller: the slope 2 T / w of its square law
AMPLITUDE = 100.0  # [N m] on the crank


def whole_line(propeller_speed: float) -> _core.MassElastic:
    """Crank, flywheel, pinion, wheel and propeller; mean torque WATER / 2 x propeller_speed [rad/s]."""
    discs = (
        ("crank", 0.06, 1.0),
        ("flywheel", 0.90, 1.0),
        ("pinion", 0.05, 1.0),
        ("wheel", 0.25, 0.5),
        ("propeller", 1.5, 0.5),
    )
    springs = ((0, 1, DRIVE, 2.0), (1, 2, FRONT, 8.0), (3, 4, SHAFT, 4.0))
    couplings = [
        _core.LinearSpring(name=f"spring {a}", from_station=a, to_station=b, stiffness=k, damping=c)
        for a, b, k, c in springs
    ]
    teeth = {"ratio": RATIO, "half_backlash": HALF_GAP, "contact": _core.Contact(stiffness=TEETH)}
    couplings.append(_core.GearMesh(name="mesh", from_station=2, to_station=3, **teeth))
    load = _core.SquareLoad(name="water", station=4, coefficient=WATER / 2 / propeller_speed)
    stations = [_core.Station(name=name, inertia=size, speed_ratio=ratio) for name, size, ratio in discs]
    return _core.MassElastic(stations=stations, couplings=couplings, loads=[load])


def steady_angles(wheel_torque: float) -> np.ndarray:
    """Angles [rad] of the stations under a mean torque [N m] at the wheel, crank at zero."""
    crank_torque = wheel_torque / RATIO
    flywheel = -crank_torque / DRIVE
    pinion = flywheel - crank_torque / FRONT
    wheel = (pinion - HALF_GAP - crank_torque / TEETH) / RATIO
    return np.array([0.0, flywheel, pinion, wheel, wheel - wheel_torque / SHAFT])


def shaken(wheel_torque: float, frequency: float, cycles: int, vibration=None) -> tuple[np.ndarray, np.ndarray]:
    """Mesh torque at the wheel [N m] over the last two cycles, and the vibration (angle and speed) at the end."""
    speed = wheel_torque / (WATER / 2)
    ratios, turn = np.array([1.0, 1.0, 1.0, 0.5, 0.5]), math.tau / frequency
    angles, speeds = vibration if vibration is not None else np.zeros((2, 5))
    motion = _core.oscillate(
        whole_line(speed), duration=cycles * turn, largest_step=turn / 200, relative_tolerance=1e-9,
        angle=list(steady_angles(wheel_torque) + angles), speed=list(RATIO * ratios * speed + speeds),
        mean_torque=wheel_torque / RATIO, torque_amplitude=AMPLITUDE, frequency=frequency,
        record_from=(cycles - 2) * turn,
    )  # fmt: skip
    turned = ratios * motion["angle"][0][-1]
    left = (
        motion["angle"][:, -1] - turned - steady_angles(wheel_torque),
        motion["speed"][:, -1] - RATIO * ratios * speed,
    )
    return RATIO * motion["torque"][3], np.array(left)


@pytest.mark.parametrize(("frequency", "expected"), [(40.0, 76.7512359), (120.0, 59.1671507)])
def test_a_mesh_opens_where_its_alternating_torque_exceeds_the_mean(frequency, expected, compare):
    source = "linear response of the same line, closed form; rule of rigid teeth, closed form"
    teeth = Tolerance(3e-3, "teeth of 1e7 N m/rad where the closed form has rigid ones, and the square law's bend")
    torque, vibration = shaken(2 * expected, frequency, 40)
    assert torque.min() > 0
    half_range = (torque.max() - torque.min()) / 2
    compare(f"mesh torque amplitude at {frequency:g} rad/s [N m]", half_range, expected, teeth, source)
    closed, open_ = 1.03 * expected, 0.97 * expected  # [N m] mean torque, going down from a closed mesh
    for _ in range(5):
        mean = (closed + open_) / 2
        parted = shaken(mean, frequency, 30, vibration)[0].min() <= 0
        closed, open_ = (closed, mean) if parted else (mean, open_)
    kept = Tolerance(1e-2, "as the rule is meant; bisected to 1e-3")
    compare(f"mean torque at which teeth part, {frequency:g} rad/s [N m]", (closed + open_) / 2, expected, kept, source)
