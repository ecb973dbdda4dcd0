"""Cylinder pressure: burning, ideal cycles, motored cylinders and mean pressures."""

import math

import numpy as np
import pytest
from scipy.optimize import brentq, minimize_scalar

from calmshaft import _core
from published_rows import Tolerance
from textbook_lines import RPM, engine

CLOSED_FORM = "closed form, derived here"
FERGUSON = "Ferguson and Kirkpatrick, Internal Combustion Engines, ch. 2, example 2.4: a = 5 (seen; numbers ours)"
OTTO = "efficiency 1 - r^(1-g) (rule seen in texts on the Otto cycle; numbers ours)"
EXERCISE = "textbook exercise on the Otto cycle (data seen; answer ours, constant specific heats)"
HEYWOOD = "Heywood, Internal Combustion Engine Fundamentals, ch. 13 (value from memory)"
KEPT = Tolerance(1e-7, "the value is kept to seven figures")
TABLED = Tolerance(1e-8, "the heat integral is tabled to 1e-9 of the whole")
SIX_FIGURES = Tolerance(2e-6, "the value is kept to six figures")
BORE, STROKE, ROD = 0.08, 0.09, 0.145  # [m]
SWEPT = math.pi / 4 * BORE**2 * STROKE  # [m^3]
BOTTOM = -math.pi  # [rad] where compression begins
AFTER = 1e-7  # [rad] behind a burn that takes 1e-8


def burn(coefficient: float, exponent: float, start: float = 0.0, duration: float = 1.0) -> _core.Combustion:
    made = _core.default_combustion(_core.Fuel.petrol, 4)
    made.burn_coefficient, made.burn_exponent = coefficient, exponent
    made.burn_start, made.burn_duration = start, duration
    return made


def cylinder(ratio: float, exponent: float, pressure: float = 1e5, burn_start: float = 0.0) -> _core.Engine:
    """Compression and expansion from dead centre to dead centre, all heat released at one crank angle."""
    made = burn(5.0, 2.0, burn_start, 1e-8)
    made.polytropic_exponent = exponent
    made.inlet_pressure = made.exhaust_pressure = pressure
    made.inlet_closes, made.exhaust_opens = -math.pi, math.pi
    fields = {"bore": BORE, "stroke": STROKE, "rod_length": ROD, "compression_ratio": ratio}
    return engine(combustion=made, **fields)


def work(made: _core.Engine, heat: float) -> float:
    """Work [J] of one cycle of four strokes."""
    return _core.mean_gas_torque(made, heat) * 4 * math.pi


def efficiency(made: _core.Engine) -> float:
    burnt = 1 - math.exp(-5)  # the Wiebe function ends there with a = 5
    return (work(made, 1000.0) - work(made, 0.0)) / (1000.0 * burnt)


class Otto:
    """Temperatures [K] and pressures [Pa] of a cycle from pressure, temperature and heat per mass [J/kg]."""

    def __init__(self, ratio, pressure, temperature, gas_constant, heat_of):
        self.made = cylinder(ratio, 1.4, pressure)
        volume = float(_core.cylinder_volume(self.made, BOTTOM))
        self.mass = pressure * volume / (gas_constant * temperature)
        kelvin = temperature / (pressure * volume)
        top = float(_core.cylinder_volume(self.made, 0.0))
        self.p2 = float(_core.cylinder_pressure(self.made, 0.0))
        self.t2 = kelvin * self.p2 * top
        self.heat = heat_of(self.t2)
        given = self.mass * self.heat / (1 - math.exp(-5))
        self.p3 = float(_core.cylinder_pressure(self.made, AFTER, given))
        self.t3 = kelvin * self.p3 * top
        self.p4 = float(_core.cylinder_pressure(self.made, math.pi, given))
        self.t4 = kelvin * self.p4 * volume
        self.work = (work(self.made, given) - work(self.made, 0.0)) / self.mass  # [J/kg]


