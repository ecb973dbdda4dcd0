"""Helical springs: rate, stress factors, solid length, surge, and springs set round a hub."""

import math

import pytest

from calmshaft.workshop import springs
from published_rows import Tolerance

FACTORS = "closed form: Wahl's and Bergstraesser's factors, formulas seen in texts on compression springs"
EXAM = "exam problem on a helical compression spring of 4 mm music wire (data seen, number ours)"
SHIGLEY = "Shigley, Mechanical Engineering Design, example 10-1 (value from memory)"
FATIGUE = "worked example of a spring fatigue calculation, music wire 2 mm (seen)"
OLDER = "Spring Material Minimum Tensile Strength, table of wires (seen)"
CURRENT = "Shigley, 8th edition and later, table 10-4 (value from memory)"
CLOSED = "closed form"
FORMULA = Tolerance(1e-9, "the formula is exact, the value kept to ten figures")
KEPT = Tolerance(1e-6, "the value is kept to seven figures")
BOOK = Tolerance(5e-3, "the book rounds to three figures on the way")
PRINTED = Tolerance(3e-3, "printed to three or four figures")
INCH, POUND = 0.0254, 4.4482216152605

WAHL = {4: 1.40375, 5: 1.3105, 6: 1.2525, 8: 1.184017857, 10: 1.144833333, 12: 1.119431818}
BERGSTRAESSER = {4: 1.384615385, 5: 1.294117647, 6: 1.238095238, 8: 1.172413793, 10: 1.135135135, 12: 1.111111111}
WIRE = springs.Spring(4e-3, 30e-3, 70e-3, total_coils=11, material="music wire")


@pytest.mark.parametrize("index", WAHL)
def test_stress_factors_over_the_index(compare, index):
    compare(f"Wahl, index {index}", springs.wahl(index), WAHL[index], FORMULA, FACTORS)
    compare(f"Bergstraesser, index {index}", springs.bergstraesser(index), BERGSTRAESSER[index], FORMULA, FACTORS)


def test_a_spring_of_music_wire(compare):
    solid = WIRE.rate * WIRE.travel
    compare("index", WIRE.index, 6.5, FORMULA, EXAM)
    compare("rate [N/mm]", WIRE.rate / 1e3, 16.0420776, KEPT, EXAM)
    compare("solid length [mm]", WIRE.solid_length * 1e3, 44.0, KEPT, EXAM)
    compare("force when solid [N]", solid, 417.094, KEPT, EXAM)
    compare("stress when solid [MPa]", WIRE.shear_stress(solid) / 1e6, 525.288, KEPT, EXAM)
    compare("the same, Wahl [MPa]", WIRE.shear_stress(solid, "Wahl") / 1e6, 531.151, KEPT, EXAM)


def test_surge_between_fixed_ends(compare):
    compare("moving mass [kg]", WIRE.moving_mass, 0.0725179, KEPT, CLOSED)
    compare("surge [Hz]", WIRE.surge_frequency, 235.168, Tolerance(2e-6, "kept to six figures"), CLOSED)


def test_coils_for_a_wanted_rate(compare):
    """Index 8, 100 N over 20 mm: the rate falls as one over the coils."""
    one = springs.Spring(5e-3, 45e-3, 0.2, active_coils=1, ends="closed and ground", material="music wire")
    compare("active coils", one.rate / (100 / 20e-3), 19.36035, KEPT, "exam problem (data seen, modulus 79.3 GPa ours)")


def test_a_small_spring_in_inches(compare):
    made = springs.Spring(0.037 * INCH, 7 / 16 * INCH, 2.06 * INCH, total_coils=12.5, ends="closed")
    ratio = 11.85e6 * POUND / INCH**2 / springs.MATERIALS[made.material].shear_modulus
    rate = made.rate * ratio * INCH / POUND
    compare("rate [lbf/in]", rate, 4.13, BOOK, SHIGLEY)
    compare("solid length [in]", made.solid_length / INCH, 0.4995, KEPT, SHIGLEY)
    compare("Bergstraesser", springs.bergstraesser(made.index), 1.124, BOOK, SHIGLEY)


def test_stress_of_a_pulsating_spring(compare):
    made = springs.Spring(2e-3, 18e-3, 60e-3, active_coils=8, material="music wire")
    compare("amplitude [MPa]", made.shear_stress(30, "Wahl") / 1e6, 180.9046, KEPT, FATIGUE)
    compare("mean, uncorrected for 50 N [MPa]", made.shear_stress(50, "Wahl") / 1e6, 301.5077, KEPT, FATIGUE)


STRENGTHS = [
    ("older", "music wire", 7.25, 1491.53, PRINTED, OLDER),
    ("older", "oil-tempered", 10.0, 1032.35, PRINTED, OLDER),
    ("current", "music wire", 5.0, 1750.8, PRINTED, CURRENT),
    ("current", "oil-tempered", 5.0, 1372.9, PRINTED, CURRENT),
    ("current", "hard-drawn", 5.0, 1313.2, PRINTED, CURRENT),
    ("current", "chrome-vanadium", 5.0, 1530.0, PRINTED, CURRENT),
    ("current", "chrome-silicon", 5.0, 1659.0, PRINTED, CURRENT),
    ("current", "music wire", 2.0, 2000.0, PRINTED, FATIGUE),
]


@pytest.mark.parametrize(("table", "material", "millimetres", "megapascal", "tolerance", "source"), STRENGTHS)
def test_strength_of_wire(compare, table, material, millimetres, megapascal, tolerance, source):
    found = springs.tensile_strength(material, millimetres / 1e3, table)
    assert found.table == table
    compare(f"{material}, {millimetres:g} mm [MPa]", found.value / 1e6, megapascal, tolerance, source)


def test_six_springs_round_a_hub(compare):
    """N k R^2 in the curve of a whole plate, not in a formula of the test."""
    from calmshaft.workshop import plate_springs

    plate = {"springs": [{"count": 6, "wire_diameter": "4 mm", "coil_outer_diameter": "30 mm", "total_coils": 11,
                          "free_length": "70 mm", "material": "music wire", "pitch_radius": "80 mm"}]}  # fmt: skip
    found = plate_springs(plate)
    compare("rate [N m/rad]", found.stages("drive")[0].stiffness, 6 * 16042.0776 * 0.08**2, KEPT, CLOSED)
    compare("bind [rad]", found.bind_angle("drive"), (70 - 44) / 80, FORMULA, CLOSED)
    assert math.isclose(found.torque(0.1), 0.1 * found.stages("drive")[0].stiffness, rel_tol=1e-12)
