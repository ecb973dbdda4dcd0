"""Which orders an engine's gas torque keeps: the library's tables against phasor sums of firing angles."""

import math

import numpy as np
import pytest

from calmshaft import _core
from textbook_lines import crank_tables, engine

NODES = 7200  # of 720 degrees: firing angles in tenths of a degree fall on nodes
CLOSED_FORM = "phasor sum, closed form"
TABLE_1932 = "table of vee engines, 1932 (all values seen)"
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
    compare(f"firing interval of {cylinders} cylinders [deg]", math.degrees(angles[1]), interval, 1e-12, CLOSED_FORM)
    found = factor([interval * n for n in range(cylinders)])
    orders = np.arange(1, 25) / 2
    major = orders % (cylinders / 2) == 0
    assert found[~major].max() < 1e-6
    compare(f"lowest major order of {cylinders}, factor", found[major][0], cylinders, 1e-9, CLOSED_FORM)


@pytest.mark.parametrize(
    ("bank", "expected"), [(45, (0.3902, 1.8478, 1.1111, 1.4142)), (90, (0.7654, 1.4142, 1.8478, 0.0))]
)
def test_vee_twins(bank, expected, compare):
    # 2 |cos(p a / 2)| with the second cylinder 360 - bank degrees after the first
    found = factor([0, 360 - bank])
    for n, value in enumerate(expected):
        compare_absolute(compare, f"vee twin {bank} deg, order {(n + 1) / 2:g}", found[n], value, 1e-4, CLOSED_FORM)


@pytest.mark.parametrize(("bank", "expected"), [(45, VEE_45), (60, VEE_60)])
def test_two_banks_as_tabled_in_1932(bank, expected, compare):
    found = factor([0, 360 - bank])
    for n, value in enumerate(expected, start=2):
        name = f"banks {bank} deg apart, order {(n + 1) / 2:g}"
        compare_absolute(compare, name, found[n], value, 2e-3, TABLE_1932)  # print: three places, slide rule


@pytest.mark.parametrize("strength", [0.0, 0.5])
def test_a_weak_cylinder_in_a_six_brings_its_missing_part_to_every_half_order(strength, compare):
    six = [120 * n for n in range(6)]
    single, weak = by_order(six, [1.0] + [0.0] * 5), by_order(six, [strength] + [1.0] * 5)
    for harmonic in (1, 2, 3, 4, 5):
        name = f"six, one at {strength:g}, order {harmonic / 2:g}"
        compare(name, weak[harmonic - 1] / single[harmonic - 1], 1 - strength, 1e-8, CLOSED_FORM)
    name = f"six, one at {strength:g}, order 3"
    compare(name, weak[5] / single[5], 5 + strength, 1e-8, CLOSED_FORM)


def compare_absolute(compare, name, ours, published, tolerance, source):
    """A tolerance in units of the factor itself, for values that may be nought."""
    compare(name, ours, published, tolerance / (published or 1.0), source)
