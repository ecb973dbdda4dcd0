"""Firing: which orders an engine's gas torque keeps, and the speeds at which one mode answers to several of them."""

import math

import numpy as np
import pytest

import calmshaft as cs
from calmshaft import _core
from published_rows import Tolerance
from textbook_lines import RPM, crank_tables, engine

NODES = 7200  # of 720 degrees: firing angles in tenths of a degree fall on nodes
CLOSED_FORM = "phasor sum, closed form"
PULSE = "transform of a rectangle, closed form"
TABLE_1932 = "table of vee engines, 1932 (all values seen)"
PATTERN_1932 = "phasor sum, closed form; the same pattern stands in a table of 1932"
REPORT_1928 = "road report on a six-cylinder car, 3 Nov 1928 (speeds seen; orders ours)"
NOTE_1929 = "note on a car's crank, 6 Oct 1929 (seen)"
FOUR_PLACES = Tolerance(1e-4, "the value is kept to four places", absolute=True)
SLIDE_RULE = Tolerance(2e-3, "three places, by slide rule", absolute=True)
SIX_PLACES = Tolerance(1e-6, "the value is kept to six places", absolute=True)
TABLES = Tolerance(1e-9, "transforms of 7200 nodes")
ROUNDING = Tolerance(1e-12, "rounding", absolute=True)
VEE_45 = (1.111, 1.414, 1.663, 0.765, 1.961, 0.0, 1.961, 0.765, 1.663, 1.414, 1.111, 1.848)  # orders 1.5 to 7
VEE_60 = (1.414, 1.0, 1.932, 0.0, 1.932, 1.0, 1.414, 1.732, 0.517, 2.0, 0.517, 1.732)


def by_order(degrees: list[float], strengths=()) -> np.ndarray:
    """Amplitudes of orders 0.5, 1, ... of the gas torque that burning adds, at fuelling 1."""
    made = engine(firing_angles=[math.radians(angle) for angle in degrees])
    return np.abs(np.fft.rfft(crank_tables(made, NODES, strengths)["fuelled_torque"]))[1:25]


def factor(degrees: list[float]) -> np.ndarray:
    """Amplitudes of all cylinders over those of the first alone, by order."""
    alone = by_order(degrees, [1.0] + [0.0] * (len(degrees) - 1))
    rated = by_order(degrees)
    # fuelling 1 is the healthy engine's rated torque either way, so both carry the same torque per cylinder
    return rated / alone


@pytest.mark.parametrize(("cylinders", "interval"), [(3, 240), (4, 180), (5, 144), (6, 120), (8, 90), (12, 60)])
def test_even_firing_keeps_multiples_of_half_the_cylinders(cylinders, interval, compare):
    angles = _core.firing_angles(list(range(1, cylinders + 1)), 4)
    compare(f"firing interval of {cylinders} cylinders [deg]", math.degrees(angles[1]), interval, ROUNDING, CLOSED_FORM)
    found = factor([interval * n for n in range(cylinders)])
    orders = np.arange(1, 25) / 2
    major = orders % (cylinders / 2) == 0
    assert found[~major].max() < 1e-6
    compare(f"lowest major order of {cylinders}", orders[found > 1e-6][0], cylinders / 2, ROUNDING, CLOSED_FORM)
    compare(f"factor of that order with {cylinders} cylinders", found[major][0], cylinders, TABLES, CLOSED_FORM)


@pytest.mark.parametrize(
    ("bank", "expected"), [(45, (0.3902, 1.8478, 1.1111, 1.4142)), (90, (0.7654, 1.4142, 1.8478, 0.0))]
)
def test_vee_twins(bank, expected, compare):
    # 2 |cos(p a / 2)| with the second cylinder 360 - bank degrees after the first
    found = factor([0, 360 - bank])
    for n, value in enumerate(expected):
        compare(f"vee twin {bank} deg, order {(n + 1) / 2:g}", found[n], value, FOUR_PLACES, CLOSED_FORM)


@pytest.mark.parametrize(("bank", "expected"), [(45, VEE_45), (60, VEE_60)])
def test_two_banks_as_tabled_in_1932(bank, expected, compare):
    found = factor([0, 360 - bank])
    for n, value in enumerate(expected, start=2):
        compare(f"banks {bank} deg apart, order {(n + 1) / 2:g}", found[n], value, SLIDE_RULE, TABLE_1932)


