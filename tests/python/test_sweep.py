"""Sweeps: the Dataset's contract, the same bits by every way, bad axes refused."""

import concurrent.futures
import multiprocessing
import signal
import subprocess
import sys
import time

import numpy as np
import pytest
import xarray as xr

import calmshaft as cs

LINE = cs.sample_line("harbour-launch").with_plate("plate-b")
AT = cs.Condition(800)
AXES = {"plate.stiffness": ([10.0, 16.0], "N*m/deg"), "rpm": [800, 1820], "misfiring": ["none", "1", "3@50%"]}
CONTRACT = [
    "mesh_torque_ripple",
    "mesh_torque_half_range",
    "mesh_torque_vibratory",
    "mesh_torque_mean",
    "mesh_torque_min",
    "mesh_torque_max",
    "mesh_separated_share",
    "mesh_coast_share",
    "unloaded_mesh_separated_share",
    "unloaded_mesh_impact_power",
    "mesh_torque_order",
    "plate_twist_min",
    "plate_twist_max",
    "plate_torque_ripple",
    "plate_friction_power",
    "cyclic_irregularity",
    "brake_torque",
    "mean_rpm",
    "period_cycles",
    "status",
    "overfuelled",
]


@pytest.fixture(scope="module")
def ds():
    return cs.sweep(LINE, AXES, AT)


def test_the_dataset_has_the_axes_in_order_with_units_and_all_measures(ds):
    assert ds.status.dims == ("plate_stiffness", "rpm", "misfiring")
    assert set(CONTRACT) <= set(ds.data_vars)
    assert ds.plate_stiffness.attrs["units"] == "N*m/deg"
    assert ds.mesh_torque_order.dims[-1] == "order"
    assert ds.status.attrs["flag_meanings"] == "periodic subharmonic aperiodic stalled failed"
    assert all("long_name" in ds[name].attrs for name in CONTRACT)
    assert ds.attrs["plate_stiffness_keeps"] == "stop torque"
    assert list(ds.misfiring.values) == ["none", "1", "3@50%"]


def test_a_point_of_a_sweep_is_the_steady_condition_bit_for_bit(ds):
    stiff = LINE.replace({"plate.stiffness": "16.0 N*m/deg"})
    run = cs.steady(stiff, cs.Condition(1820, misfiring=[1]))
    point = ds.sel(plate_stiffness=16.0, rpm=1820, misfiring="1")
    for name, value in run.measures.items():
        assert np.array_equal(float(point[name]), value, equal_nan=True), name


def test_threads_and_executors_give_the_same_bits(ds):
    with concurrent.futures.ThreadPoolExecutor(2) as pool:
        by_pool = cs.sweep(LINE, AXES, AT, executor=pool)
    spawn = multiprocessing.get_context("spawn")
    with concurrent.futures.ProcessPoolExecutor(1, mp_context=spawn) as pool:
        elsewhere = cs.sweep(LINE, AXES, AT, executor=pool)
    for other in (cs.sweep(LINE, AXES, AT, threads=1), by_pool, elsewhere):
        xr.testing.assert_identical(ds, other)


def test_keep_says_whether_travel_or_stop_torque_stays():
    torque = LINE.replace({"plate.stiffness": "32 N*m/deg"}).core.plate.drive
    travel = LINE.replace({"plate.stiffness": "32 N*m/deg"}, keep="travel").core.plate.drive
    before = LINE.core.plate.drive
    assert travel.stop_angle == pytest.approx(before.stop_angle)
    corner = before.stages[0].until
    assert torque.stop_angle - corner == pytest.approx((before.stop_angle - corner) / 2)


def test_a_weak_cylinder_lies_between_healthy_and_dead():
    ds = cs.sweep(LINE, {"misfiring": ["none", "3@50%", "3"]}, cs.Condition(1820))
    none, half, dead = ds.mesh_torque_vibratory.values
    assert none < half < dead


@pytest.mark.parametrize(
    ("axes", "words"),
    [
        ({"plate.stifness": ([8, 9], "N*m/deg")}, "plate.stiffness"),
        ({"rpm": []}, "at least one"),
        ({"rpm": [800, float("nan")]}, "finite"),
        ({"rpm": [800, 800]}, "twice"),
        ({"plate.stiffness": [8, 9]}, "unit"),
        ({"plate.stiffness": ([8, 9], "kg")}, "stiffness"),
        ({"misfiring": ["7"]}, "cylinders 1 to 4"),
        ({"rpm": [9000]}, "rpm"),
        ({"gear": ["forward"]}, "ahead"),
    ],
)
def test_an_axis_that_cannot_be_is_refused_by_name(axes, words):
    with pytest.raises(cs.LineError, match=words):
        cs.sweep(LINE, axes, AT)


def test_a_result_survives_netcdf(ds, tmp_path):
    ds.to_netcdf(tmp_path / "a.nc", engine="h5netcdf")
    with xr.open_dataset(tmp_path / "a.nc", engine="h5netcdf") as read:
        xr.testing.assert_allclose(ds.mesh_torque_vibratory, read.mesh_torque_vibratory)
        assert read.status.dtype == np.int8


INTERRUPTED = """
import numpy as np, calmshaft as cs
print("ready", flush=True)
try:
    cs.sweep(cs.sample_line("harbour-launch"), {"rpm": np.linspace(600, 2400, 4000)}, threads=1)
except cs.SweepInterrupted as stopped:
    status = stopped.partial.status.values
    print("partial", int((status >= 0).sum()), status.size, flush=True)
"""


def test_ctrl_c_keeps_the_finished_points():
    process = subprocess.Popen([sys.executable, "-c", INTERRUPTED], stdout=subprocess.PIPE, text=True)
    assert process.stdout.readline() == "ready\n"
    time.sleep(3)
    process.send_signal(signal.SIGINT)
    word, done, points = process.communicate(timeout=60)[0].split()
    assert word == "partial"
    assert 0 < int(done) < int(points)
