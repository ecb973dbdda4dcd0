"""Sweeps into a file: nothing finished is lost, a resumed one is the clean one bit for bit, others are refused."""

import errno
import os
import signal
import subprocess
import sys
import time

import numpy as np
import pytest
import xarray as xr
from hypothesis import given
from hypothesis import strategies as st

import calmshaft as cs
from calmshaft import sweep_runs
from calmshaft.output import write_netcdf
from calmshaft.storage import chunks, parts_of, table

LINE = cs.sample_line("harbour-launch").with_plate("plate-b")
AXES = {
    "plate.stiffness": ([10.0, 16.0], "N*m/deg"),
    "rpm": np.linspace(1500, 2400, 50).tolist(),
    "misfiring": ["none", "3"],
}  # 200 points: chunks of 64, 64, 64 and 8
BEGUN = f"""
import calmshaft as cs
line = cs.sample_line("harbour-launch").with_plate("plate-b")
cs.sweep(line, {AXES!r}, out="ripple.nc", threads=1)
"""


@pytest.fixture(scope="module")
def clean():
    return cs.sweep(LINE, AXES)


@pytest.fixture
def counted(monkeypatch):
    """Points that are run in this process, chunk by chunk."""
    run, sizes = sweep_runs.run_points, []

    def counting(points, *rest):
        sizes.append(len(points[1]))
        return run(points, *rest)

    monkeypatch.setattr(sweep_runs, "run_points", counting)
    return sizes


def begun(folder, signal_after_two_chunks, script=BEGUN):
    """A sweep in a process of its own that gets a signal once two chunks are finished; what it said."""
    process = subprocess.Popen([sys.executable, "-c", script], cwd=folder, stderr=subprocess.PIPE, text=True)
    while len(list(folder.glob("ripple.parts/chunk-*.npz"))) < 2:
        assert process.poll() is None, process.communicate()
        time.sleep(0.002)
    process.send_signal(signal_after_two_chunks)
    return process.communicate(timeout=60)[1]


def test_a_file_holds_what_the_same_sweep_in_memory_does(clean, tmp_path):
    with cs.sweep(LINE, AXES, out=tmp_path / "ripple.nc") as read:
        write_netcdf(clean, tmp_path / "memory.nc")
        with xr.open_dataset(tmp_path / "memory.nc", engine="h5netcdf") as other:
            xr.testing.assert_identical(read, other)
        xr.testing.assert_identical(read.load(), clean)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["memory.nc", "ripple.nc"]


@pytest.mark.parametrize(
    "axes",
    [
        {"gear": ["ahead", "neutral"], "pair": cs.zipped({"rpm": [1500, 2000], "misfiring": ["none", "3"]})},
        cs.random_points({"plate.stiffness": (8, 40, "N*m/deg"), "rpm": (1500, 2400)}, 70, seed=3),
        {"plate": {"b": "plate-b", "c": "plate-c"}, "rpm": [1500, 2400]},
    ],
    ids=["side by side", "random", "plates"],
)
def test_a_file_holds_any_design(axes, tmp_path):
    with cs.sweep(LINE, axes, out=tmp_path / "ripple.nc") as ds:
        xr.testing.assert_identical(ds.load(), cs.sweep(LINE, axes))


def test_a_line_without_propeller_is_swept_in_neutral(tmp_path):
    alone = {key: part for key, part in LINE.document.items() if key not in ("shaft", "propeller")}
    line = cs.line_from_document(alone)
    with cs.sweep(line, {"rpm": [800], "gear": ["neutral"]}, out=tmp_path / "ripple.nc") as ds:
        assert (ds.status >= 0).all()


def test_an_open_result_outlives_the_next_sweep_of_its_name(tmp_path):
    with cs.sweep(LINE, {"rpm": [1500]}, out=tmp_path / "ripple.nc") as first:
        with cs.sweep(LINE, {"rpm": [1600]}, out=tmp_path / "ripple.nc") as second:
            assert float(second.mean_rpm[0]) == pytest.approx(1600, rel=1e-3)
        assert float(first.mean_rpm[0]) == pytest.approx(1500, rel=1e-3)  # the speed's tolerance at the end of a run


def test_a_condition_that_does_not_fit_is_told_before_the_first_chunk(counted, tmp_path):
    with pytest.raises(cs.LineError, match="must lie between"):
        cs.sweep(LINE, {**AXES, "rpm": [1500, 2000, 9000]}, out=tmp_path / "ripple.nc")
    assert not counted
    assert not list(tmp_path.iterdir())


