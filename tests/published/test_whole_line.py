"""Whole line: propeller law, mean torques, firing orders and plate friction of the harbour launch."""

import math

import numpy as np
import pytest

import calmshaft as cs
from calmshaft import _core
from published_rows import Tolerance

LAUNCH = cs.sample_line("harbour-launch")
RATED = cs.Condition(2600)
SUMS = Tolerance(1e-9, "sums in double precision")


def document(**sections):
    made = LAUNCH.document
    for name, changes in sections.items():
        made[name] = {**made[name], **changes}
    return made


def system(line, at=RATED, nodes=1440):
    from calmshaft.runs import cylinders, prepared

    return _core.mass_elastic_system(prepared(line), at.core(cylinders(line)), nodes)


def test_propeller_law(compare):
    # a quarter of the torque at half the speed, drags off
    made = LAUNCH.replace({"gearbox.input_drag": "0 N*m", "gearbox.unloaded[0].drag": "0 N*m"})
    for share, expected in ((1.0, 165.0), (0.5, 41.25)):
        mean = system(made, cs.Condition(2600 * share))["mean_torque"]
        names = [c["name"] for c in system(made)["couplings"]]
        order = sorted(range(len(names)), key=lambda i: ("shaft", "plate", "loaded mesh", "free pair").index(names[i]))
        mesh = dict(zip([names[i] for i in order], mean, strict=True))["loaded mesh"]
        compare(f"propeller law at {share:g} of full speed [N m]", mesh, expected, SUMS, "square law, closed form")


def test_mean_torque_of_a_mean_effective_pressure(compare):
    # T = p V / (4 pi) for four strokes; friction is one such pressure
    made = LAUNCH.core.engine
    swept = math.pi / 4 * made.bore**2 * made.stroke * 4
    speed = made.rated_speed
    pressure = (
        made.friction.constant
        + made.friction.per_speed * speed
        + made.friction.per_piston_speed_squared * (made.stroke * speed / math.pi) ** 2
    )
    friction = system(LAUNCH)["engine_friction"]
    ours = friction["constant"] + friction["per_speed"] * speed + friction["per_speed_squared"] * speed**2
    expected = pressure * swept / (4 * math.pi)
    compare("friction torque of its pressure [N m]", ours, expected, SUMS, "mean effective pressure, closed form")
    tables = system(LAUNCH)["tables"]
    gas = float(np.mean(tables["base_torque"]) + np.mean(tables["fuelled_torque"]))
    sampled = Tolerance(1e-6, "mean of 1440 nodes beside the quadrature that sets the heat")
    source = "brake torque plus friction, definition"
    compare("mean gas torque at the rating [N m]", gas, 165.0 + ours, sampled, source)


@pytest.mark.parametrize(
    ("cylinders", "order", "majors"),
    [(3, [1, 2, 3], 1.5), (4, [1, 3, 4, 2], 2), (5, [1, 2, 4, 5, 3], 2.5), (6, [1, 5, 3, 6, 2, 4], 3)],
)
def test_major_orders_of_even_firing_four_strokes(cylinders, order, majors, compare):
    engine = {"cylinders": cylinders, "firing_order": order}
    tables = system(cs.line_from_document(document(engine=engine)), nodes=7200)["tables"]
    amplitude = np.abs(np.fft.rfft(np.asarray(tables["fuelled_torque"])))[1:25]
    found = (np.flatnonzero(amplitude > 1e-6 * amplitude.max()) + 1) / 2
    source = "firing-interval rule, closed form"
    compare(f"first major order of {cylinders} cylinders", float(found[0]), majors, SUMS, source)
    assert np.allclose(found % majors, 0)


def test_one_dead_cylinder_has_every_half_order_of_a_single_one(compare):
    # phasor sum over even intervals less the dead one's own: 1 at each order that is not major, N - 1 at major ones
    healthy = np.fft.rfft(system(LAUNCH)["tables"]["fuelled_torque"])
    dead = np.fft.rfft(system(LAUNCH, RATED.with_(misfiring=[3]))["tables"]["fuelled_torque"])
    single = np.abs(healthy[4]) / 4
    left = float(np.abs(dead[4]) / single)
    compare("order 2 left of four cylinders, three fire", left, 3.0, SUMS, "phasor sum, closed form")
    lone = np.abs(np.fft.rfft(system(LAUNCH, RATED.with_(misfiring=[2, 3, 4]))["tables"]["fuelled_torque"]))
    for harmonic in (1, 2, 3, 5, 6, 7):
        ratio = float(np.abs(dead[harmonic]) / lone[harmonic])
        compare(f"order {harmonic / 2:g} of one dead cylinder", ratio, 1.0, SUMS, "phasor sum, closed form")


def test_friction_loop_power(compare):
    # A slider that holds up to H and slides beyond dissipates H x slid twist (4 H A a turn once A is large): closed
    # form. Its elastic twist is followed here along the plate's own signal, over one period after one to settle.
    at = cs.Condition(1820, misfiring=[3])
    run = cs.steady(LAUNCH.with_plate("plate-b"), at)
    plate = run.line.core.plate
    twist = run.signals.twist.sel(coupling="plate").values
    elastic, slid = 0.0, 0.0
    for _ in range(2):
        slid = 0.0
        for step in np.diff(twist):
            held = np.clip(elastic + step, -plate.presliding_angle, plate.presliding_angle)
            slid += abs(elastic + step - held)
            elastic = held
    power = plate.hysteresis_full_width / 2 * slid / float(run.signals.time[-1])
    ours = run.measures["plate_friction_power"]
    steps = Tolerance(1e-3, "the loop is followed from node to node")
    compare("dry friction in the plate [W]", ours, power, steps, "friction loop, closed form")
