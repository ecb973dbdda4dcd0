"""The benchmarks run, check their own answers, and name their goals."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

BENCHMARKS = Path(__file__).parents[2] / "benchmarks"
RIPPLE_KEPT = 5e-3  # what the chosen steps promise of motion that repeats with the loaded teeth together
VIBRATORY_KEPT = 3e-3
WAYS_AGREE = 2e-4  # at tolerances of 1e-8: errors add up over thousands of steps and are magnified where teeth close


@pytest.fixture
def benchmarks_on_path(monkeypatch):
    monkeypatch.syspath_prepend(str(BENCHMARKS))


def results_of(script, tmp_path, *more):
    out = tmp_path / "results.json"
    command = [sys.executable, str(BENCHMARKS / script), "--small", "--out", str(out), *more]
    subprocess.run(command, check=True, capture_output=True, timeout=300)
    return json.loads(out.read_text())


def test_a_small_benchmark_runs_and_checks_its_answers(tmp_path):
    results = results_of("run.py", tmp_path)
    assert set(results["goals"]) == {"steady_seconds", "import_seconds", "sweep_seconds", "peak_memory_megabytes",
                                     "thousand_cases_seconds"}  # fmt: skip
    assert results["sweep"]["points"] == 3 * 13 * 5
    kept = [row for row in results["error_by_steps"] if row["calm"] and row["of_chosen"] >= 1]
    assert len(kept) == 2 * 4
    assert all(abs(row["mesh_torque_ripple"]) < RIPPLE_KEPT for row in kept)
    assert all(abs(row["mesh_torque_vibratory"]) < VIBRATORY_KEPT for row in kept)


def test_the_comparison_at_equal_error_has_every_way_within_both_targets(tmp_path):
    results = results_of("one_condition.py", tmp_path)
    (case,) = results["cases"].values()
    assert {row["way"].split(",")[0] for row in case["rows"]} >= {"calmshaft", "solve_ivp DOP853", "solve_ivp LSODA"}
    assert ("loop, Numba" in case["compile_seconds"]) == (results["versions"]["numba"] is not None)
    for way, name in (("CVODE Adams, Numba", "CVODE"), ("Boost.Odeint dopri5, C++", "Boost.Odeint dopri5, C++")):
        assert (way in {row["way"] for row in case["rows"]}) != (name in results["left_out"])
    for target, fastest in case["fastest_within"].items():
        assert all(row and row["error"] <= float(target) for row in fastest.values())
    # tens of times slower when measured: a busy machine does not turn that round
    ours, *others = case["whole_condition"]
    assert all(ours["seconds"] < other["seconds"] for other in others if other["way"].startswith("solve_ivp"))


@pytest.fixture(scope="module")
def small_job(tmp_path_factory):
    return results_of("whole_job.py", tmp_path_factory.mktemp("whole_job"))


def test_the_whole_job_is_the_product_of_its_parts(small_job):
    for job, inertias in zip(small_job["jobs"].values(), (5, 8), strict=True):
        steps = job["points"] * job["cycles_a_point"] * job["steps_a_cycle"]
        assert job["inertias"] == inertias
        assert job["points"] == 4 * 10 * 5 == sum(job["points_by_status"].values())
        assert job["processor_seconds"]["1"] == pytest.approx(1e-9 * steps * job["nanoseconds_a_step"])
        assert job["same_bits_on_1_and_2_threads"]
    assert small_job["jobs"]["launch as shipped"]["sha256"] != small_job["jobs"]["launch with 8 inertias"]["sha256"]


def test_the_share_of_the_peak_is_a_share(small_job):
    most = small_job["peak_of_a_core"]["operations_a_second"]
    for job in small_job["jobs"].values():
        if most is None:
            assert job["share_of_peak"] is None
        else:
            assert 0.01 < job["share_of_peak"] < 1


def test_ways_that_call_python_at_each_evaluation_take_longer_for_the_whole_job(small_job):
    ours = small_job["jobs"]["launch as shipped"]["processor_seconds"]["1"]
    others = small_job["peers"].get("seconds_on_one_thread", {})
    assert others or small_job["peers"]["left_out"]
    # a hundred times longer when measured: a busy machine does not turn that round
    assert all(seconds > 3 * ours for way, seconds in others.items() if way.startswith(("solve_ivp", "CVODE")))


def test_growth_says_how_each_cost_grows(tmp_path):
    found = results_of("growth.py", tmp_path, "--plots", str(tmp_path))
    assert [row["points"] for row in found["points"]] == [50, 200]
    assert [row["inertias"] for row in found["inertias"]["rows"]] == [5, 8, 12]
    # a step of twelve inertias costs at most as much more as the square of the size would, on a busy machine too
    assert 0.8 < found["inertias"]["twelve_over_eight"]["nanoseconds_a_step"] < (12 / 8) ** 2 * 1.5
    soft, *_, stiff = found["mesh_stiffness"]
    assert stiff["steps_a_cycle"] > soft["steps_a_cycle"]
    pictures = {path.name for path in tmp_path.glob("*.png")}
    assert pictures == {f"growth_{name}.png" for name in ("points", "inertias", "cores", "mesh_stiffness")}


def test_operations_are_counted_where_the_count_is_known(benchmarks_on_path):
    from peak import Counted, operations_a_step

    Counted.operations = 0
    found = 2.0 * Counted(3.0) + 1.0 - -Counted(4.0) / 2
    assert (found, Counted.operations) == (9.0, 4)
    # a piece of shaft: 11 for its torque and what it does, and a station more of 7
    assert operations_a_step(8) - operations_a_step(7) == 11 + 7


def test_every_way_marches_the_same_cycle(benchmarks_on_path):
    import calmshaft as cs
    from launch_equations import launch
    from launch_marching import advance, cold, scipy_cycle
    from launch_peers import cvode_cycle, cvode_missing, odeint_cycle, odeint_missing

    boat = launch(cs.sample_line("harbour-launch").with_plate("plate-b"), cs.Condition(1800, misfiring=3))
    ways = [scipy_cycle(boat, "DOP853", 1e-8, False, 2880)]
    ways += [] if cvode_missing() else [cvode_cycle(boat, "Adams", 1e-8, 2880)]
    ways += [] if odeint_missing() else [odeint_cycle(boat, 1e-8, 2880)]
    marches = [cold(boat) for _ in ways]
    for march, way in zip(marches, ways, strict=True):
        advance(boat, march, way, corrected=False)
    for march in marches[1:]:
        assert march.ripple[0] == pytest.approx(marches[0].ripple[0], rel=WAYS_AGREE)
        assert march.state == pytest.approx(marches[0].state, rel=WAYS_AGREE, abs=1e-6)
