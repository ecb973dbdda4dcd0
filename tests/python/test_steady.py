"""One steady condition from Python: physics that must hold, and second routes to its numbers."""

import math

import numpy as np
import pytest

import calmshaft as cs
from calmshaft.results import ORDERS

LAUNCH = cs.sample_line("harbour-launch")
B, C = LAUNCH.with_plate("plate-b"), LAUNCH.with_plate("plate-c")
CRUISE = cs.Condition(1820)


@pytest.fixture(scope="module")
def cruise():
    run = cs.steady(B, CRUISE)
    assert run.status == "periodic"
    return run


ASKED = [CRUISE, cs.Condition(800), cs.Condition(750, misfiring=[3]), cs.Condition(800, "neutral")]


@pytest.mark.parametrize("at", ASKED, ids=str)
@pytest.mark.parametrize("line", [LAUNCH, B, C], ids="ABC")
def test_energy_is_accounted_for_and_the_speed_is_as_asked(line, at):
    run = cs.steady(line, at)
    assert abs(run.energy_audit["relative_defect"]) < 1e-3  # the audit's own limit: 0.1 % of throughput
    assert run.measures["mean_rpm"] == pytest.approx(at.rpm, rel=2e-3)


def test_the_mean_in_the_mesh_is_the_propeller_law(cruise):
    # square law through rated torque less drags at 2600 rpm, closed form; vibration adds second order only
    expected = (165 - 3.75 - 1.3) * (1820 / 2600) ** 2
    assert cruise.measures["mesh_torque_mean"] == pytest.approx(expected, rel=2e-3)


def test_a_healthy_even_firing_four_has_multiples_of_order_two_only(cruise):
    # firing-order rule of four-stroke engines, e.g. Ker Wilson; 1 %: what settled motion still carries
    amplitude = np.abs(cruise.orders)
    main = amplitude[ORDERS == 2][0]
    assert amplitude[ORDERS % 2 != 0].max() < 1e-2 * main


def test_a_dead_cylinder_brings_half_orders_and_it_does_not_matter_which():
    runs = [cs.steady(C, CRUISE.with_(misfiring=[n])) for n in (1, 2, 3, 4)]
    vibratory = [run.measures["mesh_torque_vibratory"] for run in runs]
    assert max(vibratory) == pytest.approx(min(vibratory), rel=5e-3)
    for run in runs:
        amplitude = np.abs(run.orders)
        assert amplitude[ORDERS == 0.5][0] > amplitude[ORDERS == 2][0]


def test_signals_give_the_same_measures_by_numpy(cruise):
    torque = cruise.signals.torque.sel(coupling="loaded mesh").values
    twist = cruise.signals.twist.sel(coupling="plate").values
    m = cruise.measures
    # signals are those of the next cycle, which repeats within 0.1 % of rated torque: what "periodic" means here
    assert np.ptp(torque) == pytest.approx(m["mesh_torque_ripple"], abs=0.165)
    assert torque[:-1].mean() == pytest.approx(m["mesh_torque_mean"], rel=1e-4)
    assert twist.max() == pytest.approx(m["plate_twist_max"], rel=1e-4)
    orders = 2 * np.abs(np.fft.rfft(torque[:-1]))[1:49] / (torque.size - 1)
    counted = ORDERS <= 12  # those of the vibratory torque; the bins fold a little more onto the ones above
    assert np.abs(cruise.orders)[counted] == pytest.approx(orders[counted], abs=2e-3 * orders.max())


def test_separated_share_from_signals_by_numpy():
    run = cs.steady(LAUNCH, cs.Condition(750))
    assert run.status == "periodic"
    twist = run.signals.twist.sel(coupling="loaded mesh").values
    apart = np.abs(twist) < LAUNCH.quantities["gearbox.ahead.backlash"].value / 2
    weights = np.gradient(run.signals.time.values)
    assert weights[apart].sum() / weights.sum() == pytest.approx(run.measures["mesh_separated_share"], abs=2e-3)


