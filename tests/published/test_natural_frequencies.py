"""Natural frequencies, mode shapes, nodes and damping of textbook systems, by `cs.chain` and `cs.modes`."""

import math

import numpy as np
import pytest

import calmshaft as cs
from calmshaft import units
from published_rows import Tolerance

CLOSED_FORM = "closed form"
RAO = "Rao, Mechanical Vibrations, SI edition, problems (answers seen)"
KHURMI = "Khurmi and Gupta, Theory of Machines, torsional vibrations, worked example (data and answer seen)"
KHURMI_MEMORY = "Khurmi and Gupta, Theory of Machines, geared pump (value from memory)"
MEMO = "Tresilian, memo on crank speeds, 1928 (calculation and measurement seen)"
THOMSON = "Thomson, Theory of Vibration with Applications, geared systems (rule seen; numbers ours)"
ARTICLE_1934 = "journal article on engine vibration frequency, 1934 (data and answer seen)"
FULL_LINE = "invented line, eigenvalues by a separate program: ours"
RAYLEIGH = "Rayleigh, a shaft's inertia counts by a third (rule seen in use; numbers ours)"
EXACT = Tolerance(1e-9, "the number is kept to ten figures")
SIX = Tolerance(2e-6, "the number is kept to six figures")
EIGHT = Tolerance(1e-8, "the number is kept to eight figures")
THREE = Tolerance(3e-3, "three printed figures of slide-rule work")


def shaft(diameter: float, length: float, shear_modulus: float) -> float:
    """G pi d^4 / (32 L) [N m/rad]."""
    return shear_modulus * math.pi * diameter**4 / (32 * length)


def test_two_discs(compare):
    # w^2 = k (J1 + J2) / (J1 J2)
    found = cs.modes(cs.chain([0.5, 0.1], [1000.0]))
    compare("two discs [rad/s]", found.angular_frequency[1], 109.544511501, EXACT, CLOSED_FORM)
    compare("two discs [Hz]", found.frequency_hz[1], 17.43455, SIX, CLOSED_FORM)


def test_two_discs_with_a_viscous_damper(compare):
    # s = -zeta w + i w sqrt(1 - zeta^2), zeta = c w / (2 k); logarithmic decrement 2 pi zeta / sqrt(1 - zeta^2)
    found = cs.modes(cs.chain([0.5, 0.1], [1000.0], [0.5]))
    ratio, pole = found.damping_ratio[1], found.poles[-1]
    compare("two discs, damping ratio", ratio, 0.0273861279, EIGHT, CLOSED_FORM)
    compare("two discs, damped [rad/s]", abs(pole.imag), 109.503424604, EXACT, CLOSED_FORM)
    decrement = math.tau * ratio / math.sqrt(1 - ratio**2)
    compare("two discs, logarithmic decrement", decrement, 0.172136680, EIGHT, CLOSED_FORM)


def test_three_discs(compare):
    # w^4 - [k1 (1/J1 + 1/J2) + k2 (1/J2 + 1/J3)] w^2 + k1 k2 (J1 + J2 + J3) / (J1 J2 J3) = 0
    found = cs.modes(cs.chain([0.2, 0.1, 0.4], [2000.0, 5000.0])).angular_frequency
    assert found[0] == 0
    compare("three discs, one node [rad/s]", found[1], 103.423127813, EXACT, CLOSED_FORM)
    compare("three discs, two nodes [rad/s]", found[2], 286.013385409, EXACT, CLOSED_FORM)


@pytest.mark.parametrize("discs", [3, 5])
def test_equal_discs_free_at_both_ends(discs, compare):
    # w_j = 2 sqrt(k / J) sin(j pi / (2 n))
    found = cs.modes(cs.chain([1.0] * discs, [1.0] * (discs - 1))).angular_frequency
    for j in range(1, discs):
        expected = 2 * math.sin(j * math.pi / (2 * discs))
        compare(f"mode {j} of {discs} equal discs [rad/s]", found[j], expected, EXACT, CLOSED_FORM)


def test_equal_discs_held_at_one_end(compare):
    # w_j = 2 sqrt(k / J) sin((2j - 1) pi / (2 (2n + 1)))
    found = cs.modes(cs.chain([1.0] * 5, [1.0] * 4, fixed=[0])).angular_frequency
    for j, expected in enumerate((0.3472963553, 1.0, 1.5320888862, 1.8793852416)):
        compare(f"mode {j + 1} of 4 discs, one end held", found[j], expected, EXACT, CLOSED_FORM)