@pytest.mark.parametrize(
    ("coefficient", "exponent", "shares", "peak", "at"),
    [
        (5.0, 2.0, {1.0: 0.9932620530, 0.5: 0.4647385715}, 2.0099601, 0.5108730),
        (6.907755, 2.0, {0.5: 0.5783035}, 2.2385995, 0.4586949),
        (6.907755, 1.0, {0.5: 0.8221720}, 2.2544272, 0.2690398),
        (6.907755, 0.5, {0.5: 0.9130359}, 2.7029870, 0.1325443),
    ],
)
def test_wiebe_function(coefficient, exponent, shares, peak, at, compare):
    made, name = burn(coefficient, exponent), f"Wiebe a {coefficient:g}, m {exponent:g}"
    source = FERGUSON if coefficient == 5.0 else CLOSED_FORM
    for share, value in shares.items():
        compare(f"{name}: burnt at {share:g}", _core.burnt_fraction(made, share), value, KEPT, source)
    found = minimize_scalar(lambda x: -_core.burn_rate(made, x), bounds=(0.01, 0.9), options={"xatol": 1e-10})
    compare(f"{name}: greatest rate", -found.fun, peak, KEPT, source)
    near = Tolerance(1e-6, "a flat peak is found to the root of the rounding")
    compare(f"{name}: where it is", found.x, at, near, source)


@pytest.mark.parametrize(
    ("coefficient", "exponent", "begin", "duration", "expected"),
    [
        (5.0, 2.0, 0.0, 1.0, {10: 0.2762078, 50: 0.5175494, 90: 0.7722334}),
        (6.907755, 2.0, 0.0, 1.0, {50: 0.4646895}),
        (6.907755, 1.0, 0.0, 1.0, {50: 0.3167702}),
        (6.907755, 0.5, 0.0, 1.0, {50: 0.2159363}),
        (5.0, 2.0, -20.0, 40.0, {10: -8.951687, 50: 0.701976, 90: 10.889335}),
    ],
)
def test_angle_by_which_a_share_is_burnt(coefficient, exponent, begin, duration, expected, compare):
    made = burn(coefficient, exponent, begin, duration)
    for percent, value in expected.items():
        ours = brentq(lambda x, wanted=percent: _core.burnt_fraction(made, x) - wanted / 100, begin, begin + duration)
        name = f"a {coefficient:g}, m {exponent:g}, from {begin:g} for {duration:g}: {percent} % burnt at"
        compare(name, ours, value, Tolerance(1e-6, "the value is kept to six places", absolute=True), CLOSED_FORM)


@pytest.mark.parametrize(
    ("ratio", "expected"),
    [(6, 0.5116406581), (8, 0.5647247184), (10, 0.6018928294), (12, 0.6298928275), (18, 0.6853041629)],
)
def test_otto_efficiency(ratio, expected, compare):
    compare(f"Otto efficiency at ratio {ratio}", efficiency(cylinder(ratio, 1.4)), expected, TABLED, OTTO)


def test_diesel_efficiency(compare):
    # Heat at constant pressure is g / (g - 1) p dV: the mean over volume of what one joule does at each crank angle.
    share, weight = np.polynomial.legendre.leggauss(12)
    made = cylinder(18.0, 1.4)
    clearance = float(_core.cylinder_volume(made, 0.0))
    volume = clearance * (1.5 + 0.5 * share)  # cut-off ratio 2
    angle = [brentq(lambda a, v=v: _core.cylinder_volume(made, a) - v, 0.0, 2.0, xtol=1e-14) for v in volume]
    ours = sum(w / 2 * efficiency(cylinder(18.0, 1.4, burn_start=a)) for a, w in zip(angle, weight, strict=True))
    source = "Cengel and Boles, Thermodynamics, Diesel cycle example, printed .632 (value from memory), exact"
    compare("Diesel efficiency, ratio 18, cut-off 2", ours, 0.6315775314, Tolerance(1e-6, "12 burns"), source)


