"""Pictures of signals show the numbers that they were given, say what they find, and stand long names."""

from dataclasses import replace
from itertools import pairwise
from types import SimpleNamespace

import numpy as np
import pytest
from matplotlib.colors import to_rgba

import calmshaft as cs
import synthetic_history as made
from calmshaft import plots
from calmshaft.plots.contact import state_shares, tooth_states
from calmshaft.plots.plate import corners, loop_work
from calmshaft.plots.style import COOL

LAUNCH = cs.sample_line("harbour-launch")
SOFT = LAUNCH.with_plate("plate-b")
IDLE = cs.Condition(800)
SHARE = 2e-3  # of the time: a state is taken to last from one node to the next, the library finds the crossing
HEAT = 5e-3  # of the loop's work: trapezoids between nodes, the library integrates within its steps
HOSTILE = r"_$\frac{ $ name & " + "long " * 40  # between dollars a formula that cannot be set


@pytest.fixture(scope="module")
def run():
    return cs.steady(LAUNCH, IDLE)


@pytest.fixture(scope="module")
def calm():
    return cs.steady(SOFT, IDLE)


@pytest.fixture(scope="module")
def neutral():
    return cs.steady(LAUNCH, cs.Condition(800, "neutral"))


@pytest.fixture(scope="module")
def up():
    return cs.signals.order_tracks(made.run_up(growth=1.0), "torque", "loaded mesh")


@pytest.fixture(scope="module")
def down():
    return cs.signals.order_tracks(made.run_up(2600, 600, growth=1.5), "torque", "loaded mesh")


@pytest.fixture(scope="module")
def hist():
    return SimpleNamespace(line=LAUNCH, signals=made.run_up(growth=1.0, seconds=6.0), reason="")


def drawn(figure):
    """Draws, so that a text that cannot be set is noticed."""
    figure.canvas.draw()
    return figure


def title(ax):
    return ax.get_title(loc="left").replace("\n", " ")


def test_order_tracks_draw_the_strongest_orders_and_the_vibratory_torque(up):
    ax = plots.order_tracks(up)
    drawn(ax.figure)
    assert [text.get_text() for text in ax.texts] == ["order 0.5", "order 2", "order 4", "order 12", "vibratory"]
    assert len(ax.lines) == 5
    assert ax.lines[1].get_ydata() == pytest.approx(up.amplitude.sel(order=2).values)
    assert ax.lines[4].get_ydata() == pytest.approx(up.vibratory.values)
    assert "rpm" in ax.get_xlabel()
    assert ax.get_ylabel() == "amplitude of torque, loaded mesh [N m]"
    assert len({str(line.get_linestyle()) + str(line._unscaled_dash_pattern) for line in ax.lines[:4]}) >= 3


def test_the_title_tells_where_the_strongest_order_peaks(up, down):
    top = float(up.amplitude.sel(order=2).max())
    assert title(plots.order_tracks(up)) == f"order 2 is the strongest: {top:.0f} N m at {2588:,} rpm"
    both = title(plots.order_tracks({"up": up, "down": down}))
    assert f"up {top:.0f} N m" in both
    assert f"and down {float(down.amplitude.sel(order=2).max()):.0f} N m" in both


def test_both_directions_share_colours_and_differ_in_line_style(up, down):
    ax = plots.order_tracks({"up": up, "down": down}, orders=[2.0, 4.0])
    order_2, order_4, whole, down_2 = ax.lines[:4]
    assert order_2.get_color() == down_2.get_color() != order_4.get_color()
    assert order_2.get_linestyle() != down_2.get_linestyle()
    assert whole.get_linewidth() > order_2.get_linewidth()
    assert [text.get_text() for text in ax.get_legend().get_texts()] == ["up", "down"]


def test_names_of_tracks_do_not_stand_on_each_other(up):
    ax = plots.order_tracks(up)
    drawn(ax.figure)
    boxes = sorted((text.get_window_extent() for text in ax.texts), key=lambda box: box.y0)
    assert all(upper.y0 >= lower.y1 - 2.0 for lower, upper in pairwise(boxes))


def test_an_order_that_a_track_lacks_is_refused(up):
    with pytest.raises(ValueError, match=r"order 2\.25 is not in these tracks"):
        plots.order_tracks(up, orders=[2.25])


def test_a_track_of_twist_is_shown_in_degrees():
    track = cs.signals.order_tracks(made.run_up(), "twist", "plate", orders=[2.0])
    ax = plots.order_tracks(track)
    assert "[deg]" in ax.get_ylabel()
    assert ax.lines[0].get_ydata() == pytest.approx(np.degrees(track.amplitude.values[:, 0]))