def test_a_killed_sweep_loses_one_chunk_and_goes_on_to_the_same_bits(clean, counted, tmp_path):
    begun(tmp_path, signal.SIGKILL)
    kept = len(list(tmp_path.glob("ripple.parts/chunk-*.npz")))
    assert (tmp_path / "ripple.parts" / chunks.LOCK).exists()  # of a dead process: stops nobody
    with cs.sweep(LINE, AXES, out=tmp_path / "ripple.nc", resume=True) as ds:
        xr.testing.assert_identical(ds.load(), clean)
    assert len(counted) == 4 - kept
    assert [path.name for path in tmp_path.iterdir()] == ["ripple.nc"]


def test_ctrl_c_keeps_finished_chunks_and_says_how_to_go_on(clean, tmp_path):
    said = begun(tmp_path, signal.SIGINT)
    assert "of 200 points are kept in ripple.parts: go on with resume=True (--resume)" in said
    with cs.sweep(LINE, AXES, out=tmp_path / "ripple.nc", resume=True) as ds:
        xr.testing.assert_identical(ds.load(), clean)


def test_resuming_what_is_complete_reads_it_and_runs_nothing(clean, counted, tmp_path):
    cs.sweep(LINE, AXES, out=tmp_path / "ripple.nc").close()
    before = (tmp_path / "ripple.nc").read_bytes()
    counted.clear()
    with cs.sweep(LINE, AXES, out=tmp_path / "ripple.nc", resume=True) as ds:
        xr.testing.assert_identical(ds.load(), clean)
    assert not counted
    assert (tmp_path / "ripple.nc").read_bytes() == before


DESIGNS = {
    "side by side": ({"pair": cs.zipped({"rpm": [1500, 2000], "misfiring": ["none", "3"]})}, {}),
    "random": (cs.random_points({"plate.stiffness": (8, 40, "N*m/deg"), "rpm": (1500, 2400)}, 3, seed=3), {}),
    "plates": ({"plate": {"b": "plate-b", "c": "plate-c"}, "rpm": [1500]}, {}),
    "up and down": ({"rpm": [1500, 1600]}, {"direction": "both"}),
    "with steps": ({"rpm": [1500]}, {"steps_per_cycle": 2880}),
}


@pytest.mark.parametrize("name", DESIGNS)
def test_any_design_is_known_again_when_complete(name, counted, tmp_path):
    axes, how = DESIGNS[name]
    cs.sweep(LINE, axes, out=tmp_path / "ripple.nc", **how).close()
    counted.clear()
    cs.sweep(LINE, axes, out=tmp_path / "ripple.nc", resume=True, **how).close()
    assert not counted


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"line": LINE.replace({"engine.bore": "95 mm"})}, r"line\.engine\.bore: 92 mm there, 95 mm now"),
        ({"axes": {"rpm": [1500, 1700]}}, r"axes\.rpm\.values\[1\]: 1600\.0 there, 1700\.0 now"),
        ({"at": cs.Condition(1500, load="tied up")}, "condition: .* there, .*tied up.* now"),
        ({"steps_per_cycle": 2880}, "steps_per_cycle: nothing there, 2880 now"),
        ({"out": "ripple.csv"}, "does not say of which sweep it is"),
        ({"out": "note.nc"}, "cannot be read as the result of a sweep"),
    ],
)
def test_resuming_beside_another_result_is_refused_and_leaves_it(change, words, counted, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    asked = {"line": LINE, "axes": {"rpm": [1500, 1600]}, "at": cs.Condition(1500)}
    cs.sweep(**asked, out="ripple.nc").close()
    for name in ("ripple.csv", "note.nc"):
        (tmp_path / name).write_text("mine")
    before, _ = (tmp_path / "ripple.nc").read_bytes(), counted.clear()
    with pytest.raises(cs.LineError, match=words):
        cs.sweep(**{**asked, "out": "ripple.nc", "resume": True, **change})
    assert not counted
    assert (tmp_path / "ripple.nc").read_bytes() == before
    assert (tmp_path / "note.nc").read_text() == (tmp_path / "ripple.csv").read_text() == "mine"


@pytest.fixture
def stopped(monkeypatch, tmp_path):
    """A folder with two finished chunks of four; the disk filled up then. And what was said."""
    save, written = np.savez, []

    def full(file, **arrays):
        if len(written) == 2:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC), str(file))
        written.append(file)
        save(file, **arrays)

    monkeypatch.setattr(np, "savez", full)
    with pytest.raises(OSError, match="no space left") as caught:
        cs.sweep(LINE, AXES, out=tmp_path / "ripple.nc")
    monkeypatch.undo()
    return tmp_path / "ripple.nc", str(caught.value)


