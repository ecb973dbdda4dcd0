"""Values that others have published, or that a closed form gives, against the library's own answer.

Each source says how the number was had: seen in the publication, data of the publication with the answer worked out
here, value from memory of the named book, or a closed form.
"""

import math

import numpy as np
import pytest

import calmshaft as cs
from calmshaft import _core, units

LAUNCH = cs.sample_line("harbour-launch")
RATED = cs.Condition(2600)


def document(**sections):
    made = LAUNCH.document
    for name, changes in sections.items():
        made[name] = {**made[name], **changes}
    return made


def system(line, at=RATED, nodes=1440):
    from calmshaft.runs import cylinders, prepared

    return _core.mass_elastic_system(prepared(line), at.core(cylinders(line)), nodes)


@pytest.mark.parametrize(("length", "expected"), [(1.2, 84080.80), (1.5, 67264.64)])
def test_shaft_stiffness(length, expected, compare):
    # k = G J / L with d = 60 mm, G = 79.3 GPa
    shaft = {"diameter": "60 mm", "length": f"{length} m", "shear_modulus": "79.3 GPa"}
    made = cs.line_from_document(document(shaft=shaft))
    source = "closed form, torsion of shafts (any strength-of-materials text)"
    compare(f"shaft 60 mm, {length} m [N m/rad]", made.core.shaft.stiffness, expected, 1e-6, source)


def test_series_of_shaft_divisions_is_the_whole_shaft(compare):
    made = cs.line_from_document(document(shaft={"divisions": 4}))
    springs = [c["stiffness"] for c in system(made)["couplings"] if c["kind"] == "spring"]
    source = "closed form, springs in series"
    in_series = 1 / sum(1 / k for k in springs)
    compare("four shaft pieces in series [N m/rad]", in_series, made.core.shaft.stiffness, 1e-12, source)


def test_propeller_law(compare):
    # 200 kW at 300 rpm: 6366.1977 N m, at half speed a quarter: closed form. Here through the whole line, drags off.
    made = LAUNCH.replace({"gearbox.input_drag": "0 N*m", "gearbox.unloaded[0].drag": "0 N*m"})
    for share, expected in ((1.0, 165.0), (0.5, 41.25)):
        mean = system(made, cs.Condition(2600 * share))["mean_torque"]
        names = [c["name"] for c in system(made)["couplings"]]
        order = sorted(range(len(names)), key=lambda i: ("shaft", "plate", "loaded mesh", "free pair").index(names[i]))
        mesh = dict(zip([names[i] for i in order], mean, strict=True))["loaded mesh"]
        compare(f"propeller law at {share:g} of full speed [N m]", mesh, expected, 1e-9, "closed form, square law")


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
    compare(f"{text} in SI", units.parse(text, kind), expected, 1e-6, "NIST SP 811 (from memory)")


def test_mean_torque_of_a_mean_effective_pressure(compare):
    # T = p V / (4 pi) for four strokes: 10 bar on 0.5 litre gives 39.788736 N m. Friction is one such pressure.
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
    compare("friction torque of its pressure [N m]", ours, expected, 1e-9, "mean effective pressure, closed form")
    tables = system(LAUNCH)["tables"]
    gas = float(np.mean(tables["base_torque"]) + np.mean(tables["fuelled_torque"]))
    compare("mean gas torque at the rating [N m]", gas, 165.0 + ours, 1e-6, "brake torque plus friction, definition")


def test_inertia_torque_orders_of_one_cylinder(compare):
    # torque on the crank at constant speed / (m r^2 w^2), sine coefficients at r/l = 0.25: closed series as in
    # Den Hartog, Mechanical Vibrations (from memory), here from the table's own slope with a massless rod.
    engine = {
        "cylinders": 1, "rod_length": "196 mm", "rod_mass": "1e-9 kg", "rod_inertia": "1e-12 kg*m^2",
        "firing_order": [1], "rated_torque": "40 N*m", "crank_inertia": "0.055 kg*m^2",
    }  # fmt: skip
    made = cs.line_from_document(document(engine=engine))
    tables = system(made, nodes=2880)["tables"]
    unit = made.core.engine.piston_mass * (made.core.engine.stroke / 2) ** 2
    angle = np.arange(2880) * tables["cycle"] / 2880
    torque = -0.5 * np.asarray(tables["inertia_slope"]) / unit
    expected = (0.06350626, -0.50013014, -0.19205557, -0.01612903, 0.00259231, 0.00039032)
    for order, value in enumerate(expected, start=1):
        ours = 2 * float(np.mean(torque * np.sin(order * angle)))
        source = "Den Hartog's series (from memory), exact transform"
        compare(f"inertia torque, order {order}", ours, value, 1e-5, source)


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
    compare(f"first major order of {cylinders} cylinders", float(found[0]), majors, 1e-12, source)
    assert np.allclose(found % majors, 0)


def test_one_dead_cylinder_has_every_half_order_of_a_single_one(compare):
    # phasor sum over even intervals less the dead one's own: 1 at each order that is not major, N - 1 at major ones
    healthy = np.fft.rfft(system(LAUNCH)["tables"]["fuelled_torque"])
    dead = np.fft.rfft(system(LAUNCH, RATED.with_(misfiring=[3]))["tables"]["fuelled_torque"])
    single = np.abs(healthy[4]) / 4
    left = float(np.abs(dead[4]) / single)
    compare("order 2 left of four cylinders, three fire", left, 3.0, 1e-9, "phasor sum, closed form")
    lone = np.abs(np.fft.rfft(system(LAUNCH, RATED.with_(misfiring=[2, 3, 4]))["tables"]["fuelled_torque"]))
    for harmonic in (1, 2, 3, 5, 6, 7):
        ratio = float(np.abs(dead[harmonic]) / lone[harmonic])
        compare(f"order {harmonic / 2:g} of one dead cylinder", ratio, 1.0, 1e-9, "phasor sum, closed form")


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
    compare("dry friction in the plate [W]", ours, power, 0.01, "friction loop, closed form")