def test_otto_cycle_with_800_kilojoules(compare):
    found = Otto(8.0, 1e5, 290.0, 0.4 * 718.0, lambda _: 8e5)
    expected = {"T2 [K]": (found.t2, 666.245), "p2 [kPa]": (found.p2 / 1e3, 1837.92), "T3 [K]": (found.t3, 1780.451)}
    expected |= {"p3 [kPa]": (found.p3 / 1e3, 4911.59), "work [kJ/kg]": (found.work / 1e3, 451.780)}
    expected["mean pressure [kPa]"] = (found.work * found.mass / SWEPT / 1e3, 619.921)
    for name, (ours, value) in expected.items():
        compare(f"Otto, ratio 8, 800 kJ/kg: {name}", ours, value, SIX_FIGURES, EXERCISE)
    # mep / p1 = (q / (cv T1)) eta r / ((r - 1) (g - 1))
    identity = 8e5 / (718.0 * 290.0) * 0.5647247184 * 8 / (7 * 0.4)
    compare(
        "Otto, ratio 8, 800 kJ/kg: mean pressure / p1",
        found.work * found.mass / SWEPT / 1e5,
        identity,
        TABLED,
        CLOSED_FORM,
    )


def test_otto_cycle_to_2500_kelvin(compare):
    found = Otto(8.0, 101325.0, 293.0, 0.4 * 718.0, lambda t2: 718.0 * (2500.0 - t2))
    expected = {"T2 [K]": (found.t2, 673.137), "p2 [atm]": (found.p2 / 101325, 18.3792), "T4 [K]": (found.t4, 1088.188)}
    expected |= {"p3 [atm]": (found.p3 / 101325, 68.2594), "p4 [atm]": (found.p4 / 101325, 3.71395)}
    expected["efficiency"] = (found.work / found.heat, 0.564725)
    for name, (ours, value) in expected.items():
        compare(f"Otto, ratio 8, to 2500 K: {name}", ours, value, SIX_FIGURES, EXERCISE)


def test_otto_cycle_to_1153_kelvin(compare):
    found = Otto(7.68, 9e4, 298.15, 0.4 * 718.0, lambda t2: 718.0 * (1153.15 - t2))
    expected = {
        "T2 [K]": (found.t2, 673.875),
        "T4 [K]": (found.t4, 510.201),
        "heat [kJ/kg]": (found.heat / 1e3, 344.119),
    }
    expected |= {"rejected [kJ/kg]": ((found.heat - found.work) / 1e3, 152.253)}
    expected["efficiency"] = (found.work / found.heat, 0.557559)
    for name, (ours, value) in expected.items():
        compare(f"Otto, ratio 7.68, to 1153 K: {name}", ours, value, Tolerance(3e-6, "six figures"), EXERCISE)


@pytest.mark.parametrize(
    ("ratio", "exponent", "expected"),
    [(10, 1.35, 22.387211), (16, 1.32, 38.854236), (18, 1.35, 49.501446), (8, 1.3, 14.928528)],
)
def test_compression_of_a_motored_cylinder(ratio, exponent, expected, compare):
    ours = _core.cylinder_pressure(cylinder(ratio, exponent), 0.0) / 1e5
    compare(f"motored, ratio {ratio}, exponent {exponent}: p/p1 at top", ours, expected, KEPT, CLOSED_FORM)