def test_a_full_disk_keeps_what_is_finished_and_says_how_to_go_on(stopped, clean):
    out, said = stopped
    assert "128 of 200 points are kept" in said
    assert "resume" in said
    assert not out.exists()
    with cs.sweep(LINE, AXES, out=out, resume=True) as ds:
        xr.testing.assert_identical(ds.load(), clean)


LIMITED = f"""
import resource
resource.setrlimit(resource.RLIMIT_FSIZE, (150_000, resource.RLIM_INFINITY))
try:
    exec({BEGUN!r})
except OSError as error:
    raise SystemExit(f"OSError: {{error}}") from None
"""


def test_a_result_too_large_for_the_disk_keeps_every_chunk(clean, tmp_path):
    process = subprocess.run([sys.executable, "-c", LIMITED], cwd=tmp_path, stderr=subprocess.PIPE, text=True)
    assert process.stderr.startswith("OSError")
    assert "200 of 200 points are kept in ripple.parts" in process.stderr
    assert not (tmp_path / "ripple.nc").exists()
    with cs.sweep(LINE, AXES, out=tmp_path / "ripple.nc", resume=True) as ds:
        xr.testing.assert_identical(ds.load(), clean)


def test_a_sweep_that_the_disk_has_no_room_for_is_refused_before_it_begins(monkeypatch, tmp_path):
    usage = type("Usage", (), {"free": 100_000})
    monkeypatch.setattr("shutil.disk_usage", lambda folder: usage)
    with pytest.raises(cs.LineError, match=r"200 points need about 0\.6 MB there, and 0\.1 MB are free"):
        cs.sweep(LINE, AXES, out=tmp_path / "ripple.nc")
    assert not list(tmp_path.iterdir())


def test_a_place_that_cannot_be_written_is_told_before_any_point_is_run(counted, tmp_path):
    (tmp_path / "file").write_text("not a folder")
    with pytest.raises(NotADirectoryError):
        cs.sweep(LINE, AXES, out=tmp_path / "file" / "ripple.nc")
    assert not counted


@pytest.mark.skipif(os.geteuid() == 0, reason="nothing is read-only to root")
def test_a_read_only_folder_is_told_before_any_point_is_run(counted, tmp_path):
    tmp_path.chmod(0o500)
    with pytest.raises(PermissionError):
        cs.sweep(LINE, AXES, out=tmp_path / "ripple.nc")
    assert not counted


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"line": LINE.replace({"engine.bore": "95 mm"})}, r"line\.engine\.bore: 92 mm there, 95 mm now"),
        ({"axes": {**AXES, "misfiring": ["none", "4"]}}, r"axes\.misfiring\.values\[1\]: 3 there, 4 now"),
        ({"axes": {**AXES, "rpm": [1500]}}, r"50 values from 1500\.0 to 2400\.0 there, 1 values from 1500\.0 to 15"),
        ({"axes": dict(reversed(AXES.items()))}, r"order of axes\[0\]: plate_stiffness there, misfiring now"),
        ({"axes": {**AXES, "gear": ["ahead"]}}, r"axes\.gear: nothing there, 1 values from ahead to ahead now"),
        ({"at": cs.Condition(1500, load="tied up")}, r"condition\.load: under way there, tied up now"),
        ({"keep": "travel"}, "keep: stop torque there, travel now"),
        ({"steps_per_cycle": 2880}, "steps_per_cycle: 0 there, 2880 now"),
    ],
)
def test_chunks_of_another_sweep_are_refused_with_what_differs(stopped, change, words):
    asked = {"line": LINE, "axes": AXES, "out": stopped[0], "resume": True, **change}
    with pytest.raises(cs.LineError, match=words):
        cs.sweep(**asked)
    assert len(list(parts_of(stopped[0]).glob("chunk-*.npz"))) == 2


def test_a_library_with_other_engine_tables_or_version_is_refused(stopped, monkeypatch):
    monkeypatch.setattr("calmshaft.storage.manifest.NODES", 360)
    monkeypatch.setattr("calmshaft._core.__version__", "9.9")
    with pytest.raises(cs.LineError, match=r"calmshaft: .* there, 9\.9 now; tables: "):
        cs.sweep(LINE, AXES, out=stopped[0], resume=True)


def test_finished_chunks_are_never_begun_again_unasked(stopped):
    with pytest.raises(cs.LineError, match=r"go on with resume=True \(--resume\), or delete the folder"):
        cs.sweep(LINE, AXES, out=stopped[0])


