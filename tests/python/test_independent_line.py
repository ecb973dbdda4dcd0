"""Tests of the independent oracle by itself: closed forms first, then a whole line's books."""

import math

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.interpolate import CubicHermiteSpline
from scipy.optimize import brentq

from independent_build import build, start_state
from independent_chain import Chain, DryFriction, Gap, PlateSpring, PlateStops, chi
from independent_cycle import integrate_cycle
from independent_engine import (
    EngineTables,
    cylinder_torques,
    described,
    engine_tables,
    friction_torque,
    slider_crank,
)
from independent_launch import PLATES, RPM, condition, engine, launch
from independent_line import measures, steady

HEAVY = 1e9  # [kg m^2] a crank that nothing slows
SPEED = 100.0  # [rad/s]


def frictionless() -> object:
    return described(engine() | {"friction": dict.fromkeys(engine()["friction"], 0.0)})


def bench(inertia: float, seconds: float, crank_inertia: float = HEAVY) -> Chain:
    """A uniform crank turning at SPEED with one more station; a cycle lasts `seconds`."""
    flat = np.zeros(8)
    tables = EngineTables(SPEED * seconds, np.full(8, crank_inertia), flat, flat, flat)
    chain = Chain(tables, frictionless(), [0.0, inertia], [1.0, 1.0], [0.0, 0.0], input_station=0)
    chain.set_mean_speed(SPEED)
    chain.set_fuelling(0.0)
    return chain


def released(twist: float, rate: float = 0.0) -> np.ndarray:
    """State of a bench with the second station behind by `twist`."""
    return np.array([0.0, -twist, SPEED, SPEED - rate])


def plate(stages: list[tuple[float, float]], hysteresis: float = 0.0, reach: float = 1.0) -> object:
    side = {"stages": [{"stiffness": k, "until": end} for k, end in stages], "stop_angle": math.inf}
    free = {
        "free_play": 0.0,
        "hysteresis_full_width": hysteresis,
        "presliding_angle": reach,
        "drive": side,
        "coast": side,
    }
    return described(PLATES["B"] | free)


def test_two_inertias_vibrate_at_the_closed_form_frequency() -> None:
    # w^2 = k (1/J1 + 1/J2): any vibration textbook, e.g. Den Hartog, Mechanical Vibrations (from memory)
    period = 2 * math.pi / math.sqrt(1000.0 * (1 / 0.5 + 1 / 0.1))
    chain = bench(0.1, 5 * period, crank_inertia=0.5)
    chain.shafts.append((0, 1, 1000.0, 0.0))
    end = solve_ivp(chain.rates, (0, 5 * period), released(0.01), "DOP853", rtol=1e-10, atol=1e-12).y[:, -1]
    assert end[1] == pytest.approx(-0.01, abs=1e-8)
    assert end[3] - end[2] == pytest.approx(0, abs=1e-6)  # amplitude of this rate is 1.1 rad/s


def test_a_gear_crosses_its_backlash_freely() -> None:
    # dead zone +-d: T = 2 pi / w + 4 d / (w (A - d)), from energy: flight at the speed of leaving
    free, amplitude, rate = 0.01, 0.015, 100.0
    chain = bench(0.2, 2 * math.pi / rate + 4 * free / (rate * (amplitude - free)))
    chain.gaps.append(("pair", 0, 1, Gap(free, 0.2 * rate**2, 0.0)))
    cycle = integrate_cycle(chain, released(amplitude))
    assert cycle.duration == pytest.approx(0.1428318531, rel=1e-9)
    assert cycle.state[1] == pytest.approx(-amplitude, abs=1e-8)
    flying = np.abs(cycle.joints["pair_twist"]) < free
    assert np.abs(cycle.joints["pair_rate"][flying]) == pytest.approx(rate * (amplitude - free), rel=1e-6)
    assert not cycle.joints["pair"][flying].any()