def test_fixed_fuelling_with_a_dead_cylinder_slows_the_line(cruise):
    weak = cs.steady(B, CRUISE.with_(misfiring=[3], fuelling="fixed"))
    assert weak.fuelling == pytest.approx(cruise.fuelling, rel=1e-3)
    assert weak.measures["mean_rpm"] < 0.95 * 1820


def test_more_fuel_than_rated_is_flagged():
    assert not cs.steady(B, cs.Condition(2400)).overfuelled
    assert cs.steady(B, cs.Condition(2600, misfiring=[1])).overfuelled


def test_peaks_are_withheld_where_nothing_repeats_and_their_spread_stands():
    run = cs.steady(LAUNCH, cs.Condition(800))
    assert run.status == "aperiodic"
    assert math.isnan(run.measures["mesh_torque_ripple"])
    spread = run.spread["mesh_torque_ripple"]
    assert spread["lowest_cycle"] <= spread["mean"] <= spread["highest_cycle"]
    assert spread["standard_error"] < 0.05 * spread["mean"]


def test_what_cannot_run_is_said_in_words():
    run = cs.steady(B, cs.Condition(650, misfiring=[1, 2, 3], load="120 N*m", fuelling="fixed"))
    assert run.status in ("stalled", "failed")
    assert run.reason
    assert math.isnan(run.measures["mesh_torque_mean"])
    with pytest.raises(cs.LineError, match="cylinder"):
        cs.steady(B, cs.Condition(800, misfiring=[5]))


def test_neutral_and_astern_and_a_rigid_drive():
    neutral = cs.steady(C, cs.Condition(1200, "neutral"))
    assert math.isnan(neutral.measures["mesh_torque_mean"])
    assert neutral.measures["unloaded_mesh_separated_share"] == 0
    astern = cs.steady(C, CRUISE.with_(gear="astern"))
    ahead = cs.steady(C, CRUISE)
    assert astern.measures["mesh_torque_mean"] == pytest.approx(ahead.measures["mesh_torque_mean"], rel=1e-6)
    rigid = cs.steady(LAUNCH.with_plate({"kind": "rigid"}), cs.Condition(800))
    assert math.isnan(rigid.spread["plate_twist_max"]["mean"])
    assert rigid.best("mesh_torque_vibratory") > 3 * cs.steady(C, cs.Condition(800)).best("mesh_torque_vibratory")


def test_two_stroke_and_vee_engines_run():
    document = B.document
    document["engine"]["strokes"] = 2
    two_stroke = cs.line_from_document(document)
    run = cs.steady(two_stroke, CRUISE)
    assert run.status in ("periodic", "subharmonic", "aperiodic")
    assert np.abs(run.orders[ORDERS % 1 != 0]).max() == 0  # a two-stroke has whole orders only
    document = B.document
    document["engine"] |= {"layout": "vee", "bank_angle": "90 deg", "cylinders": 2}
    document["engine"].pop("firing_order")
    document["engine"]["firing_angles"] = ["0 deg", "270 deg"]
    uneven = cs.steady(cs.line_from_document(document), CRUISE)
    assert np.abs(uneven.orders)[ORDERS == 0.5][0] > 0.1  # uneven firing has half orders though all cylinders fire


def test_modes_of_the_launch_with_plate_b():
    # the same two low modes as an independent linear sketch of this line: about 18 Hz above the first corner, 51 Hz
    found = cs.modes(B, cs.Condition(2000)).frequency_hz
    assert found[0] == 0
    assert found[1] == pytest.approx(18, rel=0.1)
    assert found[2] == pytest.approx(51, rel=0.1)


def test_results_show_themselves_in_a_few_lines():
    line, at = cs.sample_line("harbour-launch"), cs.Condition(rpm=1500)
    history = cs.simulate(line, cs.Hold(0.2), cs.Condition(rpm=1500))
    for shown in (cs.steady(line, at), cs.tornado(line, at), history):
        assert len(repr(shown)) < 500
        assert "harbour-launch" in repr(shown)
    assert "status='finished'" in repr(history)
