"""The resolved document: complete, described key by key, and enough for a stranger's integration with SciPy."""

import json
import math
import re
import subprocess
import sys
from functools import cache
from pathlib import Path

import pytest
from typer.testing import CliRunner

import calmshaft as cs
from calmshaft.app import app

ROOT = Path(__file__).parents[2]
SCRIPT = ROOT / "python" / "examples" / "check_with_scipy.py"
PAGE = (ROOT / "python" / "docs" / "resolved.md").read_text()
# Names of a line's own, not keys of the document: below these any name may stand.
FREE_NAMES = {"quantities": "<path>", "laws": "<name>"}


@cache
def launch(plate):
    return cs.sample_line("harbour-launch").with_plate(plate)


def strangers_answer(document, tmp_path):
    """Name -> (value, standard error) [N m] as the script prints them, and its first line."""
    file = tmp_path / "line.json"
    file.write_text(json.dumps(document))
    ran = subprocess.run([sys.executable, SCRIPT, file], capture_output=True, text=True, timeout=300, check=True)
    first, *lines = ran.stdout.splitlines()
    found = (re.fullmatch(r"(.+?) (\S+) N m, standard error (\S+) N m", line) for line in lines)
    return {one[1]: (float(one[2]), float(one[3])) for one in found}, first


@pytest.mark.parametrize(
    ("plate", "at"),
    [
        ("plate-b", cs.Condition(rpm=1200)),
        ("plate-c", cs.Condition(rpm=2400, misfiring="3")),
    ],
)
def test_a_strangers_script_finds_the_ripple_of_a_motion_that_repeats(plate, at, tmp_path):
    run = cs.steady(launch(plate), at)
    assert run.status == "periodic"
    found, first = strangers_answer(launch(plate).resolved(at), tmp_path)
    assert "repeats" in first
    assert "not" not in first
    # 0.5 %: what the default steps hold; the script's own error is below a tenth of that
    assert found["ripple"][0] == pytest.approx(run.measures["mesh_torque_ripple"], rel=5e-3)
    assert found["vibratory torque"][0] == pytest.approx(run.measures["mesh_torque_vibratory"], rel=5e-3)
    assert found["mean torque"][0] == pytest.approx(run.measures["mesh_torque_mean"], rel=1e-3)


def test_a_strangers_script_finds_the_means_of_a_rattle_that_never_repeats(tmp_path):
    at = cs.Condition(rpm=900, gear="neutral", misfiring="3")
    run = cs.steady(launch("plate-b"), at)
    assert run.status == "aperiodic"
    found, first = strangers_answer(launch("plate-b").resolved(at), tmp_path)
    assert "does not repeat" in first
    ours = run.spread["unloaded_mesh_torque_ripple"]
    value, error = found["ripple"]
    assert abs(value - ours["mean"]) < 2 * math.hypot(error, ours["standard_error"])


def keys(value, path=""):
    """Every key of a document as the page writes it: a.b, a[].b, and a row of numbers as a[]."""
    if isinstance(value, dict) and path in FREE_NAMES:
        for inner in value.values():
            yield from keys(inner, f"{path}.{FREE_NAMES[path]}")
    elif isinstance(value, dict):
        for name, inner in value.items():
            yield from keys(inner, f"{path}.{name}" if path else name)
    elif isinstance(value, list):
        yield f"{path}[]" if not value else ""
        for inner in value:
            yield from keys(inner, f"{path}[]")
    else:
        yield path


def described():
    return set(re.findall(r"^\| `([^`]+)` \|", PAGE, flags=re.MULTILINE))


def test_every_key_of_the_document_is_described_and_nothing_else_is():
    found = set()
    for gear in ("ahead", "neutral"):
        found |= set(keys(launch("plate-b").resolved(cs.Condition(rpm=1000, gear=gear))))
    tables = cs.sample_line("harbour-launch-tables").resolved(cs.Condition(rpm=1000))
    found = {key for key in found | set(keys(tables)) if key}
    assert found - described() == set()
    assert described() - found <= {"warnings[]"}


def test_the_command_gives_the_same_document():
    shown = CliRunner().invoke(app, ["check", "harbour-launch", "--rpm", "1000", "--misfiring", "3", "--json"])
    assert shown.exit_code == 0
    line = cs.sample_line("harbour-launch")
    assert json.loads(shown.stdout) == json.loads(json.dumps(line.resolved(cs.Condition(rpm=1000, misfiring="3"))))


def test_a_condition_without_a_steady_state_has_no_solved_fuelling():
    line = cs.sample_line("harbour-launch")
    heavy = cs.Condition(rpm=700, misfiring="1+2+4", fuelling="fixed", load="150 N*m")
    document = line.resolved(heavy)
    assert document["status"] in ("stalled", "failed")
    assert document["fuelling"] is document["crank"]["gas_torque"] is document["start"] is None
    assert document["reason"]
