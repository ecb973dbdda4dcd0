"""Shafts, propellers and gears: stiffness, inertia, damping and the units they are written in."""

import math

import pytest

import calmshaft as cs
from calmshaft import _core, estimates, units
from published_rows import Tolerance
from textbook_lines import RPM, neutral, with_output

LAUNCH = cs.sample_line("harbour-launch")
CLOSED_FORM = "closed form, derived here"
TORSION = "k = G J / L, any text on torsion of shafts (rule seen; numbers ours)"
DISC = "J = pi rho t d^4 / 32, closed form"
ARTICLE_1939 = "article on crankshaft stiffness, 1939, G = 12e6 psi, d = 3 in (seen)"
ARCHER = "Archer 1955, propeller damping k Q / N, k from 26 to 45 (value from memory)"
SP_811 = "NIST SP 811 (value from memory)"
ROUNDING = Tolerance(1e-9, "rounding of the value")
SEVEN = Tolerance(1e-7, "the value is kept to seven figures")


def shaft(**fields) -> _core.Shaft:
    """The launch's shaft with other fields of the line file."""
    document = LAUNCH.document
    return cs.line_from_document({**document, "shaft": {**fields}}).core.shaft


@pytest.mark.parametrize(
    ("length", "modulus", "expected"), [(1.2, 79.3, 84080.80), (1.5, 79.3, 67264.64), (1.2, 80.0, 84823.00)]
)
def test_stiffness_of_a_solid_shaft(length, modulus, expected, compare):
    made = shaft(diameter="60 mm", length=f"{length} m", shear_modulus=f"{modulus} GPa")
    compare(f"shaft 60 mm, {length} m, {modulus} GPa [N m/rad]", made.stiffness, expected, SEVEN, TORSION)


def test_twist_of_the_thinnest_shaft_allowed(compare):
    made = shaft(diameter="42.00300 mm", length="1 m", shear_modulus="75 GPa")
    source = "question in a forum, 2000 N m, 5 deg a metre (data seen; answer ours)"
    kept = Tolerance(1e-6, "the fourth power of seven figures")
    compare("shaft 42.003 mm under 2000 N m [deg/m]", math.degrees(2000 / made.stiffness), 5.0, kept, source)


@pytest.mark.parametrize(("inches", "expected"), [("7", 13.7e6), ("7.5", 12.8e6), ("9", 10.7e6)])
def test_stiffness_of_a_crank_throw_of_1939(inches, expected, compare):
    made = shaft(diameter="3 in", length=f"{inches} in", shear_modulus="12e6 psi")
    ours = made.stiffness / units.parse("1 lbf*in/rad", "torsional stiffness")
    rounded = Tolerance(1e-2, "it rounds the polar moment 7.952 in^4 to 8, and prints three figures")
    compare(f"crank of 3 in, {inches} in [lbf in/rad]", ours, expected, rounded, ARTICLE_1939)


def test_equivalent_length_and_springs_in_series(compare):
    thick = shaft(diameter="70 mm", length="0.6 m", shear_modulus="80 GPa").stiffness
    thin = shaft(diameter="50 mm", length="0.1561849 m", shear_modulus="80 GPa").stiffness
    source = "L (d1 / d2)^4, quiz page (rule seen; numbers ours)"
    compare("0.6 m of 70 mm over 0.156 m of 50 mm", thick / thin, 1.0, Tolerance(2e-7, "seven figures"), source)
    # 1e5 and 2e5 N m/rad with a massless station between two equal discs: w^2 = 2 k / J
    w = cs.modes(cs.chain([1.0, 0.0, 1.0], [1e5, 2e5])).angular_frequency[1]
    printed = Tolerance(6e-9, "eight figures")
    compare(
        "springs of 1e5 and 2e5 in series [N m/rad]", w**2 / 2, 66666.667, printed, "springs in series, closed form"
    )


def test_series_of_shaft_divisions_is_the_whole_shaft(compare):
    whole = shaft(diameter="35 mm", length="2.2 m", material="steel")
    divided = cs.line_from_document({**LAUNCH.document, "shaft": {**LAUNCH.document["shaft"], "divisions": 4}})
    at = _core.Condition(speed=2000 * RPM)
    couplings = _core.mass_elastic_system(_core.PreparedLine(divided.core), at)["couplings"]
    in_series = 1 / sum(1 / c["stiffness"] for c in couplings if c["kind"] == "spring")
    compare(
        "four shaft pieces in series [N m/rad]",
        in_series,
        whole.stiffness,
        Tolerance(1e-12, "rounding"),
        "springs in series, closed form",
    )


