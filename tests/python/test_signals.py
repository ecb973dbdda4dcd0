"""Orders that were put into a signal come out of it, on a steady run and along a run-up."""

import numpy as np
import pytest

import calmshaft as cs
import synthetic_history as made

LAUNCH = cs.sample_line("harbour-launch").with_plate("plate-b")
EXACT = 1e-9  # whole cycles on even steps: rounding only
BINS = 3e-3  # of the largest order: the library sums steps into bins, where content above order 24 folds back a little
TRACK = 0.01  # of an order's amplitude: reading between samples, and the speed changing within a window
MESH = ("torque", "loaded mesh")


@pytest.fixture(scope="module")
def run():
    return cs.steady(LAUNCH, cs.Condition(1820, misfiring=[3]))


@pytest.fixture(scope="module")
def track():
    return cs.signals.order_tracks(made.run_up(), *MESH)


def steady_record(torque, cycles=1, nodes=720, turns=2, begin=0.0):
    angle = begin + np.arange(cycles * nodes + 1) * turns * 2 * np.pi / nodes
    ds = made.signals(angle / 80.0, angle, np.full_like(angle, 80.0), torque(angle))
    return ds.swap_dims(time="crank_angle").reset_coords("time")


def test_orders_of_a_steady_run_are_those_that_the_library_measures(run):
    assert run.status == "periodic"
    found = cs.signals.orders(run, *MESH)
    assert found.order.values.tolist() == [k / 2 for k in range(1, 49)]
    turned = found.amplitude.values * np.exp(1j * found.phase.values)
    assert np.abs(turned - run.orders).max() < BINS * np.abs(run.orders).max()
    assert float(found.vibratory) == pytest.approx(run.measures["mesh_torque_vibratory"], rel=1e-3)
    assert float(found["mean"]) == pytest.approx(run.measures["mesh_torque_mean"], rel=1e-3)
    assert found.amplitude.attrs["units"] == "N m"


@pytest.mark.parametrize("begin", [0.0, 1.3])
def test_orders_put_into_a_cycle_come_out_with_amplitude_and_phase(begin):
    found = cs.signals.orders(steady_record(lambda angle: made.torque_at(angle, 800.0), 3, begin=begin), *MESH)
    for order, (amplitude, phase) in made.ORDERS.items():
        assert float(found.amplitude.sel(order=order)) == pytest.approx(amplitude, rel=EXACT)
        assert float(found.phase.sel(order=order)) == pytest.approx(phase, abs=EXACT)
    rest = found.amplitude.sel(order=[order for order in found.order.values if order not in made.ORDERS])
    assert rest.values == pytest.approx(0.0, abs=EXACT * 40)


def test_every_column_has_orders_in_its_own_unit(run):
    speed = cs.signals.orders(run, "speed", "crank and flywheel")
    assert speed.amplitude.attrs["units"] == "rad/s"
    assert float(speed["mean"]) == pytest.approx(1820 * made.RPM, rel=2e-3)
    assert cs.signals.orders(run, "twist", "plate").amplitude.attrs["units"] == "rad"


def test_a_two_stroke_has_whole_orders_only():
    record = steady_record(lambda angle: 7 * np.cos(3 * angle), turns=1)
    found = cs.signals.orders(record, *MESH, turns_per_cycle=1)
    assert found.order.values.tolist() == list(range(1, 25))
    assert float(found.amplitude.sel(order=3)) == pytest.approx(7.0, rel=EXACT)
    with pytest.raises(ValueError, match="turns_per_cycle=1 for a two-stroke"):
        cs.signals.orders(record, *MESH)


def test_a_history_of_a_two_stroke_line_is_read_by_its_turns():
    tracks = cs.signals.order_tracks(made.run_up(orders={3.0: (7.0, 0.0)}), *MESH, turns_per_cycle=1)
    assert tracks.order.values.tolist() == list(range(1, 25))
    assert tracks.amplitude.sel(order=3).values == pytest.approx(7.0, rel=TRACK)


@pytest.mark.parametrize("order", list(made.ORDERS))
def test_a_run_up_gives_back_each_order_that_was_put_in(track, order):
    amplitude, phase = made.ORDERS[order]
    assert track.amplitude.sel(order=order).values == pytest.approx(amplitude, rel=TRACK)
    assert track.phase.sel(order=order).values == pytest.approx(phase, abs=TRACK)


def test_orders_that_were_not_put_in_stay_below_a_tenth_of_a_newton_metre(track):
    """The mean drifts by half a N m a cycle; without taking that out order 0.5 would be off by 0.2 N m."""
    rest = [order for order in track.order.values if order not in made.ORDERS]
    assert track.amplitude.sel(order=rest).values.max() < 0.1


def test_vibratory_torque_along_the_run_up_is_the_half_range_of_the_orders_up_to_12(track):
    angle = np.linspace(0, 4 * np.pi, 20001)
    upto12 = {order: wave for order, wave in made.ORDERS.items() if order <= 12}
    expected = np.ptp(made.torque_at(angle, 0.0, upto12)) / 2
    assert track.vibratory.values == pytest.approx(expected, rel=TRACK)


