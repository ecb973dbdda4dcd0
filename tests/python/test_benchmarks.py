"""The benchmark runs, checks its own answers, and names its goals."""

import json
import subprocess
import sys
from pathlib import Path

BENCHMARKS = Path(__file__).parents[2] / "benchmarks"
RIPPLE_KEPT = 5e-3  # what the chosen steps promise of motion that repeats with the loaded teeth together
VIBRATORY_KEPT = 3e-3


def results_of(script, tmp_path):
    out = tmp_path / "results.json"
    command = [sys.executable, str(BENCHMARKS / script), "--small", "--out", str(out)]
    subprocess.run(command, check=True, capture_output=True, timeout=300)
    return json.loads(out.read_text())


def test_a_small_benchmark_runs_and_checks_its_answers(tmp_path):
    results = results_of("run.py", tmp_path)
    assert set(results["goals"]) == {"steady_seconds", "import_seconds", "sweep_seconds", "peak_memory_megabytes"}
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