def test_a_damaged_chunk_is_run_again(stopped, clean, counted):
    chunk = sorted(parts_of(stopped[0]).glob("chunk-*.npz"))[0]
    whole = bytearray(chunk.read_bytes())
    whole[2000] ^= 255
    chunk.write_bytes(whole)
    with cs.sweep(LINE, AXES, out=stopped[0], resume=True) as ds:
        xr.testing.assert_identical(ds.load(), clean)
    assert len(counted) == 3


def test_what_is_not_the_sweeps_own_stays_in_its_folder(clean, tmp_path):
    other = tmp_path / "ripple.parts" / "notes.txt"
    other.parent.mkdir()
    other.write_text("mine")
    cs.sweep(LINE, AXES, out=tmp_path / "ripple.nc").close()
    assert [path.name for path in other.parent.iterdir()] == ["notes.txt"]


HOLDING = """
import sys
from calmshaft.storage.chunks import ChunkStore
with ChunkStore("ripple.parts", {}, resume=False):
    print("held", flush=True)
    sys.stdin.read()
"""


def test_two_sweeps_into_one_folder_are_refused(tmp_path):
    pipes = {"stdin": subprocess.PIPE, "stdout": subprocess.PIPE, "text": True}
    with subprocess.Popen([sys.executable, "-c", HOLDING], cwd=tmp_path, **pipes) as other:
        assert other.stdout.readline() == "held\n"
        with pytest.raises(cs.LineError, match=f"is being written by process {other.pid} on "):
            cs.sweep(LINE, AXES, out=tmp_path / "ripple.nc")
        other.stdin.close()
    held = chunks.ChunkStore(tmp_path / "ripple.parts", {}, resume=False)
    with held, pytest.raises(cs.LineError, match="is being written by this process"):
        cs.sweep(LINE, AXES, out=tmp_path / "ripple.nc")


def test_a_billion_points_are_refused_with_what_they_would_take():
    many = {
        "plate.stiffness": (np.linspace(8, 60, 1000), "N*m/deg"),
        "rpm": np.linspace(1500, 2400, 1000),
        "shaft.length": (np.linspace(2, 4, 1000), "m"),
    }
    words = r"'1,000,000,000 points': more than 200,000 .* (days|hours) on this machine .* GB; .* yes=True \(--yes\)"
    with pytest.raises(cs.LineError, match=words):
        cs.sweep(LINE, many)
    with pytest.raises(cs.LineError, match="an axis has at most 1,000,000"):
        cs.sweep(LINE, {"rpm": range(10**9)})


@given(st.lists(st.integers(1, 5), min_size=1, max_size=4), st.data())
def test_blocks_of_a_grid_cover_a_run_of_points_in_order(shape, data):
    size = int(np.prod(shape))
    first = data.draw(st.integers(0, size))
    end = data.draw(st.integers(first, size))
    numbers = np.arange(size).reshape(shape)
    covered = [number for box in table.boxes(first, end, tuple(shape)) for number in numbers[box].ravel()]
    assert covered == list(range(first, end))


PEAK = """
import pathlib, sys
import numpy as np
import calmshaft as cs
from calmshaft import results, sweep_runs
def told(points, *rest):
    made = results.blank_table(len(points[1]))
    made["value"][:] = [[at.rpm] for at in points[2]]
    made["status"][:] = 0
    return made, False
sweep_runs.run_points = told
rpm = np.linspace(1500, 2400, int(sys.argv[1]) // 100)
stiffness = (np.linspace(8, 60, 100), "N*m/deg")
cs.sweep(cs.sample_line("harbour-launch"), {"rpm": rpm, "plate.stiffness": stiffness}, out="ripple.nc").close()
print(pathlib.Path("/proc/self/status").read_text().split("VmHWM:")[1].split()[0])  # peak of this program alone
"""
SPREAD = 10_000  # kB: between two runs of one program here, where a table of 80,000 points more takes 110,000


def test_memory_stays_flat(tmp_path):
    """The runner is replaced: what is measured is what a sweep keeps of its points."""

    def peak(points):
        script = [sys.executable, "-c", PEAK, str(points)]
        return int(subprocess.run(script, cwd=tmp_path, stdout=subprocess.PIPE, check=True).stdout)

    small, large = peak(20_000), peak(100_000)
    print(f"peak memory: {small} kB at 20,000 points, {large} kB at 100,000")
    assert large - small < SPREAD
    with xr.open_dataset(tmp_path / "ripple.nc", engine="h5netcdf") as ds:
        assert (ds.mesh_torque_ripple == ds.rpm).all()
