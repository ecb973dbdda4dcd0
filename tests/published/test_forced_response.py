"""Swinging torques on textbook systems, by `cs.chain` and `cs.response`."""

import math

import numpy as np
import pytest

import calmshaft as cs
from published_rows import Tolerance
from test_natural_frequencies import FULL_LINE, full_line

CLOSED_FORM = "closed form"
DEN_HARTOG = "Den Hartog, Mechanical Vibrations, ch. 3, untuned viscous damper (value from memory, worked out again)"
TEN_FIGURES = Tolerance(1e-9, "the number is kept to ten figures")
NINE_FIGURES = Tolerance(2e-9, "nine figures")
EIGHT_FIGURES = Tolerance(2e-8, "eight figures")
DISCS, SPRING = [0.5, 0.1], [1000.0]


def test_two_discs_without_damping(compare):
    # torque in the shaft T0 k / (J1 (wn^2 - w^2)), T0 = 10 N m on the first disc
    omega = [50.0, 100.0, 150.0]
    found = cs.response(cs.chain(DISCS, SPRING), {0: 10.0}, omega).torque[:, 0]
    for w, ours, value in zip(omega, found, (2.105263158, 10.0, -1.904761905), strict=True):
        compare(f"two discs, shaft torque at {w:g} rad/s [N m]", ours.real, value, TEN_FIGURES, CLOSED_FORM)
        assert ours.imag == 0


def test_slow_torque_is_shared_by_the_inertias(compare):
    # T0 J2 / (J1 + J2) as the frequency falls; w^2 / wn^2 = 8e-9 above it at 0.01 rad/s
    slow = cs.response(cs.chain(DISCS, SPRING), {0: 10.0}, 0.01).torque[0, 0]
    compare(
        "two discs, slow torque [N m]", slow.real, 10 / 6, Tolerance(2e-8, "at 0.01 rad/s, not at rest"), CLOSED_FORM
    )


def test_a_torque_that_is_put_on_suddenly_winds_up_twice_as_far(compare):
    # free of damping a step swings about its mean: peak 2 T0 J2 / (J1 + J2); here by the modes of the chain
    found = cs.modes(cs.chain(DISCS, SPRING))
    shape, w = found.shapes[1], found.angular_frequency[1]
    inertia = found.matrices().inertia
    time = np.linspace(0, 2 * math.pi / w, 2001)
    swing = 10.0 * shape[0] / (shape @ inertia @ shape) / w**2 * (1 - np.cos(w * time))
    peak = (1000.0 * (shape[0] - shape[1]) * swing).max()
    compare("two discs, sudden torque, peak [N m]", peak, 3.333333333, TEN_FIGURES, CLOSED_FORM)


def test_two_discs_with_a_damper_beside_the_spring(compare):
    omega = [50.0, math.sqrt(12000.0), 150.0]
    found = cs.response(cs.chain(DISCS, SPRING, [0.5]), {0: 10.0}, omega)
    for w, ours, value in zip(omega, found.torque[:, 0], (2.104871691, 30.474640338, 1.903133227), strict=True):
        compare(f"two damped discs at {w:.4g} rad/s [N m]", abs(ours), value, TEN_FIGURES, CLOSED_FORM)
    assert found.power_dissipated == pytest.approx(found.power_in, rel=1e-10)  # rounding


@pytest.mark.parametrize(
    ("omega", "angle", "torques", "power"),
    [
        (40.0, 0.0337661017, (96.7632549, 41.9657538, 76.7512359, 67.7847176), 3.6140461),
        (120.0, 0.00501676783, (95.6826142, 25.9688377, 59.1671507, 68.2296575), 2.6129254),
    ],
)
def test_the_full_line_shaken_at_its_crank(omega, angle, torques, power, compare):
    found = cs.response(full_line(), {"crank": 100.0}, omega)
    compare(f"full line at {omega:g} rad/s, crank [rad]", abs(found.angle[0, 0]), angle, NINE_FIGURES, FULL_LINE)
    at_wheel = np.array([1, 1, 2, 1])  # the mesh is printed for the wheel, which turns at half speed
    for name, ours, value in zip(found.joints, np.abs(found.torque[0]) * at_wheel, torques, strict=True):
        compare(f"full line at {omega:g} rad/s, {name} [N m]", ours, value, NINE_FIGURES, FULL_LINE)
    for ours in (found.power_in[0], found.power_dissipated[0]):
        compare(f"full line at {omega:g} rad/s, power [W]", ours, power, EIGHT_FIGURES, FULL_LINE)


@pytest.mark.parametrize(
    ("mu", "damping_ratio", "peak", "place"),
    [(1.0, 0.2886751, 3.0, 0.8164966), (0.5, 0.3651484, 5.0, 0.8944272)],
)
def test_the_best_untuned_viscous_damper(mu, damping_ratio, peak, place, compare):
    # a ring of mu J joined by a damper alone, c = 2 zeta mu J wn, zeta = 1 / sqrt(2 (1 + mu) (2 + mu)):
    # greatest magnification 1 + 2 / mu at w / wn = sqrt(2 / (2 + mu))
    best = 1 / math.sqrt(2 * (1 + mu) * (2 + mu))
    compare(f"ring of {mu:g}, damping ratio", best, damping_ratio, Tolerance(2e-7, "seven figures"), DEN_HARTOG)
    ring = cs.chain([1.0, mu], [0.0], dampings=[2 * best * mu], ground_stiffnesses=[1.0, 0.0])
    omega = np.append(np.linspace(0.5, 1.5, 2001), math.sqrt(2 / (2 + mu)))
    magnification = np.abs(cs.response(ring, {0: 1.0}, omega).angle[:, 0])
    compare(f"ring of {mu:g}, magnification at its peak", magnification[-1], peak, TEN_FIGURES, DEN_HARTOG)
    compare(f"ring of {mu:g}, greatest magnification", magnification.max(), peak, TEN_FIGURES, DEN_HARTOG)
    compare(
        f"ring of {mu:g}, place of the peak",
        omega[magnification[:-1].argmax()],
        place,
        Tolerance(5e-4, "steps of the grid"),
        DEN_HARTOG,
    )