def test_the_area_of_the_plate_loop_is_the_heat_that_the_library_measures(calm):
    twist, torque = (calm.signals[name].sel(coupling="plate").values for name in ("twist", "torque"))
    work = loop_work(twist, torque)
    seconds = float(np.ptp(calm.signals.time.values))
    assert work / seconds == pytest.approx(calm.measures["plate_heat_power"], rel=HEAT)
    ax = plots.torque_angle_loop(calm)
    assert f"loop area: {work / calm.period_cycles:.3g} J a cycle" in ax.texts[0].get_text()


def test_the_area_of_an_ellipse_is_pi_times_its_half_axes():
    angle = np.linspace(0, 2 * np.pi, 4001)
    assert loop_work(0.1 * np.cos(angle), -30 * np.sin(angle)) == pytest.approx(np.pi * 0.1 * 30, rel=1e-5)


def test_the_loop_is_drawn_above_the_curve_with_its_corners(calm):
    ax = plots.torque_angle_loop(calm)
    marked = next(line for line in ax.lines if line.get_label() == "corner")
    inside = [np.degrees(angle) for angle in corners(SOFT.core.plate) if np.degrees(angle) > -1]
    assert marked.get_xdata() == pytest.approx(inside)
    loop = next(line for line in ax.lines if line.get_label() == "this run")
    assert loop.get_xdata().max() == pytest.approx(np.degrees(calm.measures["plate_twist_max"]), rel=1e-4)
    assert ax.get_xlim()[0] < loop.get_xdata().min()
    assert ax.get_xlim()[1] > loop.get_xdata().max()
    assert "stop at 16 deg" in title(ax)
    assert "deg" in ax.get_xlabel()


def test_a_stop_is_marked_where_the_loop_comes_near(run):
    """A plate of half the travel, so that its stop stands in the frame."""
    short = LAUNCH.replace({"plate.stop_angle": "4 deg", "plate.stages[0].until": "4 deg"})
    ax = plots.torque_angle_loop(cs.steady(short, IDLE))
    assert "stop" in [text.get_text() for text in ax.get_legend().get_texts()]
    assert "reaches its stop" in title(ax)
    assert "stop" not in [text.get_text() for text in plots.torque_angle_loop(run).get_legend().get_texts()]


def test_a_motion_that_never_repeats_shows_all_its_recorded_cycles(run):
    assert run.status == "aperiodic"
    ax = plots.torque_angle_loop(run)
    assert any(line.get_label() == "this run, last 8 cycles" for line in ax.lines)
    assert "never repeats exactly" in title(plots.contact_timeline(run))


def test_a_rigid_drive_has_no_loop():
    rigid = cs.steady(LAUNCH.with_plate({"kind": "rigid"}), IDLE)
    with pytest.raises(ValueError, match="without a plate"):
        plots.torque_angle_loop(rigid)


def test_shares_of_contact_are_those_that_the_library_measures(run, calm, neutral):
    for one in (run, calm):
        states = tooth_states(one.signals.torque.sel(coupling="loaded mesh").values)
        shares = state_shares(states, one.signals.time.values)
        for state, name in (("drive", "drive"), ("apart", "separated"), ("coast", "coast")):
            tolerance = SHARE if one.status == "periodic" else 0.02  # the measure has seen more cycles
            assert shares[state] == pytest.approx(one.measures[f"mesh_{name}_share"], abs=tolerance)
    states = tooth_states(neutral.signals.torque.sel(coupling="free pair").values)
    apart = state_shares(states, neutral.signals.time.values)["apart"]
    assert apart == pytest.approx(neutral.measures["unloaded_mesh_separated_share"], abs=0.02)


def test_a_contact_timeline_has_a_row_for_each_mesh_and_fills_the_cycle(run, neutral):
    ax = plots.contact_timeline(run)
    assert [label.get_text() for label in ax.get_yticklabels()] == ["free pair", "loaded mesh"]
    assert ax.get_xlim() == (0.0, 720.0)
    loaded = [bars for bars in ax.collections if 1.0 <= bars.get_paths()[0].get_extents().y0 < 2.0]
    length = sum(path.get_extents().width for bars in loaded for path in bars.get_paths())
    assert length == pytest.approx(720.0)
    assert [label.get_text() for label in plots.contact_timeline(neutral).get_yticklabels()] == ["free pair"]


def test_bars_stand_where_the_torque_has_that_sign(calm):
    ax = plots.contact_timeline(calm)
    drive = [bars for bars in ax.collections if bars.get_facecolor()[:1].tolist() == [list(to_rgba(COOL))]]
    spans = [path.get_extents() for path in drive[0].get_paths()]  # lowest row: the free pair
    torque = calm.signals.torque.sel(coupling="free pair").values[-calm.steps_per_cycle - 1 :]
    angle = np.linspace(0, 720, torque.size)
    inside = np.zeros(torque.size, dtype=bool)
    for span in spans:
        inside |= (angle >= span.x0 - 1e-6) & (angle < span.x1 - 1e-6)
    assert (inside[:-1] == (torque[:-1] > 0)).all()


