"""The committed stub of the extension says what the extension has."""

import subprocess
import sys

from tree import ROOT


def test_the_stub_is_that_of_the_installed_extension(tmp_path):
    command = [sys.executable, "-m", "pybind11_stubgen", "calmshaft._core", "--output-dir", str(tmp_path)]
    subprocess.run(command, check=True, capture_output=True, timeout=120)
    fresh = (tmp_path / "calmshaft/_core.pyi").read_text()
    kept = (ROOT / "python/calmshaft/_core.pyi").read_text()
    assert kept == fresh, "renew it: pybind11-stubgen calmshaft._core -o python"