def test_a_contact_returns_the_speed_of_its_own_law() -> None:
    # k g (1 + chi g') integrated over g: chi v - ln(1 + chi v) is alike at v_in and -v_out (derived; law of
    # Hunt and Crossley, J. Appl. Mech. 42, 1975, from memory). At small losses v_out / v_in tends to e.
    for restitution, small_loss in ((0.8, False), (0.99, True)):
        factor = chi(restitution, 0.5)
        chain = bench(0.005, 0.004)
        chain.gaps.append(("pair", 0, 1, Gap(0.001, 6e5, factor)))
        end = integrate_cycle(chain, released(0.001 - 1e-6, rate=0.5)).state
        left = factor * 0.5 - math.log1p(factor * 0.5)
        leaving = brentq(lambda v, f=factor, c=left: -f * v - math.log1p(-f * v) - c, 0, 0.5)
        assert end[3] - end[2] == pytest.approx(leaving, rel=1e-6)
        if small_loss:
            assert leaving / 0.5 == pytest.approx(restitution, abs=1e-3)


def test_a_two_stage_plate_swings_in_the_closed_form_time() -> None:
    # quarter swings in each slope, joined at the corner: T = 4 (t1 + t2); derived from energy
    chain = bench(1.0, 0.0487569655)
    two = plate([(50.0**2, 0.01), (200.0**2, 1.0)])
    chain.spring, chain.stops = PlateSpring(two), PlateStops(two)
    assert integrate_cycle(chain, released(0.02)).state[1] == pytest.approx(-0.02, abs=1e-7)


def test_dry_friction_takes_four_times_its_torque_and_slip_amplitude_a_cycle() -> None:
    # loop of an elastic-perfectly-plastic element: 4 H (A - reach), 4 H A without presliding (closed form).
    # In free decay it takes half of that from peak to peak: k (a^2 - b^2) / 2 = 2 H ((a + b) / 2 - reach).
    # With reach -> 0 this is the known drop of 2 H / k a half swing (Coulomb damping; Den Hartog, memory).
    stiffness, half_width, reach = 100.0, 2.5, 0.002
    rubbing = plate([(stiffness, 10.0)], 2 * half_width, reach)
    chain = bench(1.0, 5 * math.pi / 10)
    chain.spring, chain.stops, chain.friction = (
        PlateSpring(rubbing),
        PlateStops(rubbing),
        DryFriction(half_width, reach),
    )
    chain.friction.anchor = 0.5 - reach
    cycle = integrate_cycle(chain, released(0.5))
    curve = CubicHermiteSpline(cycle.states[:, 0] / SPEED, cycle.joints["plate_twist"], cycle.joints["plate_rate"])
    turning = curve.derivative().roots(extrapolate=False)
    peaks = np.abs(curve(turning))
    assert len(peaks) >= 4
    for before, after in zip([0.5, *peaks], peaks, strict=False):
        loss = stiffness * (before**2 - after**2) / 2
        assert loss == pytest.approx(2 * half_width * ((before + after) / 2 - reach), rel=1e-4)
        assert before - after == pytest.approx(2 * half_width / stiffness, rel=0.05)


def test_rod_energy_equals_the_two_mass_rod_with_its_residual_couple() -> None:
    # 18.8045414 J: exact rod against two masses (0.56 and 0.24 kg) plus residual inertia, two derived routes
    rod = {"rod_length": 0.2, "stroke": 0.1, "piston_mass": 0.0, "rod_mass": 0.8}
    rod |= {"rod_centre_from_big_end": 0.06, "rod_inertia": 0.0045}
    one = slider_crank(described(engine() | rod), np.array([0.7]))
    assert 0.5 * one.inertia[0] * 150**2 == pytest.approx(18.8045414, rel=1e-8)