def test_windows_carry_their_mean_speed_time_and_mean_torque(track):
    rpm, time = track.mean_rpm.values, track.time.values
    assert rpm == pytest.approx(600 + 100 * time, rel=1e-3)
    assert rpm[0] < 640
    assert rpm[-1] > 2580
    assert track["mean"].values == pytest.approx(150 * (rpm / 2600) ** 2, rel=TRACK)


def test_an_order_that_grows_is_read_as_in_the_middle_of_the_window():
    track = cs.signals.order_tracks(made.run_up(growth=2.0), *MESH, orders=[2.0])
    expected = 40 * (1 + 2 * (track.mean_rpm.values - 600) / 1000)
    assert track.amplitude.sel(order=2).values == pytest.approx(expected, rel=TRACK)


def test_at_constant_speed_tracks_and_orders_agree(run):
    """The same run as a history: even crank angles are nearly even times, and are taken as samples."""
    signals = run.signals
    step = float(np.diff(signals.time).max())
    cycle = signals.time.values[-1]
    time = np.arange(0.0, 6 * cycle, step)
    turned = np.interp(time % cycle, signals.time, signals.crank_angle) + 4 * np.pi * (time // cycle)
    torque = np.interp(time % cycle, signals.time, signals.torque.sel(coupling="loaded mesh"))
    history = made.signals(time, turned, np.full_like(time, 80.0), torque)
    track, steady = cs.signals.order_tracks(history, *MESH), cs.signals.orders(run, *MESH)
    for window in range(track.sizes["window"]):
        assert track.amplitude[window].values == pytest.approx(
            steady.amplitude.values, abs=1e-3 * steady.amplitude.values.max()
        )
    assert track.vibratory.values == pytest.approx(float(steady.vibratory), rel=2e-3)


def test_what_is_not_locked_to_the_crank_leaks_as_documented():
    """Order 2.1 beside order 2, windows of 4 cycles = 8 turns, mean over phases: |sin(0.8 pi)/(0.8 pi)| = 0.234."""
    track = cs.signals.order_tracks(made.run_up(1500, 1500, 8.0, orders={2.1: (10.0, 0.0)}), *MESH, orders=[2.0])
    leaked = abs(np.sin(np.pi * 0.1 * 8) / (np.pi * 0.1 * 8))
    assert track.amplitude.values.mean() / 10 == pytest.approx(leaked, rel=0.05)


def test_coarse_sampling_leaves_out_the_orders_that_it_cannot_carry():
    """2 ms at 1500 rpm are 20 samples a turn: five a wave carry order 4, and no vibratory torque."""
    history = made.run_up(1500, 1500, 8.0, step=2e-3, orders={2.0: (10.0, 0.0)})
    track = cs.signals.order_tracks(history, *MESH)
    assert track.order.values.max() == 4.0
    assert track.amplitude.sel(order=2).values == pytest.approx(10.0, rel=TRACK)
    assert "vibratory" not in track
    with pytest.raises(ValueError, match="carries orders up to 4"):
        cs.signals.order_tracks(history, *MESH, orders=[6.0])


def test_a_column_that_is_not_there_is_answered_with_near_names(run):
    with pytest.raises(ValueError, match="write loaded mesh"):
        cs.signals.orders(run, "torque", "loaded mseh")
    with pytest.raises(ValueError, match="write torque"):
        cs.signals.orders(run, "torqe", "loaded mesh")


def test_records_that_cannot_be_read_are_refused_with_what_to_do(run):
    up = made.run_up(seconds=1.0)
    back = up.assign_coords(crank_angle=up.crank_angle * np.where(up.time > 0.5, -1, 1))
    hole = up.assign(torque=up.torque.where(up.time < 0.7))
    for history, words in ((back, "turns back in its crank angle at 0.5"), (hole, "not a number at 0.7")):
        with pytest.raises(ValueError, match=words):
            cs.signals.order_tracks(history, *MESH)
    with pytest.raises(ValueError, match="whole engine cycles, the window needs 40"):
        cs.signals.order_tracks(up, *MESH, window_cycles=40)
    with pytest.raises(ValueError, match="whole number"):
        cs.signals.order_tracks(up, *MESH, window_cycles=0)
    with pytest.raises(ValueError, match=r"order 2\.2 is none of"):
        cs.signals.order_tracks(up, *MESH, orders=[2.2])
    with pytest.raises(ValueError, match="use orders"):
        cs.signals.order_tracks(run, *MESH)
    with pytest.raises(ValueError, match="use order_tracks"):
        cs.signals.orders(up, *MESH)
    with pytest.raises(ValueError, match="whole cycles"):
        cs.signals.orders(run.signals.isel(crank_angle=slice(0, 1000)), *MESH)
    with pytest.raises(ValueError, match="too few for order 24"):
        cs.signals.orders(steady_record(np.cos, nodes=90), *MESH)
    with pytest.raises(ValueError, match="turns_per_cycle is 3"):
        cs.signals.orders(run, *MESH, turns_per_cycle=3)