def test_three_discs_between_two_held_ends(compare):
    found = cs.modes(cs.chain([0.0, 1.0, 1.0, 1.0, 0.0], [1.0] * 4, fixed=[0, 4]))
    printed, exact = (0.7654, 1.4142, 1.8480), (0.7653668647, 1.4142135624, 1.8477590650)
    shapes = ((1, math.sqrt(2), 1), (1, 0, -1), (1, -math.sqrt(2), 1))
    for mode in range(3):
        ours = found.angular_frequency[mode]
        compare(
            f"three discs between walls, mode {mode + 1}, printed",
            ours,
            printed[mode],
            Tolerance(2e-4, "its last printed figure is rounded wrongly"),
            RAO,
        )
        compare(f"three discs between walls, mode {mode + 1}", ours, exact[mode], EXACT, CLOSED_FORM)
        shape = found.shapes[mode, 1:4] / found.shapes[mode, 1]
        assert shape == pytest.approx(shapes[mode], abs=1e-9)


def oil_engine(scale: float = 1.0) -> cs.Chain:
    """Engine, flywheel and pump on 70 mm of 1.5 m and 1.0 m; G = 84 GPa."""
    inertias = [scale * inertia for inertia in (0.15, 0.30, 0.09)]
    return cs.chain(inertias, [shaft(0.070, length, 84e9) for length in (1.5, 1.0)], names=["A", "B", "C"])


def test_an_oil_engine_with_flywheel_and_pump(compare):
    found = cs.modes(oil_engine())
    for mode, (printed, exact) in enumerate(((171.0, 170.6877), (277.0, 277.0340)), start=1):
        compare(f"oil engine, {mode} node(s), printed [Hz]", found.frequency_hz[mode], printed, THREE, KHURMI)
        compare(
            f"oil engine, {mode} node(s), worked out [Hz]", found.frequency_hz[mode], exact, SIX, "same data, exact"
        )
    for mode, expected in ((1, (-0.307000, -0.643335)), (2, (-2.443000, 6.476668))):
        ours = found.shapes[mode] / found.shapes[mode, 0]
        for station, value in zip(("B", "C"), expected, strict=True):
            compare(f"oil engine, mode {mode}, {station} over A", ours["ABC".index(station)], value, SIX, CLOSED_FORM)


def test_nodes_of_the_oil_engine(compare):
    # printed 1.146 m from A; 0.4356 m from A and 0.726 m from C: three to four figures of slide-rule work
    (one,), (first, second) = cs.modes(oil_engine()).nodes[1:]
    compare("oil engine, one node from A, printed [m]", 1.5 * one.share, 1.146, THREE, KHURMI)
    compare("oil engine, one node from A [m]", 1.5 * one.share, 1.147667, SIX, "same data, exact")
    compare("oil engine, first of two from A, printed [m]", 1.5 * first.share, 0.4356, THREE, KHURMI)
    compare("oil engine, first of two from A [m]", 1.5 * first.share, 0.435667, SIX, "same data, exact")
    compare("oil engine, second of two from C, printed [m]", 1 - second.share, 0.726, THREE, KHURMI)
    compare("oil engine, second of two from C [m]", 1 - second.share, 0.726111, SIX, "same data, exact")


def test_the_same_shaft_with_twice_the_inertias(compare):
    found = cs.modes(oil_engine(2.0)).frequency_hz
    for mode, value in enumerate((120.6944, 195.8926), start=1):
        compare(f"three rotors, mode {mode} [Hz]", found[mode], value, SIX, "student problem, data seen; answer ours")


def test_the_critical_speed_of_a_car_crank_as_measured(compare):
    # crank 0.01559 slug ft^2 on 16350 lbf ft/rad, flywheel 0.6911 slug ft^2; a slug is 32.174 lb
    stiffness = units.parse("16350 lbf*ft/rad", "torsional stiffness")
    crank, flywheel = (units.parse(f"{32.174049 * inertia} lb*ft^2", "inertia") for inertia in (0.01559, 0.6911))
    car = cs.chain([crank, flywheel], [stiffness])
    (third,) = cs.critical_speeds(car, orders=[3])
    compare("car crank [rad/s]", cs.modes(car).angular_frequency[1], 1035.571, SIX, "same data, exact")
    compare("car crank, order 3, calculated [rpm]", third.rpm, 3296.0, Tolerance(5e-4, "four printed figures"), MEMO)
    compare(
        "car crank, order 3, measured [rpm]",
        third.rpm,
        3300.0,
        Tolerance(2e-3, "a measured speed; its author expected 6 %"),
        MEMO,
    )


