"""Slider-crank: piston, rod and the torque of their inertia."""

import math

import numpy as np
import pytest
from scipy.optimize import brentq

from calmshaft import _core
from published_rows import Tolerance
from textbook_lines import LIGHT, RPM, crank_tables, engine

SERIES = "transform of the exact motion, closed form; series in Den Hartog, Mechanical Vibrations (from memory)"
CLOSED_FORM = "closed form, derived here"
MORTON = "Morton, graphical analysis of inertia torque in 4 to 12 cylinders, 1932 (rule seen; numbers ours)"
EIGHT_PLACES = Tolerance(6e-9, "the value is kept to eight places", absolute=True)
QUADRATURE = Tolerance(1e-10, "the value is kept to eleven figures or more")
DOUBLE = Tolerance(1e-12, "rounding in double precision", absolute=True)
TURN = np.arange(720) * math.tau / 720  # [rad] fine enough for orders that fall by a tenth or more each

TORQUE = {
    0.20: (0.05050960, -0.50005207, -0.15230198, -0.01020408, 0.00129849, 0.00015620),
    0.25: (0.06350626, -0.50013014, -0.19205557, -0.01612903, 0.00259231, 0.00039032),
    0.30: (0.07676266, -0.50027785, -0.23300213, -0.02356020, 0.00460353, 0.00083309),
}
ACCELERATION = {
    0.20: {1: 1.0, 2: 0.2020384, 4: -0.0020618},
    0.25: {1: 1.0, 2: 0.25402504, 4: -0.00409811, 6: 0.00007438},
    0.30: {1: 1.0, 2: 0.30705066, 4: -0.00723769},
}


def one_piston(rod_ratio: float) -> _core.Engine:
    """One kilogram on a crank of 1 m, a rod without mass; rod_ratio: crank radius over rod length."""
    return engine(piston_mass=1.0, stroke=2.0, rod_length=1 / rod_ratio, bore=1.0, rod_mass=0.0, rod_inertia=0.0)


def inertia_torque(rod_ratio: float) -> np.ndarray:
    """-(1/2) w^2 dJ/dth over m r^2 w^2, at constant speed."""
    return -0.5 * _core.moving_inertia(one_piston(rod_ratio), TURN)[1]


def sines(samples: np.ndarray) -> np.ndarray:
    """Sine coefficients of orders 0, 1, 2, ..."""
    return -2 * np.fft.rfft(samples).imag / samples.size


@pytest.mark.parametrize("rod_ratio", TORQUE)
def test_inertia_torque_by_order(rod_ratio, compare):
    found = sines(inertia_torque(rod_ratio))
    for order, value in enumerate(TORQUE[rod_ratio], start=1):
        compare(f"inertia torque, r/l {rod_ratio:g}, order {order}", found[order], value, EIGHT_PLACES, SERIES)


def test_the_crank_table_holds_the_same_inertia_torque(compare):
    # the table that the integration reads, one cylinder over two turns
    light = engine(LIGHT, piston_mass=1.0, stroke=2.0, rod_length=4.0, bore=1.0, rated_speed=200 * RPM)
    found = sines(-0.5 * crank_tables(light, 1440)["inertia_slope"])
    for order, value in enumerate(TORQUE[0.25], start=1):
        compare(f"inertia torque in the crank table, order {order}", found[2 * order], value, EIGHT_PLACES, SERIES)


@pytest.mark.parametrize("rod_ratio", ACCELERATION)
def test_piston_acceleration_by_order(rod_ratio, compare):
    curvature = _core.piston_motion(one_piston(rod_ratio), TURN)[2]
    found = 2 * np.fft.rfft(curvature).real / TURN.size
    seven = Tolerance(6e-8, "the value is kept to seven places", absolute=True)
    for order, value in ACCELERATION[rod_ratio].items():
        kept = EIGHT_PLACES if rod_ratio > 0.2 else seven
        compare(f"piston acceleration, r/l {rod_ratio:g}, order {order}", found[order], value, kept, SERIES)


@pytest.mark.parametrize(
    ("rod_ratio", "value"), [(0.25, -0.01612903116538), (0.30, -0.02356020214862), (0.50, -0.07142667344878)]
)
def test_fourth_order_of_inertia_torque_to_ten_figures(rod_ratio, value, compare):
    name = f"inertia torque, r/l {rod_ratio:g}, order 4, precise"
    compare(
        name, sines(inertia_torque(rod_ratio))[4], value, QUADRATURE, "midpoint rule in extended precision, closed form"
    )


@pytest.mark.parametrize("rod_ratio", TORQUE)
def test_inertia_does_no_work_over_a_turn(rod_ratio, compare):
    compare(f"mean inertia torque, r/l {rod_ratio:g}", inertia_torque(rod_ratio).mean(), 0.0, DOUBLE, CLOSED_FORM)


