"""Ctrl-C in the middle of a chunk: its finished points are kept, and a resumed sweep is the clean one bit for bit."""

import concurrent.futures

import numpy as np
import pytest
import xarray as xr

import calmshaft as cs
from calmshaft import sweep_runs
from calmshaft.results import blank_table
from calmshaft.storage import parts_of
from test_sweep_file import AXES, LINE, clean, counted  # noqa: F401 - two fixtures

# ruff: noqa: F811 - pytest finds a fixture by the name of an argument


@pytest.fixture
def cut(monkeypatch):
    """A function: Ctrl-C once so many points of the nth chunk are finished; what was raised."""

    def sweep(axes, out, nth, points, **how):
        run, calls = sweep_runs.run_points, []

        def cutting(asked, *rest):
            table, _ = run(asked, *rest)
            calls.append(len(asked[1]))
            if len(calls) < nth:
                return table, False
            blank = blank_table(calls[-1] - points)
            for name, values in table.items():
                values[points:] = blank[name]
            return table, True

        with monkeypatch.context() as patch:
            patch.setattr(sweep_runs, "run_points", cutting)
            with pytest.raises(cs.SweepInterrupted) as caught:
                cs.sweep(LINE, axes, out=out, **how)
        return caught.value

    return sweep


def test_ctrl_c_keeps_the_finished_points_of_the_running_chunk_too(cut, clean, counted, tmp_path):
    stopped = cut(AXES, tmp_path / "ripple.nc", nth=2, points=20)
    assert "84 of 200 points are kept" in str(stopped)
    counted.clear()
    with cs.sweep(LINE, AXES, out=tmp_path / "ripple.nc", resume=True) as ds:
        xr.testing.assert_identical(ds.load(), clean)
    assert counted == [44, 64, 8]
    assert [path.name for path in tmp_path.iterdir()] == ["ripple.nc"]


def test_a_chunk_that_is_cut_short_again_and_again_is_finished_in_the_end(cut, clean, counted, tmp_path):
    cut(AXES, tmp_path / "ripple.nc", nth=1, points=20)
    assert "30 of 200" in str(cut(AXES, tmp_path / "ripple.nc", nth=1, points=10, resume=True))
    counted.clear()
    with concurrent.futures.ThreadPoolExecutor(2) as pool:
        ds = cs.sweep(LINE, AXES, out=tmp_path / "ripple.nc", executor=pool, resume=True)
    xr.testing.assert_identical(ds.load(), clean)
    ds.close()
    assert sorted(counted) == [8, 34, 64, 64]


def test_what_was_interrupted_holds_the_dataset_of_what_is_kept(cut, clean, tmp_path):
    partial = cut(AXES, tmp_path / "ripple.nc", nth=2, points=20).partial
    reached = partial.status >= 0
    assert int(reached.sum()) == 84
    assert (partial.mesh_torque_mean.isnull() == ~reached).all()
    xr.testing.assert_equal(partial.where(reached), clean.where(reached))
    assert parts_of(tmp_path / "ripple.nc").exists()


def test_ctrl_c_before_any_point_leaves_an_empty_dataset_and_no_folder(cut, tmp_path):
    stopped = cut(AXES, tmp_path / "ripple.nc", nth=1, points=0)
    assert "no point is kept yet" in str(stopped)
    assert (stopped.partial.status == -1).all()
    assert not list(tmp_path.iterdir())


def test_of_a_walk_whole_columns_are_kept(cut, counted, tmp_path):
    axes = {"plate.stiffness": ([10.0, 16.0, 30.0], "N*m/deg"), "rpm": np.linspace(1500, 2400, 12).tolist()}
    clean = cs.sweep(LINE, axes, direction="both")
    stopped = cut(axes, tmp_path / "ripple.nc", nth=1, points=30, direction="both")
    assert "24 of 72 points are kept" in str(stopped)  # up and down through 12 speeds
    assert stopped.partial.jumps.dims == ("plate_stiffness", "rpm")
    counted.clear()
    with cs.sweep(LINE, axes, out=tmp_path / "ripple.nc", direction="both", resume=True) as ds:
        xr.testing.assert_identical(ds.load(), clean)
    assert counted == [48]