def test_a_history_of_contact_runs_over_time(hist):
    ax = plots.contact_timeline(hist)
    assert ax.get_xlabel() == "time [s]"
    assert ax.get_xlim()[1] == pytest.approx(6.0, abs=1e-3)


def test_a_line_without_gears_in_mesh_has_no_timeline(run):
    alone = SimpleNamespace(line=LAUNCH, signals=run.signals.sel(coupling=["plate"]))
    with pytest.raises(ValueError, match="no gear pair"):
        plots.contact_timeline(alone)


def test_a_run_without_signals_is_refused_with_its_reason(run):
    failed = replace(run, signals=None, status="stalled", reason="no fuelling carries the load")
    for draw in (plots.contact_timeline, plots.torque_angle_loop, plots.history):
        with pytest.raises(ValueError, match="no fuelling carries the load"):
            draw(failed)


def test_a_history_shows_speed_torque_and_twist_with_units_and_extremes(hist):
    figure = drawn(plots.history(hist))
    speed, torque, twist = figure.axes
    assert [ax.get_ylabel() for ax in figure.axes] == ["speed [rpm]", "torque, loaded mesh [N m]", "twist, plate [deg]"]
    assert twist.get_xlabel() == "time [s]"
    assert "from 604 to" in title(speed)
    values = hist.signals.torque.sel(coupling="loaded mesh").values
    assert f"to {values.max():.0f} N m" in title(torque)
    band = torque.collections[0].get_paths()[0].get_extents()
    assert (band.y0, band.y1) == pytest.approx((values.min(), values.max()))
    degrees = np.degrees(hist.signals.twist.sel(coupling="plate").values)
    assert f"to {degrees.max():.3g} deg" in title(twist)


def test_the_mean_in_a_history_is_that_of_whole_engine_cycles(hist):
    """600 to 2600 rpm: the mean by the square of the speed, without the wiggle of bins that cut cycles."""
    torque = drawn(plots.history(hist)).axes[1]
    time, mean = torque.lines[0].get_data()
    expected = 150 * ((600 + 2000 * time / 6) / 2600) ** 2
    assert mean[1:-1] == pytest.approx(expected[1:-1], abs=0.5)


def test_a_stop_that_is_reached_is_drawn_and_told(hist):
    twist = hist.signals.twist * 10
    struck = SimpleNamespace(line=LAUNCH, signals=hist.signals.assign(twist=twist), reason="the crank stands still")
    figure = plots.history(struck)
    assert "on the drive stop first at" in title(figure.axes[2])
    assert "stop, drive" in [text.get_text() for text in figure.axes[2].texts]
    assert "ended early: the crank stands still" in title(figure.axes[0])


def test_a_measured_history_without_a_line_is_drawn_without_stops(hist):
    measured = SimpleNamespace(signals=hist.signals)
    assert "stop" not in title(plots.history(measured).axes[2])
    assert [label.get_text() for label in plots.contact_timeline(measured).get_yticklabels()] == ["loaded mesh"]


def test_a_history_can_be_drawn_on_axes_given(hist):
    figure = plots.history(hist)
    assert plots.history(hist, figure.axes) is figure


def test_order_bars_reach_to_order_24_with_labels_that_do_not_run_together(run):
    ax = plots.order_bars(run, up_to=24)
    drawn(ax.figure)
    assert [patch.get_height() for patch in ax.patches] == pytest.approx(np.abs(run.orders))
    boxes = [label.get_window_extent() for label in ax.get_xticklabels()]
    assert len(boxes) == 24
    assert all(left.x1 < right.x0 for left, right in pairwise(boxes))


def test_hostile_names_and_titles_are_drawn_as_they_stand(run, up, hist):
    named = plots.order_tracks({HOSTILE: up, "down": up})
    assert len(named.get_legend().get_texts()) == 2
    drawn(named.figure)
    drawn(plots.order_bars({HOSTILE: run, "b": run}).figure)
    assert len(drawn(plots.torque_trace({HOSTILE: run}).figure).axes[0].get_legend().get_texts()) == 1
    drawn(plots.before_and_after((HOSTILE, run), ("b", run)))
    document = LAUNCH.document
    document["gearbox"]["unloaded"][0]["name"] = HOSTILE
    strange = cs.steady(cs.line_from_document(document), IDLE)
    assert len(drawn(plots.contact_timeline(strange).figure).axes[0].get_yticklabels()) == 2
    drawn(plots.history(SimpleNamespace(line=LAUNCH, signals=hist.signals, reason=HOSTILE)))
