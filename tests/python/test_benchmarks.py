"""The benchmark runs, checks its own answers, and names its goals."""

import json
import subprocess
import sys
from pathlib import Path

SCRIPT = Path(__file__).parents[2] / "benchmarks" / "run.py"


def test_a_small_benchmark_runs_and_checks_its_answers(tmp_path):
    out = tmp_path / "results.json"
    subprocess.run([sys.executable, str(SCRIPT), "--small", "--out", str(out)], check=True, capture_output=True)
    results = json.loads(out.read_text())
    assert set(results["goals"]) == {"steady_seconds", "import_seconds", "sweep_seconds", "peak_memory_megabytes"}
    assert results["sweep"]["points"] == 3 * 13 * 5
    fine = [row for row in results["error_by_steps"] if row["steps"] == 2880]
    # 2,880 steps hold the vibratory torque to 0.3 %: no impact reaches orders 0.5 to 12
    assert all(abs(row["mesh_torque_vibratory"]) < 3e-3 for row in fine)
