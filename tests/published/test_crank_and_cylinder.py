"""Slider-crank and cylinder pressure, read back from the crank-angle tables that the integration uses."""

import math

import numpy as np
import pytest

from textbook_lines import LIGHT, RPM, crank_tables, engine

NODES = 28_800  # of 720 degrees: a fortieth of a degree
SERIES = "transform of the exact motion; series in Den Hartog, Mechanical Vibrations (from memory)"
CLOSED_FORM = "closed form"
CRANKCASE = 1.01325e5  # [Pa]
STROKE, BORE, ROD = 0.09, 0.08, 0.145  # [m]


def one_piston(rod_ratio: float) -> dict[str, np.ndarray]:
    """Tables of one kilogram on a crank of 1 m; rod_ratio: crank radius over rod length."""
    bare = engine(LIGHT, piston_mass=1.0, stroke=2.0, rod_length=1 / rod_ratio, bore=1.0, rated_speed=200 * RPM)
    return crank_tables(bare, NODES)


@pytest.mark.parametrize(
    ("rod_ratio", "expected"),
    [
        (0.20, (0.05050960, -0.50005207, -0.15230198, -0.01020408, 0.00129849, 0.00015620)),
        (0.25, (0.06350626, -0.50013014, -0.19205557, -0.01612903, 0.00259231, 0.00039032)),
        (0.30, (0.07676266, -0.50027785, -0.23300213, -0.02356020, 0.00460353, 0.00083309)),
    ],
)
def test_inertia_torque_by_order(rod_ratio, expected, compare):
    # torque = -(1/2) w^2 dJ/dth at constant speed, over m r^2 w^2
    torque = -0.5 * one_piston(rod_ratio)["inertia_slope"]
    found = -2 * np.fft.rfft(torque).imag / NODES
    for order, value in enumerate(expected, start=1):
        name = f"inertia torque, r/l {rod_ratio:g}, order {order}"
        compare(name, found[2 * order], value, 5e-9 / abs(value), SERIES)  # kept to eight places
    assert found[0] == pytest.approx(0, abs=1e-12)  # inertia does no work over a turn


@pytest.mark.parametrize(
    ("rod_ratio", "mean_square", "greatest"),
    [(0.25, 0.50806661517, 1.0308826985), (0.30, 0.51178665092, 1.0443321083), (0.50, 0.53589838486, 1.1232080011)],
)
def test_piston_speed(rod_ratio, mean_square, greatest, compare):
    squared = one_piston(rod_ratio)["inertia"] - LIGHT / 2  # (dx/dth)^2 / r^2, less the bare crank
    compare(f"mean square piston speed, r/l {rod_ratio:g}", squared.mean(), mean_square, 1e-8, SERIES)
    fastest = math.sqrt(squared.max())  # the nearest node misses the peak by less than 1e-7
    compare(f"greatest piston speed, r/l {rod_ratio:g}", fastest, greatest, 1e-7, "root of the exact motion")


def test_piston_speed_of_a_long_stroke(compare):
    squared = one_piston(0.25)["inertia"] - LIGHT / 2
    speed = math.sqrt(squared.max()) * 0.25 * 5000 * RPM
    compare("r 0.25 m, rod 1 m, 5000 rpm [m/s]", speed, 134.94223, 1e-6, "exercise, data seen; answer ours")


def test_acceleration_at_the_dead_centres(compare):
    # near a dead centre dx/dth = r (cos th +- r/l) sin th, so dJ/dth = 2 m r^2 (1 +- r/l)^2 th
    slope, step = one_piston(0.25)["inertia_slope"], 4 * math.pi / NODES
    for name, node, expected in (("top", 1, 1.25), ("bottom", NODES // 4 + 1, 0.75)):
        ours = math.sqrt(slope[node] / step / 2)
        compare(f"acceleration at {name} dead centre / (r w^2)", ours, expected, 1e-6, "handbook rule 1 +- r/l (seen)")


def test_a_rod_is_two_masses_and_a_residual_inertia(compare):
    # m (l - b) / l turns with the crank, m b / l moves with the piston, Jg - m b (l - b) swings: energy at 0.7 rad
    bare = {"piston_mass": LIGHT, "stroke": 0.1, "rod_length": 0.2, "bore": 0.1}
    rod = {"rod_mass": 0.8, "rod_centre_from_big_end": 0.06, "rod_inertia": 0.0045}
    table = crank_tables(engine(LIGHT, **bare, **rod), 2880)["inertia"] - LIGHT / 2
    harmonics = np.fft.rfft(table)[:200] / table.size  # smooth and periodic, so its Fourier series reads between nodes
    angle = np.arange(200) * 0.7 / 2
    inertia = harmonics[0].real + 2 * np.sum((harmonics * np.exp(1j * angle))[1:].real)
    compare("rod energy at 0.7 rad, 150 rad/s [J]", 0.5 * inertia * 150**2, 18.8045414, 1e-7, "two closed forms")


@pytest.fixture(scope="module")
def motored() -> dict[str, np.ndarray]:
    """One cylinder, nothing burnt: 1 bar at bottom dead centre, exponent 1.35, compression ratio 10."""
    made = engine(LIGHT, bore=BORE, stroke=STROKE, rod_length=ROD, piston_mass=1.0)
    combustion = made.combustion
    combustion.inlet_closes, combustion.polytropic_exponent = -math.pi, 1.35
    combustion.inlet_pressure = combustion.exhaust_pressure = 1e5
    made.combustion = combustion
    made.fuel = made.fuel.diesel  # a petrol engine scales its charge with the fuelling
    return crank_tables(made, NODES)


@pytest.mark.parametrize(
    ("degrees", "bar"), [(30, 10.290139), (60, 3.713984), (90, 1.900049), (120, 1.289465), (150, 1.060720)]
)
def test_pressure_of_a_motored_cylinder(degrees, bar, compare, motored):
    node = NODES - degrees * NODES // 720  # on the compression stroke
    lever = -math.sqrt(motored["inertia"][node] - LIGHT / 2) * math.pi / 4 * BORE**2  # A dx/dth from 1 kg of piston
    pressure = motored["base_torque"][node] / lever + CRANKCASE
    compare(f"motored pressure {degrees} deg before top [bar]", pressure / 1e5, bar, 1e-6, "polytrope, closed form")


def test_compression_work_of_a_motored_cylinder(compare, motored):
    # p1 V1 (r^(n-1) - 1) / (n - 1), of which the crankcase pays its own pressure times the swept volume
    step = 4 * math.pi / NODES
    stroke = np.append(motored["base_torque"][3 * NODES // 4 :], motored["base_torque"][0])
    done = -(stroke[0] / 2 + stroke[1:-1].sum() + stroke[-1] / 2) * step
    work = done + CRANKCASE * math.pi / 4 * BORE**2 * STROKE
    compare("compression work [J]", work, 177.8997590, 1e-6, CLOSED_FORM)