@pytest.mark.parametrize(
    ("rod_ratio", "mean_square", "greatest", "degrees"),
    [
        (0.25, 0.50806661517, 1.0308826985, 76.7209780),
        (0.30, 0.51178665092, 1.0443321083, 74.5289308),
        (0.50, 0.53589838486, 1.1232080011, 67.7000359),
    ],
)
def test_piston_speed(rod_ratio, mean_square, greatest, degrees, compare):
    made = one_piston(rod_ratio)
    squared = _core.piston_motion(made, TURN)[1] ** 2
    compare(f"mean square piston speed, r/l {rod_ratio:g}", squared.mean(), mean_square, QUADRATURE, CLOSED_FORM)
    at = brentq(lambda angle: _core.piston_motion(made, angle)[2], 0.5, 1.6, xtol=1e-13)
    printed = Tolerance(1e-9, "the value is kept to ten figures")
    compare(
        f"greatest piston speed, r/l {rod_ratio:g}", _core.piston_motion(made, at)[1], greatest, printed, CLOSED_FORM
    )
    last = Tolerance(2e-9, "one in the last of nine figures")
    compare(f"crank angle of the greatest speed, r/l {rod_ratio:g} [deg]", math.degrees(at), degrees, last, CLOSED_FORM)


def test_piston_speed_of_a_long_stroke(compare):
    made = engine(stroke=0.5, rod_length=1.0)
    at = brentq(lambda angle: _core.piston_motion(made, angle)[2], 0.5, 1.6)
    speed = _core.piston_motion(made, at)[1] * 5000 * RPM
    kept = Tolerance(1e-7, "the value is kept to eight figures")
    compare("r 0.25 m, rod 1 m, 5000 rpm [m/s]", speed, 134.94223, kept, "exercise, data seen; answer ours")


def test_acceleration_at_the_dead_centres(compare):
    for name, angle, expected in (("top", 0.0, 1.25), ("bottom", math.pi, -0.75)):
        ours = _core.piston_motion(one_piston(0.25), angle)[2]
        source = "an automotive handbook, 1 + r/l and -(1 - r/l), as quoted in a discussion (rule seen)"
        compare(f"acceleration at {name} dead centre / (r w^2)", ours, expected, DOUBLE, source)


def test_a_rod_is_two_masses_and_a_residual_inertia(compare):
    # m (l - b) / l turns with the crank, m b / l moves with the piston, Jg - m b (l - b) swings
    rod = {"rod_mass": 0.8, "rod_centre_from_big_end": 0.06, "rod_inertia": 0.0045}
    made = engine(piston_mass=0.0, stroke=0.1, rod_length=0.2, **rod)
    energy = 0.5 * _core.moving_inertia(made, 0.7)[0] * 150**2
    kept = Tolerance(3e-9, "the value is kept to nine figures")
    compare("rod energy at 0.7 rad, 150 rad/s [J]", energy, 18.8045414, kept, "two routes agree, closed form")
    # at top dead centre the piston stands: 0.56 kg r^2 and -0.00222 kg m^2 (r/l)^2; a quarter turn on: 0.8 kg r^2
    for degrees, value in ((0, 0.56 * 0.05**2 - 0.00222 * 0.25**2), (90, 0.8 * 0.05**2)):
        ours = _core.moving_inertia(made, math.radians(degrees))[0]
        compare(f"rod inertia at {degrees} deg [kg m^2]", ours, value, Tolerance(1e-12, "rounding"), CLOSED_FORM)


def test_a_straight_six_keeps_orders_three_and_six_of_inertia_torque(compare):
    six = {"firing_angles": _core.firing_angles([1, 5, 3, 6, 2, 4], 4), "rated_torque": 120.0}
    one = {"piston_mass": 1.0, "stroke": 2.0, "rod_length": 4.0, "bore": 1.0, "rated_speed": 200 * RPM}
    found = sines(-0.5 * crank_tables(engine(LIGHT, **six, **one), 1440)["inertia_slope"])[2::2]
    for order in range(1, 7):
        expected = 6 * TORQUE[0.25][order - 1] if order in (3, 6) else 0.0
        kept = Tolerance(4e-8, "six times eight places", absolute=True)
        compare(f"straight six, inertia torque, order {order}", found[order - 1], expected, kept, MORTON)
    heavy = engine(LIGHT, **six, **{**one, "piston_mass": 2.0})
    twice = sines(-0.5 * crank_tables(heavy, 1440)["inertia_slope"])[6] / found[2]
    compare("order 3 with twice the mass / with one", twice, 2.0, Tolerance(1e-7, "light rods of 1e-9 kg"), MORTON)
