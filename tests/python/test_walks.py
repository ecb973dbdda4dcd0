"""Sweeps up and down: neighbours start from each other, two states at one speed are found, one state is one."""

import concurrent.futures

import numpy as np
import pytest
import xarray as xr

import calmshaft as cs
from calmshaft.designs import design_of
from calmshaft.walks import TOLERANCE

SOFT = cs.sample_line("harbour-launch").with_plate("plate-c")
NEUTRAL = cs.Condition(540, "neutral")
AXES = {"rpm": [500, 520, 540, 560, 580, 600, 620], "misfiring": ["none", "1"]}


@pytest.fixture(scope="module")
def both():
    return cs.sweep(SOFT, AXES, NEUTRAL, direction="both")


def test_up_and_down_find_both_states_of_a_plate_that_stiffens(both):
    """Near its resonance a spring that stiffens has a high and a low state at one speed; a rise keeps the high one.

    Known of the swing of a mass on such a spring (closed form of its backbone, value from memory); that both states
    are real here is asked of the time-domain engine below.
    """
    ripple = both.plate_torque_ripple_mean.sel(misfiring="none")
    where = ripple.rpm.isin([540, 560, 580])
    assert both.jumps.sel(misfiring="none")[where].all()
    assert np.all(ripple.sel(direction="up")[where] > 2 * ripple.sel(direction="down")[where])
    assert both.status.dims == ("misfiring", "direction", "rpm")
    assert both.jumps.dims == ("misfiring", "rpm")


@pytest.mark.parametrize(("first", "rate", "direction"), [(520, 10, "up"), (700, 40, "down")])
def test_both_states_are_those_that_a_run_through_the_speeds_ends_in(both, first, rate, direction):
    """The second way: Dormand-Prince in time, with the governor; seen within 2 % of ripple, as it hunts."""
    run = {"up": cs.RunUp, "down": cs.RunDown}[direction](first, 560, rate=rate, hold=3)
    history = cs.simulate(SOFT, run, cs.Condition(first, "neutral")).signals
    plate = history.torque.isel(coupling=0).where(history.time > float(history.time[-1]) - 1.0, drop=True)
    asked = float(both.plate_torque_ripple_mean.sel(misfiring="none", rpm=560, direction=direction))
    assert float(plate.max() - plate.min()) == pytest.approx(asked, rel=0.04)


def test_where_there_is_one_state_every_way_leads_to_it():
    """Loaded, teeth closed, the plate within one stage: no two ways differ by two tolerances of the search."""
    line = cs.sample_line("harbour-launch").with_plate("plate-b").replace({"plate.hysteresis_full_width": "0 N*m"})
    axes = {"rpm": [1900, 2000, 2100, 2200]}
    ways = cs.sweep(line, axes, direction="both")
    cold = cs.sweep(line, axes)
    assert not ways.jumps.any()
    assert not cold.mesh_separated_share.any()
    for name in ("mesh_torque_ripple", "mesh_torque_min", "plate_torque_ripple"):
        apart = abs(ways[name] - cold[name])
        assert float(apart.max()) < 2 * TOLERANCE * line.core.engine.rated_torque, name


def test_the_first_point_of_a_walk_is_the_cold_one_and_one_way_is_half_of_both(both):
    cold = cs.sweep(SOFT, {"rpm": [500, 620]}, NEUTRAL)
    for direction, rpm in (("up", 500), ("down", 620)):
        one = both.plate_torque_ripple_mean.sel(misfiring="none", direction=direction)
        assert float(one.sel(rpm=rpm)) == float(cold.plate_torque_ripple_mean.sel(rpm=rpm))
        alone = cs.sweep(SOFT, {"rpm": AXES["rpm"]}, NEUTRAL, direction=direction)
        assert alone.plate_torque_ripple_mean.dims == ("rpm",)
        assert np.array_equal(alone.plate_torque_ripple_mean, one)
        assert alone.attrs["start"] == f"each point from the end of its neighbour along rpm, {direction}"


def test_threads_chunks_and_executors_change_no_bit_of_a_walk(both, tmp_path, monkeypatch):
    monkeypatch.setattr("calmshaft.sweep_runs.SMALLEST_CHUNK", 5)  # raised to whole columns, up and down: 14 points
    with cs.sweep(SOFT, AXES, NEUTRAL, direction="both", out=tmp_path / "ways.nc") as read:
        xr.testing.assert_identical(both, read.load())
    with concurrent.futures.ThreadPoolExecutor(2) as pool:
        xr.testing.assert_identical(both, cs.sweep(SOFT, AXES, NEUTRAL, direction="both", executor=pool))
    xr.testing.assert_identical(both, cs.sweep(SOFT, AXES, NEUTRAL, direction="both", threads=1))


def test_a_walk_goes_along_any_numbers():
    axes = {"plate.stiffness": ([12.0, 16.0], "N*m/deg"), "rpm": [800, 900]}
    design = design_of(SOFT, axes, direction="up", along="plate.stiffness")
    assert design.dims == ("rpm", "plate_stiffness")
    ds = cs.sweep(SOFT, axes, direction="down", along="plate.stiffness")
    assert np.isfinite(ds.plate_torque_ripple_mean).all()


@pytest.mark.parametrize(
    ("axes", "how", "words"),
    [
        ({"rpm": [800, 900]}, {"direction": "sideways"}, "up, down, both"),
        ({"rpm": [800, 900]}, {"along": "plate.stiffness"}, "write one of rpm"),
        ({"rpm": [900, 800]}, {}, "sort the values"),
        ({"rpm": [800], "misfiring": ["none", "1"]}, {"along": "misfiring"}, "rising numbers"),
        ({"pair": cs.zipped({"rpm": [800, 900], "gear": ["ahead", "neutral"]})}, {}, "no axis by itself"),
    ],
)
def test_a_walk_that_cannot_be_is_refused(axes, how, words):
    with pytest.raises(cs.LineError, match=words):
        cs.sweep(SOFT, axes, **{"direction": "up", **how})
