"""The linear answer by engine orders against time integration, what it says of itself, and critical speeds."""

import math

import numpy as np
import pytest

import calmshaft as cs
from calmshaft.results import ORDERS

LAUNCH = cs.sample_line("harbour-launch")
B = LAUNCH.with_plate("plate-b")
ONE_PERCENT = 0.01


def nearly_linear(flywheel: float = 6.0) -> cs.Line:
    """The launch with nothing that is not linear in reach: one stage, no free play or friction, light pistons."""
    document = LAUNCH.document
    document["plate"] |= {"hysteresis_full_width": "1e-6 N*m", "free_play": "0 deg", "stop_angle": "20 deg"}
    document["plate"] |= {"viscous_damping": "2 N*m*s/rad", "stages": [{"stiffness": "20 N*m/deg", "until": "20 deg"}]}
    # heavy pistons swing the crank's inertia twice a turn, which a linear answer holds at its mean
    document["engine"] |= {"piston_mass": "0.05 kg", "rod_mass": "0.05 kg", "rod_inertia": "1e-6 kg*m^2"}
    document["flywheel"] = {"inertia": f"{flywheel} kg*m^2"}  # [kg m^2] a heavy one makes the swings small
    document["gearbox"]["unloaded"][0]["drag"] = "20 N*m"  # keeps the free pair's teeth together
    return cs.line_from_document(document)


@pytest.mark.parametrize(
    "at", [cs.Condition(1400), cs.Condition(1800, misfiring={3: 0.7}), cs.Condition(2600)], ids=str
)
def test_small_swings_agree_with_time_integration(at):
    line = nearly_linear()
    linear, run = cs.linear_response(line, at), cs.steady(line, at)
    assert run.status == "periodic"
    assert linear.misleading == ()
    ours = linear.torque[:, linear.joint("loaded mesh")]
    felt = np.abs(run.orders) > 0.05 * np.abs(run.orders).max()
    # what is left is of second order in the swing of the crank's speed, see the test below
    assert ours[felt] == pytest.approx(run.orders[felt], rel=ONE_PERCENT)
    assert np.abs(ours - run.orders).max() < ONE_PERCENT * np.abs(run.orders).max()
    assert linear.vibratory_torque["loaded mesh"] == pytest.approx(
        run.measures["mesh_torque_vibratory"], rel=ONE_PERCENT
    )
    assert linear.fuelling == pytest.approx(run.fuelling, rel=1e-3)  # steady running adds losses of second order
    for joint in ("plate", "shaft"):
        signal = run.signals.torque.sel(coupling=joint).values[-run.steps_per_cycle - 1 : -1]
        orders = 2 * np.fft.rfft(signal)[1:13] / signal.size
        theirs = linear.torque[:12, linear.joint(joint)]
        assert np.abs(theirs - orders).max() < ONE_PERCENT * np.abs(orders).max()


def test_what_is_left_between_the_two_falls_with_the_swing_itself():
    at = cs.Condition(1800, misfiring={3: 0.7})

    def difference(flywheel):
        linear, run = cs.linear_response(nearly_linear(flywheel), at), cs.steady(nearly_linear(flywheel), at)
        ours = linear.torque[:, linear.joint("loaded mesh")]
        return np.abs(ours - run.orders).max() / np.abs(run.orders).max()

    # orders beat with one another through the speed: a quarter of the swing leaves a quarter of the difference
    assert difference(6.0) / difference(24.0) == pytest.approx(4, rel=0.1)


def test_the_launch_at_idle_is_said_to_be_beyond_a_linear_answer():
    said = " ".join(cs.linear_response(LAUNCH, cs.Condition(800)).misleading)
    for part in ("free play", "teeth of the loaded mesh would part", "teeth of the free pair"):
        assert part in said


def test_corner_friction_and_stop_are_each_said_where_they_are_met():
    line = nearly_linear(1.5)
    at = cs.Condition(1400)
    assert cs.linear_response(line, at).misleading == ()
    swing = cs.linear_response(line, at).synthesised("plate", "twist")
    middle = math.degrees(swing.mean())

    def said(**plate):
        document = line.document
        document["plate"] |= plate
        return cs.linear_response(cs.line_from_document(document), at).misleading

    stages = [{"stiffness": "20 N*m/deg", "until": f"{middle} deg"}, {"stiffness": "21 N*m/deg", "until": "20 deg"}]
    for sentence, plate in (
        ("passes the corner", {"stages": stages}),
        ("dry friction", {"hysteresis_full_width": "8 N*m"}),
        ("reaches its stop", {"stop_angle": f"{math.degrees(swing.max()) * 0.999} deg"}),
    ):
        found = said(**plate)
        assert len(found) == 1, (sentence, found)
        assert sentence in found[0]


