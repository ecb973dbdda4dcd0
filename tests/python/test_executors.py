"""Sweeps on executors: few jobs at a time, failures tried again, Ctrl-C, and workers that are killed."""

import concurrent.futures
import multiprocessing
import os
import signal
import threading
import time

import numpy as np
import pytest
import xarray as xr

import calmshaft as cs
from calmshaft.executors import on_executor

LINE = cs.sample_line("harbour-launch").with_plate("plate-b")
AXES = {"rpm": np.linspace(1200, 2400, 150).tolist(), "misfiring": ["none", "3"]}  # 300 points in 5 chunks


@pytest.fixture(scope="module")
def local():
    return cs.sweep(LINE, AXES)


class Counting(concurrent.futures.ThreadPoolExecutor):
    """Two threads that count the jobs that were handed over and are not yet taken back."""

    def __init__(self):
        super().__init__(2)
        self.flying, self.most = 0, 0

    def submit(self, *job):
        self.flying += 1
        self.most = max(self.most, self.flying)
        return super().submit(*job)


def test_jobs_are_handed_over_a_few_at_a_time():
    asked = []

    def jobs():
        for number in range(500):
            asked.append(number)
            yield number, (number,)

    with Counting() as pool:
        for done, (number, squared) in enumerate(on_executor(pool, lambda x: x * x, jobs(), in_flight=8)):
            pool.flying -= 1
            assert squared == number * number
            assert len(asked) <= done + 9
        assert pool.most <= 9
    assert asked == list(range(500))


def test_a_job_that_fails_is_tried_three_times_and_then_tells():
    tries = []

    def fails(times):
        tries.append(times)
        if len(tries) <= times:
            raise RuntimeError("worker lost")
        return "done"

    with concurrent.futures.ThreadPoolExecutor(1) as pool:
        assert list(on_executor(pool, fails, [(0, (2,))])) == [(0, "done")]
        tries.clear()
        with pytest.raises(RuntimeError, match="worker lost"):
            list(on_executor(pool, fails, [(0, (3,))]))
        assert len(tries) == 3


def test_a_fault_of_the_description_is_told_at_once():
    tries = []

    def wrong():
        tries.append(1)
        raise cs.LineError("engine.bore is wrong")

    with concurrent.futures.ThreadPoolExecutor(1) as pool, pytest.raises(cs.LineError, match="bore"):
        list(on_executor(pool, wrong, [(0, ())]))
    assert len(tries) == 1


def test_ctrl_c_cancels_what_waits_and_keeps_what_is_finished(local):
    futures = []

    class OneThenCtrlC(concurrent.futures.ThreadPoolExecutor):
        def submit(self, *job):
            future = super().submit(*job)
            futures.append(future)
            if len(futures) == 1:
                future.add_done_callback(lambda _: threading.Timer(0.02, os.kill, (os.getpid(), signal.SIGINT)).start())
            return future

    with OneThenCtrlC(1) as pool, pytest.raises(cs.SweepInterrupted) as stopped:
        cs.sweep(LINE, AXES, executor=pool)
    assert any(future.cancelled() for future in futures)
    partial = stopped.value.partial
    reached = partial.status >= 0
    assert 0 < int(reached.sum()) < partial.status.size
    assert (partial.mesh_torque_mean.isnull() == ~reached).all()
    xr.testing.assert_equal(partial.where(reached), local.where(reached))


def kills_one_on_the_way(pids, folder):
    """A thread that ends the first process as soon as a chunk is finished; the chunks that there were then."""
    finished = []

    def watch():
        while not list(folder.glob("ripple.parts/chunk-*.npz")):
            time.sleep(0.005)
        os.kill(next(iter(pids)), signal.SIGKILL)
        finished.append(len(list(folder.glob("ripple.parts/chunk-*.npz"))))

    thread = threading.Thread(target=watch)
    thread.start()
    return thread, finished


def test_a_pool_that_dies_keeps_finished_chunks_of_a_file_and_says_so(local, tmp_path):
    spawn = multiprocessing.get_context("spawn")
    with concurrent.futures.ProcessPoolExecutor(1, mp_context=spawn) as pool:
        pool.submit(os.getpid).result()
        watcher, _ = kills_one_on_the_way(pool._processes, tmp_path)
        with pytest.raises(concurrent.futures.BrokenExecutor) as told:
            cs.sweep(LINE, AXES, executor=pool, out=tmp_path / "ripple.nc")
        watcher.join()
    assert "points are kept in" in told.value.__notes__[0]
    with cs.sweep(LINE, AXES, out=tmp_path / "ripple.nc", resume=True) as ds:
        xr.testing.assert_identical(ds.load(), local)


@pytest.fixture
def dask_client():
    """A Dask client of two worker processes on this machine's loopback."""
    distributed = pytest.importorskip("distributed")
    quiet = {"silence_logs": 50, "dashboard_address": None, "host": "127.0.0.1"}
    with (
        distributed.LocalCluster(n_workers=2, threads_per_worker=1, processes=True, **quiet) as cluster,
        distributed.Client(cluster) as client,
    ):
        client.wait_for_workers(2)
        yield client


def test_a_dask_worker_killed_on_the_way_changes_no_bit(local, dask_client, tmp_path):
    watcher, finished = kills_one_on_the_way(dask_client.run(os.getpid).values(), tmp_path)
    with cs.sweep(LINE, AXES, executor=dask_client, out=tmp_path / "ripple.nc") as ds:
        xr.testing.assert_identical(ds.load(), local)
    watcher.join()
    assert finished[0] < 5  # chunks: the worker died before the end


def test_a_dask_client_gives_the_same_bits_in_memory(local, dask_client):
    xr.testing.assert_identical(cs.sweep(LINE, AXES, executor=dask_client), local)