@pytest.mark.parametrize(
    ("degrees", "bar", "volume"),
    [
        (0, 22.387211, 50.265482),
        (30, 10.290139, 89.398082),
        (60, 3.713984, 190.180573),
        (90, 1.900049, 312.447788),
        (120, 1.289465, 416.375244),
        (150, 1.060720, 481.178745),
    ],
)
def test_pressure_and_volume_by_crank_angle(degrees, bar, volume, compare):
    made, kept = cylinder(10.0, 1.35), Tolerance(5e-7, "the value is kept to seven figures")
    for sign in (-1, 1):  # compression and expansion alike
        at = math.radians(sign * degrees)
        name = f"motored, {sign * degrees:+d} deg"
        compare(f"{name} [bar]", _core.cylinder_pressure(made, at) / 1e5, bar, kept, CLOSED_FORM)
        compare(f"{name} [cm^3]", _core.cylinder_volume(made, at) * 1e6, volume, kept, CLOSED_FORM)


def test_compression_takes_its_work_and_gives_it_back(compare):
    made = cylinder(10.0, 1.35)
    share, weight = np.polynomial.legendre.leggauss(60)
    angle = -math.pi / 2 * (1 - share)  # bottom to top dead centre
    slope = math.pi / 4 * BORE**2 * _core.piston_motion(made, angle)[1]
    ours = -np.sum(weight * math.pi / 2 * _core.cylinder_pressure(made, angle) * slope)
    compare("compression work, ratio 10 [J]", ours, 177.8997590, Tolerance(1e-9, "ten figures"), CLOSED_FORM)
    kept = Tolerance(1e-8, "rounding of 178 J", absolute=True)
    compare("work of a motored cycle [J]", work(made, 0.0), 0.0, kept, CLOSED_FORM)


@pytest.mark.parametrize(("strokes", "expected"), [(4, 39.788736), (2, 79.577472)])
def test_torque_of_a_mean_effective_pressure(strokes, expected, compare):
    friction = _core.EngineFriction(constant=1e6, per_speed=0.0, per_piston_speed_squared=0.0)
    stroke = 0.5e-3 / (math.pi / 4 * BORE**2)
    made = engine(strokes=strokes, bore=BORE, stroke=stroke, friction=friction)
    source = "mean effective pressure, 2 pi n T / V (rule seen; numbers ours)"
    ours = _core.engine_friction_torque(made, 100.0)
    compare(f"10 bar on 0.5 litre, {strokes} strokes [N m]", ours, expected, KEPT, source)


@pytest.mark.parametrize(("thousand", "bar"), [(1, 1.17), (2, 1.47), (3, 1.87), (4, 2.37), (6, 3.67)])
def test_friction_of_a_petrol_engine(thousand, bar, compare):
    # 0.97 + 0.15 N + 0.05 N^2
    friction = _core.default_friction(_core.Fuel.petrol, 4, STROKE)
    ours = _core.friction_pressure(friction, STROKE, thousand * 1000 * RPM) / 1e5
    compare(f"friction pressure at {thousand} 000 rpm [bar]", ours, bar, Tolerance(1e-12, "rounding"), HEYWOOD)


@pytest.mark.parametrize(
    ("constant", "per_peak", "per_speed", "per_square", "expected", "source"),
    [
        (0.137, 1 / 200, 0.162, 0.0, 2.107, "Chen and Flynn 1965, SAE 650733, its constants (value from memory)"),
        (0.4, 0.005, 0.09, 0.0009, 1.74, "constants of a common form of it (value from memory)"),
    ],
)
def test_friction_rules_with_a_peak_pressure(constant, per_peak, per_speed, per_square, expected, source, compare):
    # peak pressure 70 bar joins the constant; mean piston speed 10 m/s is stroke x speed / pi
    friction = _core.EngineFriction(
        constant=(constant + per_peak * 70) * 1e5,
        per_speed=per_speed * 1e5 * STROKE / math.pi,
        per_piston_speed_squared=per_square * 1e5,
    )
    ours = _core.friction_pressure(friction, STROKE, 10 * math.pi / STROKE) / 1e5
    name = f"friction pressure from {constant:g} bar, 70 bar peak, 10 m/s [bar]"
    compare(name, ours, expected, Tolerance(1e-12, "rounding"), source)