@pytest.mark.parametrize("strength", [0.0, 0.5])
def test_a_weak_cylinder_in_a_six_brings_its_missing_part_to_every_half_order(strength, compare):
    six = [120 * n for n in range(6)]
    single, weak = by_order(six, [1.0] + [0.0] * 5), by_order(six, [strength] + [1.0] * 5)
    for harmonic in (1, 2, 3, 4, 5):
        name = f"six, one at {strength:g}, order {harmonic / 2:g}"
        compare(name, weak[harmonic - 1] / single[harmonic - 1], 1 - strength, TABLES, CLOSED_FORM)
    name = f"six, one at {strength:g}, order 3"
    compare(name, weak[5] / single[5], 5 + strength, TABLES, CLOSED_FORM)


def test_orders_of_a_straight_six_weighted_by_a_mode_come_in_groups(compare):
    shape = [1.0, 0.93, 0.80, 0.62, 0.40, 0.15]  # any mode shape along the crank
    angles = _core.firing_angles([1, 5, 3, 6, 2, 4], 4)
    size = {p: abs(_core.firing_phasor(p, angles, shape)) for p in np.arange(0.5, 6.5, 0.5)}
    for lowest, others in ((0.5, (2.5, 3.5, 5.5)), (1.0, (2.0, 4.0, 5.0)), (1.5, (4.5,))):
        for order in others:
            name = f"six, weighted sum of order {order:g} over that of {lowest:g}"
            compare(name, size[order] / size[lowest], 1.0, ROUNDING, PATTERN_1932)
    for order in (3.0, 6.0):
        compare(f"six, weighted sum of order {order:g}", size[order], sum(shape), ROUNDING, PATTERN_1932)


def test_orders_of_rectangular_pulses(compare):
    # height 1 over 60 of 720 degrees: 2 / 12 |sinc(p / 6)|; six of them keep orders 3, 6, ..., five keep all
    nodes = 28_800
    pulse = (np.arange(nodes) < nodes // 12).astype(float)
    found = np.abs(_core.orders(pulse))
    for order, value in (
        (0.5, 0.164769),
        (1, 0.159155),
        (1.5, 0.150053),
        (2, 0.137832),
        (2.5, 0.122985),
        (3, 0.106103),
        (6, 0.0),
    ):
        compare(f"pulse of 60 deg, order {order:g}", found[round(2 * order) - 1], value, SIX_PLACES, PULSE)
    five = sum(np.roll(pulse, n * nodes // 6) for n in range(5))
    found = np.abs(_core.orders(five))
    compare("five pulses of six, order 0.5", found[0], 0.164769, SIX_PLACES, PULSE)
    compare("five pulses of six, order 3", found[5], 5 * 0.106103, Tolerance(3e-6, "five times six places"), PULSE)
    compare("six pulses, order 0.5", abs(_core.orders(five + np.roll(pulse, -nodes // 6))[0]), 0.0, ROUNDING, PULSE)


def critical_speed(order: float, tuned_order: float, tuned_rpm: float) -> float:
    """Of two discs whose one mode answers to `tuned_order` at `tuned_rpm` [rpm]."""
    crank, flywheel = 0.02, 0.9
    stiffness = (tuned_order * tuned_rpm * RPM) ** 2 * crank * flywheel / (crank + flywheel)
    (found,) = cs.critical_speeds(cs.chain([crank, flywheel], [stiffness]), orders=[order])
    return found.rpm


@pytest.mark.parametrize(("order", "rpm"), [(4.5, 3280), (6, 2500), (9, 1650), (12, 1250)])
def test_one_mode_answers_to_several_orders(order, rpm, compare):
    read = Tolerance(2e-2, "speeds read on the road")
    ours = critical_speed(order, 3, 5000)
    compare(f"critical speed of order {order:g}, order 3 at 5000 rpm", ours, rpm, read, REPORT_1928)


def test_a_critical_speed_scales_with_one_over_its_order(compare):
    printed = Tolerance(5e-3, "printed to three figures")
    compare("order 4, order 3 at 2100 rpm", critical_speed(4, 3, 2100), 1580.0, printed, NOTE_1929)
