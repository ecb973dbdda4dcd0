"""Coupling selection by DIN 740-2, shaft stress by IACS UR M68."""

import math

import pytest

from calmshaft.judgement import couplings, shafts
from published_rows import Tolerance

DIGITS = Tolerance(1e-5, "printed to six digits")
FORMULA = Tolerance(1e-6, "printed to seven digits")
STANDARD = "DIN 740-2, formula from memory; numbers by hand"
M68 = "IACS UR M68 section 5, formula from memory; numbers by hand"


def test_coupling_factors(compare):
    compare("resonance magnifier at psi 0.8", couplings.resonance_magnifier(0.8), 7.853982, FORMULA, STANDARD)
    for ratio, value in ((0.5, 1.325138), (math.sqrt(2), 1.0), (2.0, 0.335722), (3.0, 0.125993)):
        tolerance = Tolerance(2e-6, "printed to six digits")
        compare(
            f"magnifier at {ratio:.3g}",
            couplings.magnifier(ratio, 0.8),
            value,
            Tolerance(5e-6, tolerance.why),
            STANDARD,
        )
    compare("magnifier at resonance", couplings.magnifier(1.0, 0.8), 7.917388, FORMULA, STANDARD)
    compare("frequency factor at 20 Hz", couplings.frequency_factor(20.0), math.sqrt(2), 1e-12, STANDARD)
    compare("frequency factor at 10 Hz", couplings.frequency_factor(10.0), 1.0, 0.0, STANDARD)


def test_heat_of_a_coupling(compare):
    found = couplings.dissipated_power(20.0, 0.8, 100.0, 5000.0)
    compare("dissipated heat [W]", found, 15.744756, FORMULA, "definition of relative damping, closed form")


def shaft(strength, shape, diameter):
    return shafts.PropulsionShaft("alloy steel", diameter / 1e3, shape, strength * 1e6, applies=True)


@pytest.mark.parametrize(
    ("strength", "shape", "diameter", "ratio", "size", "continuous", "passing"),
    [
        (500, "integral flange", 200, 0.5, 0.6723, 61.6286, 104.7687),
        (500, "integral flange", 200, 0.8, 0.6723, 42.4005, 72.0808),
        (500, "integral flange", 200, 0.95, 0.6723, 34.0190, None),
        (600, "integral flange", 100, 0.7, 0.7202, 61.4284, 104.4283),
        (410, "keyway in a cylinder", 80, 0.6, 0.7371, 23.9496, 60.6933),
        (500, "propeller shaft, keyed", 150, 0.5, 0.6914, 34.8581, 79.9046),
    ],
)
def test_shaft_stresses(compare, strength, shape, diameter, ratio, size, continuous, passing):
    one, name = shaft(strength, shape, diameter), f"{strength} N/mm2, {shape}, {diameter} mm, lambda {ratio}"
    printed = Tolerance(1e-4, "printed to four digits")
    compare(
        f"size factor {diameter} mm", shafts.size_factor(diameter / 1e3), size, printed, "Lloyd's naval rules, seen"
    )
    compare(f"tau_C [MPa], {name}", shafts.continuous_stress(one, ratio).value / 1e6, continuous, DIGITS, M68)
    if passing:
        compare(f"tau_T [MPa], {name}", shafts.passing_stress(one, ratio).value / 1e6, passing, DIGITS, M68)


def test_both_branches_of_the_stress_meet(compare):
    one = shaft(500, "integral flange", 200)
    below, above = (shafts.continuous_stress(one, ratio).value for ratio in (math.nextafter(0.9, 0), 0.9))
    compare("tau_C on both sides of lambda 0.9", below, above, 1e-12, "3 - 2 x 0.9^2 = 1.38, exact")


@pytest.mark.parametrize(
    ("drive", "shape", "published"), [(100, 1.0, 112.2443), (95, 1.0, 106.6321), (100, 1.22, 136.9380)]
)
def test_least_diameters(compare, drive, shape, published):
    found = shafts.least_diameter(500e3, 300.0, 500e6, drive, shape).value
    source = "IACS UR M68 section 4, formula from memory; numbers by hand"
    compare(f"least diameter [mm], F {drive}, k {shape}", 1e3 * found, published, DIGITS, source)