def test_a_synthesis_is_the_sum_of_its_orders():
    found = cs.linear_response(B, cs.Condition(1000, misfiring=[2]))
    angle = 2.1  # [rad]
    column = found.joint("plate")
    one = found.mean_torque[column] + (found.torque[:, column] * np.exp(1j * ORDERS * angle)).sum().real
    trace = found.synthesised("plate")
    assert np.interp(angle, np.arange(trace.size) * 4 * math.pi / trace.size, trace) == pytest.approx(one, rel=1e-4)
    assert trace.mean() == pytest.approx(found.mean_torque[column])
    with pytest.raises(cs.LineError, match="write loaded mesh"):
        found.synthesised("loaded mash")


def test_what_the_linear_answer_cannot_say_is_refused():
    with pytest.raises(cs.LineError, match="governed"):
        cs.linear_response(B, cs.Condition(1400, misfiring=[3], fuelling="fixed"))
    assert cs.linear_response(B, cs.Condition(1400, fuelling="fixed")).fuelling > 0


def test_a_two_stroke_has_whole_orders():
    document = B.document
    document["engine"]["strokes"] = 2
    found = cs.linear_response(cs.line_from_document(document), cs.Condition(2000))
    assert np.abs(found.torque[ORDERS % 1 != 0]).max() == 0
    assert np.abs(found.excitation[ORDERS == 4])[0] > 10  # four cylinders fire once a turn each


def test_critical_speeds_of_a_healthy_four_are_those_of_its_even_orders():
    rows = cs.critical_speeds(LAUNCH)
    assert {row.order for row in rows} <= {2, 4, 6, 8, 10, 12}
    for row in rows:
        at_it = cs.modes(LAUNCH, cs.Condition(row.rpm))
        assert row.rpm * row.order / 60 == pytest.approx(at_it.frequency_hz[row.mode])
        assert row.words == at_it.words[row.mode]
        assert 800 <= row.rpm <= 2600
    assert any(row.rpm == pytest.approx(1729, abs=1) and "shaft" in row.words for row in rows)


def test_a_misfiring_cylinder_brings_half_orders():
    rows = cs.critical_speeds(B, cs.Condition(800, misfiring=[3]))
    assert {0.5, 1.0, 1.5, 2.5} <= {row.order for row in rows}
    healthy = [(row.mode, row.order) for row in cs.critical_speeds(B)]
    assert set(healthy) < {(row.mode, row.order) for row in rows}


def test_a_critical_speed_stands_in_the_stage_that_its_own_mean_torque_reaches():
    # plate B is softer at idle than above some 1060 rpm, so order 1 meets its mode once in each stage
    rows = [row for row in cs.critical_speeds(B, cs.Condition(800, misfiring=[3])) if (row.mode, row.order) == (1, 1)]
    assert [round(row.rpm) for row in rows] == [1119, 869]
    frequencies = [cs.modes(B, cs.Condition(rpm)).frequency_hz[1] for rpm in (869, 1119)]
    assert frequencies[0] < 0.8 * frequencies[1]


def test_a_chain_needs_its_orders():
    two = cs.chain([0.5, 0.1], [1000.0])
    (row,) = cs.critical_speeds(two, orders=[1.5])
    assert row.rpm == pytest.approx(math.sqrt(12000) * 60 / math.tau / 1.5)
    assert cs.critical_speeds(two, orders=[1.5], rpm_range=(0, 600)) == []
    for bad in ({}, {"orders": [0]}, {"orders": [2], "rpm_range": (900, 300)}):
        with pytest.raises(cs.LineError):
            cs.critical_speeds(two, **bad)


def test_an_order_diagram_marks_the_critical_speeds():
    ax = cs.plots.order_diagram(LAUNCH)
    marked = sorted(float(line.get_xdata()[0]) for line in ax.lines if line.get_marker() == "o")
    assert marked == pytest.approx(sorted(row.rpm for row in cs.critical_speeds(LAUNCH)))
    assert "rpm" in ax.get_xlabel()
    assert "Hz" in ax.get_ylabel()
    labels = [text.get_text() for text in ax.get_legend().get_texts()]
    assert "propeller on the plate and its shaft" in labels
    own = cs.plots.order_diagram(cs.chain([0.5, 0.1], [1000.0]), orders=[1, 2], ax=ax)
    assert own is ax