def test_inertia_of_a_steel_disc(compare):
    disc = shaft(diameter="300 mm", length="50 mm", shear_modulus="80 GPa", density="7850 kg/m^3")
    compare("steel disc 300 x 50 mm [kg m^2]", disc.inertia, 0.3121221389, ROUNDING, DISC)
    core = shaft(diameter="100 mm", length="50 mm", shear_modulus="80 GPa", density="7850 kg/m^3")
    compare("the same with a bore of 100 mm [kg m^2]", disc.inertia - core.inertia, 0.3082687791, ROUNDING, DISC)


def propeller_line(extra_damping: float = 0.0) -> _core.Line:
    """200 kW at 300 rpm into a propeller on a stiff line: every disc turns as one."""
    torque = 200e3 / (300 * RPM)
    line = with_output(neutral(1000.0, 1e9, 1.0), 1.0, 1e9, 1.0, _core.Shaft(stiffness=1e9), 1000.0)
    line.propeller = _core.Propeller(
        inertia=1000.0, absorbs_torque=torque, absorbs_speed=300 * RPM, extra_damping=extra_damping
    )
    return line


def test_propeller_law(compare):
    rated = {"engine.rated_power": 200e3, "engine.rated_rpm": 300 * RPM}
    torque = estimates.fill(rated)["engine.rated_torque"].value
    compare("torque of 200 kW at 300 rpm [N m]", torque, 6366.1977, Tolerance(5e-9, "eight figures"), CLOSED_FORM)
    half = _core.mass_elastic_system(_core.PreparedLine(propeller_line()), _core.Condition(speed=150 * RPM), 720)
    mean = half["mean_torque"][0]
    compare(
        "the same propeller at half speed [N m]",
        mean,
        1591.5494,
        Tolerance(2e-8, "eight figures"),
        "square law, closed form",
    )
    compare("the same propeller at half speed [kW]", mean * 150 * RPM / 1e3, 25.0, ROUNDING, "square law, closed form")


@pytest.mark.parametrize(
    ("name", "factor", "expected", "source"),
    [
        ("square law, 2 Q / w", 2.0, 405.28473, "slope of the square law, after Frahm, closed form"),
        ("k 26", 26 * math.tau / 60, 551.737, ARCHER),
        ("k 30", 30 * math.tau / 60, 636.61977, ARCHER),
        ("k 45", 45 * math.tau / 60, 954.930, ARCHER),
    ],
)
def test_propeller_damping(name, factor, expected, source, compare):
    # the whole line turns as one: its slowest pole is -c / (sum of inertias), 2002 kg m^2
    poles = modes_ahead(propeller_line(factor - 2.0))["poles"]
    slowest = min(abs(pole) for pole in poles if abs(pole) > 1e-6)
    stiff = Tolerance(2e-6, "six figures, and springs of 1e9 N m/rad")
    compare(f"propeller damping, {name} [N m s/rad]", slowest * 2002.0, expected, stiff, source)


def modes_ahead(line: _core.Line) -> dict:
    at = _core.Condition(speed=300 * RPM, gear=_core.Gear.ahead)
    return _core.linearised(_core.PreparedLine(line), at)["line"].modes()


@pytest.mark.parametrize("pitch", [0.70, 0.75, 0.80])
def test_entrained_water_of_a_common_propeller(pitch, compare):
    known = {"propeller.diameter": 1.0, "propeller.pitch": pitch, "propeller.inertia": 1.0}
    ours = estimates.fill(known)["propeller.water_inertia"].value
    wide = Tolerance(0.25, "the usual range is 20 to 30 %")
    compare(f"water over dry inertia, pitch/diameter {pitch:g}", ours, 0.25, wide, "handbooks (value from memory)")


def test_a_free_gear_pair(compare):
    # w^2 = k (rb1^2 / J1 + rb2^2 / J2); base radii 30 and 60 mm, 0.002 and 0.03 kg m^2, k = 20e9 N/m^2 x 20 mm
    teeth = 4e8 * 0.03**2  # at the pinion
    pair = cs.chain([0.002, 0.0, 0.03], [teeth, None], speed_ratios=[1.0, 1.0, 0.5])
    highest = cs.modes(pair).angular_frequency[-1]
    compare("free gear pair [Hz]", highest / math.tau, 2403.187, Tolerance(2e-7, "seven figures"), CLOSED_FORM)
    compare(
        "free gear pair, reduced mass [kg]", 4e8 / highest**2, 1.754386, Tolerance(3e-7, "seven figures"), CLOSED_FORM
    )


@pytest.mark.parametrize(
    ("text", "kind", "expected"),
    [
        ("1 lb*ft^2", "inertia", 0.04214011),
        ("1 lb*in^2", "inertia", 2.926397e-4),
        ("1 lbf*ft", "torque", 1.3558179),
        ("1 PS", "power", 735.49875),
        ("3 5/8 in", "length", 0.092075),
    ],
)
def test_units_of_the_trade(text, kind, expected, compare):
    compare(f"{text} in SI", units.parse(text, kind), expected, Tolerance(2e-7, "seven figures"), SP_811)
