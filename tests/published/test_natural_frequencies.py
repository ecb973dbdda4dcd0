"""Natural frequencies and damping of textbook systems, built from our own elements."""

import math

import numpy as np
import pytest

from calmshaft import _core, units
from textbook_lines import branch, modes, neutral, with_output

CLOSED_FORM = "closed form"
KHURMI = "Khurmi and Gupta, Theory of Machines, torsional vibrations, worked example (data and answer seen)"
MEMO = "Tresilian, memo on crank speeds, 1928 (calculation and measurement seen)"
THOMSON = "Thomson, Theory of Vibration with Applications, geared systems (rule seen; numbers ours)"
EXACT = 1e-8  # of an eigenvalue against a number kept to ten figures


def frequencies(*arguments, **named) -> np.ndarray:
    return modes(*arguments, **named)["angular_frequency"]


def test_two_discs(compare):
    # w^2 = k (J1 + J2) / (J1 J2)
    found = frequencies(neutral(0.5, 1000.0, 0.1))
    compare("two discs [rad/s]", found[1], 109.544511501, EXACT, CLOSED_FORM)


def test_two_discs_with_a_viscous_damper(compare):
    # s = -zeta w + i w sqrt(1 - zeta^2), zeta = c w / (2 k)
    pole = modes(neutral(0.5, 1000.0, 0.1, damping=0.5))["poles"][-1]
    compare("two discs, damping ratio", -pole.real / abs(pole), 0.0273861279, EXACT, CLOSED_FORM)
    compare("two discs, damped [rad/s]", abs(pole.imag), 109.503424604, EXACT, CLOSED_FORM)


def test_three_discs(compare):
    # w^4 - [k1 (1/J1 + 1/J2) + k2 (1/J2 + 1/J3)] w^2 + k1 k2 (J1 + J2 + J3) / (J1 J2 J3) = 0
    found = frequencies(neutral(0.2, 2000.0, 0.1, beyond=[branch(0.4, 5000.0)]))
    compare("three discs, one node [rad/s]", found[1], 103.423127813, EXACT, CLOSED_FORM)
    compare("three discs, two nodes [rad/s]", found[2], 286.013385409, EXACT, CLOSED_FORM)


def test_chains_of_equal_discs(compare):
    # w_j = 2 sqrt(k / J) sin(j pi / (2 n)), free at both ends
    three = frequencies(neutral(1.0, 1.0, 1.0, beyond=[branch(1.0, 1.0)]))
    # a shaft in two pieces: 1 kg m^2 in its middle, 0.5 to either end, 1 N m/rad each
    shaft = _core.Shaft(stiffness=0.5, inertia=2.0, divisions=2)
    five = frequencies(with_output(neutral(1.0, 1.0, 1.0), 1.0, 1.0, 0.5, shaft, 0.5), gear=_core.Gear.ahead)
    for found, discs in ((three, 3), (five, 5)):
        assert found.size == discs
        for j in range(1, discs):
            expected = 2 * math.sin(j * math.pi / (2 * discs))
            compare(f"mode {j} of {discs} equal discs [rad/s]", found[j], expected, EXACT, CLOSED_FORM)


def test_an_oil_engine_with_flywheel_and_pump(compare):
    # shaft 70 mm, 1.5 m and 1.0 m, G = 84 GPa
    polar = math.pi / 32 * 0.070**4
    first, second = 84e9 * polar / 1.5, 84e9 * polar / 1.0
    found = modes(neutral(0.15, first, 0.30, beyond=[branch(0.09, second)]))
    hertz = found["angular_frequency"] / math.tau
    for mode, (printed, exact) in enumerate(((171.0, 170.6877), (277.0, 277.0340)), start=1):
        compare(f"oil engine, {mode} node(s), printed [Hz]", hertz[mode], printed, 3e-3, KHURMI)
        compare(f"oil engine, {mode} node(s), worked out [Hz]", hertz[mode], exact, 1e-6, "same data, exact")
    shape = found["shapes"][:, 1] / found["shapes"][0, 1]
    compare("oil engine, one node from the engine [m]", 1.5 / (1 - shape[1]), 1.146, 2e-3, KHURMI)


@pytest.mark.parametrize(("inertias", "expected"), [((0.3, 0.6, 0.18), (120.6944, 195.8926))])
def test_the_same_shaft_with_twice_the_inertias(inertias, expected, compare):
    polar = math.pi / 32 * 0.070**4
    line = neutral(inertias[0], 84e9 * polar / 1.5, inertias[1], beyond=[branch(inertias[2], 84e9 * polar)])
    hertz = frequencies(line) / math.tau
    for mode, value in enumerate(expected, start=1):
        compare(f"three rotors, mode {mode} [Hz]", hertz[mode], value, 1e-6, "student problem, data seen; answer ours")


def test_the_critical_speed_of_a_car_crank_as_measured(compare):
    stiffness = units.parse("16350 lbf*ft/rad", "torsional stiffness")
    flywheel, crank = 0.93700578, 0.02113720  # 0.6911 and 0.01559 slug ft^2
    rpm = frequencies(neutral(crank, stiffness, flywheel))[1] * 60 / math.tau / 3
    compare("car crank, order 3, calculated [rpm]", rpm, 3296.0, 5e-4, MEMO)
    compare("car crank, order 3, measured [rpm]", rpm, 3300.0, 2e-3, MEMO)


def test_two_shafts_joined_by_gears(compare):
    # J' = J n^2, k' = k n^2 with n = 1/2: 2 and 2 kg m^2 joined by 40000 and 22500 N m/rad in series: 120 rad/s.
    # The fast shaft's 40000 N m/rad are plate and teeth in series; gears of 1e-6 kg m^2 change the answer by 1e-8.
    line = with_output(neutral(2.0, 80000.0, 1e-6), 2.0, 80000.0, 1e-6, _core.Shaft(stiffness=90000.0), 8.0)
    compare("two geared shafts [rad/s]", frequencies(line, gear=_core.Gear.ahead)[1], 120.0, 1e-6, THOMSON)