def test_two_shafts_joined_by_massless_gears(compare):
    # J' = J n^2, k' = k n^2 with n = 1/2: 2 and 2 kg m^2 joined by 40000 and 22500 N m/rad in series
    geared = cs.chain([2.0, 0.0, 0.0, 8.0], [40000.0, None, 90000.0], speed_ratios=[1.0, 1.0, 0.5, 0.5])
    found = cs.modes(geared)
    assert found.angular_frequency.size == 2  # massless gears bring no mode
    compare("two geared shafts [rad/s]", found.angular_frequency[1], 120.0, EXACT, THOMSON)
    compare("two geared shafts [Hz]", found.frequency_hz[1], 19.0985932, EIGHT, THOMSON)


def test_a_motor_that_drives_a_pump_through_gears(compare):
    # motor shaft 60 mm x 0.3 m, pump shaft 100 mm x 0.6 m at a third of the speed, G = 80 GPa
    springs = [shaft(0.060, 0.3, 80e9), None, shaft(0.100, 0.6, 80e9)]
    found = cs.modes(cs.chain([400.0, 0.0, 0.0, 1500.0], springs, speed_ratios=[1.0, 1.0, 1 / 3, 1 / 3]))
    (node,) = found.nodes[1]
    compare(
        "geared pump, recalled [Hz]", found.frequency_hz[1], 4.7, Tolerance(5e-3, "two figures recalled"), KHURMI_MEMORY
    )
    compare("geared pump, worked out [Hz]", found.frequency_hz[1], 4.68179, SIX, "same data, closed form")
    compare("geared pump, node from the motor, recalled [m]", 0.3 * node.share, 0.294, THREE, KHURMI_MEMORY)
    compare(
        "geared pump, node from the motor [m]",
        0.3 * node.share,
        0.29407,
        Tolerance(2e-5, "five figures"),
        "same data, closed form",
    )


def test_an_engine_that_rolls_on_rubber(compare):
    # 65 lbf in s^2 held by 1600 lbf/in on a radius of 11.25 in: w^2 = c R^2 / I
    inertia = units.parse("65 lb in s2", "inertia")
    stiffness = 1600 * 11.25 * units.parse("11.25 lbf*in", "torque")
    rolling = cs.chain([inertia], [], ground_stiffnesses=[stiffness])
    per_minute = 60 * cs.modes(rolling).frequency_hz[0]
    compare("engine on rubber [1/min]", per_minute, 533.0, THREE, ARTICLE_1934)


def test_a_shafts_own_inertia_counts_by_a_third(compare):
    # uniform shaft, one end held, a disc at the other: w^2 = k / (Jd + Js / 3) but for (Js / Jd)^2 / 45
    pieces, disc, own, stiffness = 50, 1.0, 0.01, 1000.0
    inertias = [own / pieces] * (pieces + 1)
    inertias[-1] = disc + own / pieces / 2
    found = cs.modes(cs.chain(inertias, [stiffness * pieces] * pieces, fixed=[0]))
    effective = stiffness / found.angular_frequency[0] ** 2 - disc
    compare(
        "inertia that a shaft adds / its own",
        effective / own,
        1 / 3,
        Tolerance(1e-3, "first order in shaft over disc, and fifty pieces"),
        RAYLEIGH,
    )


def test_the_full_line_has_these_frequencies_and_poles(compare):
    found = cs.modes(full_line())
    for mode, value in enumerate((86.0542763, 294.557159, 625.786321), start=1):
        compare(
            f"full line, mode {mode} [rad/s]",
            found.angular_frequency[mode],
            value,
            Tolerance(2e-9, "nine figures"),
            FULL_LINE,
        )
    poles = found.poles[found.poles.imag >= 0]
    expected = (-0.863797, -3.686127 + 86.035713j, -42.943316 + 291.186686j, -18.160881 + 625.466781j)
    for number, (ours, value) in enumerate(zip(poles, expected, strict=True)):
        compare(f"full line, pole {number}, decay [1/s]", ours.real, value.real, SIX, FULL_LINE)
        if value.imag:
            compare(f"full line, pole {number} [rad/s]", ours.imag, value.imag, EIGHT, FULL_LINE)


def full_line() -> cs.Chain:
    """Crank, flywheel, damper and pinion, wheel at half speed, propeller in water: invented numbers."""
    return cs.chain(
        [0.06, 0.90, 0.05, 0.25, 1.5],
        [22000.0, 6000.0, None, 12000.0],
        dampings=[2.0, 8.0, None, 4.0],
        speed_ratios=[1.0, 1.0, 1.0, 0.5, 0.5],
        ground_dampings=[0, 0, 0, 0, 5.0],
        names=["crank", "flywheel", "hub", "wheel", "propeller"],
    )


def test_rigid_bodies_turn_together():
    assert np.allclose(cs.modes(full_line()).shapes[0], [1, 1, 1, 0.5, 0.5])
