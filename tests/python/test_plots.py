"""Pictures carry units, show what does not repeat, and leave matplotlib's global state alone."""

import subprocess
import sys

import matplotlib.pyplot
import numpy as np
import pytest

import calmshaft as cs
from calmshaft import plots

LINE = cs.sample_line("harbour-launch")
IDLE = cs.Condition(800)


@pytest.fixture(scope="module")
def ds():
    axes = {"plate.stiffness": ([10, 45], "N*m/deg"), "rpm": [700, 800, 2400], "misfiring": ["none", "3"]}
    return cs.sweep(LINE, axes, IDLE)


@pytest.fixture(scope="module")
def run():
    return cs.steady(LINE, IDLE)


def test_a_ripple_map_has_units_and_the_idle_speed(ds):
    ax = plots.ripple_map(ds.sel(misfiring="none"))
    assert "rpm" in ax.get_xlabel()
    assert "N m/deg" in ax.get_ylabel()
    assert any(text.get_text() == "idle" for text in ax.texts)


def test_points_that_do_not_repeat_are_marked(ds):
    ax = plots.ripple_map(ds.sel(misfiring="none"))
    marked = sum(line.get_xdata().size for line in ax.lines if line.get_marker() == ".")
    assert marked == int((ds.sel(misfiring="none").status == 2).sum()) > 0


def test_a_map_needs_two_axes(ds):
    with pytest.raises(ValueError, match="two axes"):
        plots.ripple_map(ds)


def test_a_trace_shows_the_signals_and_a_zero_line(run):
    ax = plots.torque_trace(run)
    angle, torque = ax.lines[-1].get_data()
    assert angle[-1] == 720
    assert np.nanmax(torque) == run.signals.torque.sel(coupling="loaded mesh").values[-run.steps_per_cycle - 1 :].max()
    assert "N m" in ax.get_ylabel()


def test_order_bars_show_the_orders_of_the_run(run):
    ax = plots.order_bars(run)
    heights = [patch.get_height() for patch in ax.patches]
    assert heights == pytest.approx(np.abs(run.orders[: len(heights)]))


def test_a_plate_curve_ends_at_the_stops(run):
    ax = plots.plate_curve(LINE, run=run)
    assert "deg" in ax.get_xlabel()
    assert "N m" in ax.get_ylabel()
    with pytest.raises(ValueError, match="without a plate"):
        plots.plate_curve(LINE.with_plate({"kind": "rigid"}))


def test_no_figure_is_left_in_the_global_state(ds, run):
    plots.ripple_maps(ds)
    plots.before_and_after(("A", run), ("again", run))
    assert matplotlib.pyplot.get_fignums() == []


def test_importing_the_package_does_not_load_matplotlib():
    code = "import sys, calmshaft; sys.exit('matplotlib' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def test_what_cannot_be_drawn_is_refused_in_words(run):
    neutral = cs.steady(LINE, cs.Condition(800, gear="neutral"))
    with pytest.raises(cs.LineError, match="loaded mesh, which the run lacks"):
        plots.before_and_after(("engaged", run), ("neutral", neutral))
    with pytest.raises(cs.LineError, match="did you mean plate"):
        plots.torque_trace(run, coupling="plat")
    with pytest.raises(cs.LineError, match="orders 0"):
        plots.order_bars(run, up_to=30)