def test_a_slider_crank_alone_keeps_its_energy() -> None:
    # Lagrange's equation of one degree of freedom; no gas, no friction
    single = described(engine() | {"firing_angles": [0.0], "friction": dict.fromkeys(engine()["friction"], 0.0)})
    tables = engine_tables(single, [1.0], 0.01)
    silent = EngineTables(tables.period, tables.inertia, tables.slope, 0 * tables.base, 0 * tables.fuelled)
    chain = Chain(silent, single, [0.0], [1.0], [0.0], input_station=0)
    chain.set_mean_speed(SPEED)
    chain.set_fuelling(0.0)
    cycle = integrate_cycle(chain, np.array([0.0, SPEED]), rtol=1e-11)
    energy = [0.5 * chain.crank(angle)[0] * speed**2 for angle, speed in cycle.states]
    assert np.ptp(cycle.states[:, 1]) > 1  # the speed does swing
    assert np.ptp(energy) < 1e-8 * energy[0]  # the splines of inertia and slope are not exact derivatives


def test_heat_at_top_dead_centre_gives_the_otto_efficiency() -> None:
    # 1 - r^(1 - n): any thermodynamics textbook, e.g. Heywood ch. 5 (from memory)
    timing = {
        "burn_start": 0.0,
        "burn_duration": 0.002,
        "inlet_closes": -math.pi,
        "exhaust_opens": math.pi - 1e-3,
    }
    quick = described(engine() | {"combustion": engine()["combustion"] | timing})
    _, trapped, heat = cylinder_torques(quick)
    assert heat.integrate(-2 * math.pi, 2 * math.pi) == pytest.approx(1 - 18.5**-0.35, rel=1e-4)
    assert trapped.integrate(-2 * math.pi, 2 * math.pi) == pytest.approx(0, abs=1e-3)  # [J], an air spring


def test_fuelling_one_gives_rated_torque_in_multiples_of_half_the_cylinders() -> None:
    # definition of the factor; orders of an even-firing four-stroke: Den Hartog (from memory)
    four = described(engine())
    tables = engine_tables(four, [1.0] * 4, 0.45)
    brake = (tables.base + tables.fuelled).mean() - friction_torque(four, 2600 * RPM)
    assert brake == pytest.approx(165.0, rel=1e-9)
    amplitude = np.abs(np.fft.rfft(tables.base + tables.fuelled))
    others = np.delete(amplitude[:49], np.arange(0, 49, 4))
    assert others.max() < 1e-6 * amplitude.max()


def test_a_tighter_tolerance_changes_nothing_where_plate_and_teeth_hammer() -> None:
    # convergence check of the event-wise friction: plate A at idle, one cycle from one state
    found = []
    for tolerance in (1e-8, 1e-10):
        chain = build(launch("A"), condition(750))
        chain.set_fuelling(0.25)
        found.append(measures(chain, integrate_cycle(chain, start_state(chain, 750 * RPM), rtol=tolerance)))
    assert found[1]["mesh_ripple"] > 500  # it does hammer
    for name in ("mesh_ripple", "mesh_vibratory", "plate_ripple", "twist_max", "mesh_separated"):
        assert found[0][name] == pytest.approx(found[1][name], rel=1e-3), name


@pytest.mark.parametrize("gear", ["ahead", "astern"])
def test_a_steady_line_balances_its_books(gear: str) -> None:
    # conservation of energy and of angular momentum
    answer = steady(launch("B"), condition(1820, gear))
    assert answer.status == "periodic"
    assert abs(answer.measures["audit"]) < 1e-6
    assert answer.mean_speed == pytest.approx(1820 * RPM, rel=1e-4)
    law, own = answer.chain.propeller_law, 1820 * RPM / 2
    assert answer.measures["mesh_mean"] == pytest.approx(law * own**2 / 2, rel=1e-3)


def test_a_given_fuelling_finds_its_own_speed() -> None:
    # the same balance read the other way round
    governed = steady(launch("B"), condition(1820))
    found = steady(launch("B"), condition(1750), fuelling=governed.fuelling)
    assert found.mean_speed == pytest.approx(governed.mean_speed, rel=2e-3)
