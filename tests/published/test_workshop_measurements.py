"""The workshop's measurements: discs, wires, shafts, propellers, bolts."""

import math

import pytest

from calmshaft import units, workshop
from calmshaft.workshop import Bolt, Disc, Piece
from published_rows import Tolerance

ROUNDING = Tolerance(1e-9, "rounding of the value")
SEVEN = Tolerance(1e-7, "the value is kept to seven figures")
DISC = "J = pi rho t d^4 / 32, closed form"
TORSION = "k = G J / L, any text on torsion of shafts (rule seen; numbers ours)"
ISO_898 = "ISO 898-1, proof loads of coarse threads (value from memory)"
SAE_J429 = "SAE J429, proof stress x stress area (value from memory)"
POUND_FORCE = 4.4482216152605  # [N]


def test_discs(compare):
    plain, ring = Disc(0.3, 0.05), Disc(0.3, 0.05, bore=0.1)
    compare("steel disc 300 x 50 mm, mass [kg]", workshop.discs_mass([plain]).value, 27.7441901, SEVEN, DISC)
    compare("steel disc 300 x 50 mm [kg m^2]", workshop.discs_inertia([plain]).value, 0.3121221389, ROUNDING, DISC)
    compare("with a bore of 100 mm [kg m^2]", workshop.discs_inertia([ring]).value, 0.3082687791, ROUNDING, DISC)


def test_three_wires(compare):
    source = "J = m g R^2 T^2 / (4 pi^2 L), note on measuring inertia (rule seen; numbers ours)"
    disc = [Disc(0.35, 0.035)]
    ours = workshop.trifilar(workshop.discs_mass(disc), 0.15, 1.5, 2.03).value
    three = Tolerance(5e-3, "the time is kept to three figures, and counts twice")
    compare("steel disc 350 x 35 mm on three wires, 2.03 s [kg m^2]", ours, 0.405, three, source)
    by_size = workshop.discs_inertia(disc).value
    compare("the same by its size [kg m^2]", by_size, 0.405, Tolerance(1e-3, "three figures"), DISC)


@pytest.mark.parametrize(("modulus", "expected"), [(79.3e9, 84080.80), (80e9, 84823.00)])
def test_shafts(modulus, expected, compare):
    ours = workshop.shaft_stiffness([Piece(1.2, 0.06, shear_modulus=modulus)]).value
    compare(f"shaft piece of 60 mm, {modulus / 1e9:g} GPa [N m/rad]", ours, expected, SEVEN, TORSION)


@pytest.mark.parametrize(("inches", "expected"), [("7", 13.7e6), ("7.5", 12.8e6), ("9", 10.7e6)])
def test_crank_throws_of_1939(inches, expected, compare):
    piece = Piece(units.parse(f"{inches} in", "length"), 0.0762, shear_modulus=units.parse("12e6 psi", "stress"))
    ours = workshop.shaft_stiffness([piece]).value / units.parse("1 lbf*in/rad", "torsional stiffness")
    rounded = Tolerance(1e-2, "it rounds the polar moment 7.952 in^4 to 8, and prints three figures")
    source = "article on crankshaft stiffness, 1939, G = 12e6 psi, d = 3 in (seen)"
    compare(f"crank of 3 in, {inches} in, as a piece [lbf in/rad]", ours, expected, rounded, source)


def test_equivalent_length(compare):
    ours = workshop.equivalent_length([Piece(0.6, 0.07)], 0.05).value
    compare("0.6 m of 70 mm as 50 mm [m]", ours, 0.1561849, Tolerance(2e-7, "seven figures"),
            "L (d1 / d2)^4, quiz page (rule seen; numbers ours)")  # fmt: skip


@pytest.mark.parametrize(
    ("blades", "first", "second"), [(3, 13.37663, 10.58257), (4, 10.03248, 7.94861), (5, 8.02598, 7.18581)]
)
def test_entrained_water(blades, first, second, compare):
    ways = workshop.water_ways(1.5, 1.2, blades, 60.0, 0.6)
    kept = Tolerance(1e-6, "seven figures")
    compare(f"water, {blades} blades, after Schwanecke [kg m^2]", ways["Schwanecke 1963"], first, kept,
            "Schwanecke 1963 (formula from memory, numbers by hand)")  # fmt: skip
    compare(f"water, {blades} blades, regression [kg m^2]", ways["regression 2007"], second, kept,
            "MacPherson, Puleo and Packard 2007 (formula from memory, numbers by hand)")  # fmt: skip


@pytest.mark.parametrize(("diameter", "expected"), [(0.40, 4.9), (0.51, 10.3), (0.61, 17.8)])
def test_mass_of_a_propeller(diameter, expected, compare):
    source = "Gerr, Propeller Handbook, three blades, power law (value from memory)"
    two = Tolerance(0.03, "kept to two or three figures, and a power of 3.05 where ours is 3")
    compare(f"bronze propeller of {diameter} m [kg]", workshop.propeller_mass(diameter, 3).value, expected, two, source)


@pytest.mark.parametrize(
    ("name", "bolt", "kilonewtons"),
    [
        ("M8 8.8", Bolt(0.008, 0.00125, "8.8"), 21.2),
        ("M10 8.8", Bolt(0.010, 0.0015, "8.8"), 33.7),
        ("M12 10.9", Bolt(0.012, 0.00175, "10.9"), 70.0),
    ],
)
def test_proof_loads(name, bolt, kilonewtons, compare):
    three = Tolerance(5e-3, "three figures")
    compare(f"proof load {name} [kN]", workshop.proof_load(bolt) / 1e3, kilonewtons, three, ISO_898)


def test_proof_load_of_an_inch_bolt(compare):
    bolt = Bolt(0.375 * 0.0254, 0.0254 / 16, "grade 5")
    three = Tolerance(2e-3, "0.0775 in^2 is kept to three figures")
    compare(
        "proof load 3/8-16 grade 5 [lbf]", workshop.proof_load(bolt) / POUND_FORCE, 0.0775 * 85_000, three, SAE_J429
    )


@pytest.mark.parametrize(("state", "factor"), [("dry", 0.20), ("oiled", 0.15)])
def test_nut_factor(state, factor, compare):
    pull = workshop.preload(Bolt(0.010, 0.0015), 40.0, workshop.friction_of(state)).value
    rough = Tolerance(0.06, "the nut factor is a round number")
    source = "nut factor K of a dry and an oiled bolt, articles on bolt preload (data seen; K of ours by its own sum)"
    compare(f"nut factor, {state}", 40.0 / (pull * 0.010), factor, rough, source.replace("of ours", "ours"))


def test_backlash_as_an_angle(compare):
    ours = math.degrees(workshop.backlash(0.2e-3, 0.05).value)
    compare(
        "0.2 mm at 50 mm radius [deg]", ours, 0.229183, Tolerance(1e-5, "six figures"), "arc over radius, closed form"
    )
