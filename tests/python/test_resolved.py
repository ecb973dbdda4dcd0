"""The resolved document against its page, and a stranger's script on it against our own steady state.

The script (python/examples/check_with_scipy.py) is written from python/docs/resolved.md, imports nothing of ours and
integrates with another method, so agreement means that document and page are complete.
"""

import json
import math
import re
import subprocess
import sys

import numpy as np
import pytest
from typer.testing import CliRunner

import calmshaft as cs
from calmshaft.app import app
from calmshaft.line import LINES
from tree import ROOT

PAGE = (ROOT / "python/docs/resolved.md").read_text()
SCRIPT = ROOT / "python/examples/check_with_scipy.py"
NAMED = {"laws": "<name>", "quantities": "<path>"}  # maps whose keys are names, not part of the format
NUMBER = r"-?\d[\d.]*(?:e[+-]?\d+)?"
SAME = 5e-3  # of the ripple: what our own choice of steps holds while teeth stay together
IMPACTS = 1e-2  # of ripple: what the usual steps lose where a free pair is struck

LAUNCH = cs.sample_line("harbour-launch")
B = LAUNCH.with_plate("plate-b")


def with_plate_b(folder):
    """The launch with plate B, as a line file."""
    launch, plate = ((LINES / f"{name}.toml").read_text() for name in ("harbour-launch", "plate-b"))
    path = folder / "launch-b.toml"
    path.write_text(launch[: launch.index("[plate]")] + plate + "\n" + launch[launch.index("[gearbox]") :])
    return path


def checked(path, line, *options):
    """`calmshaft check LINE --json` into a file."""
    result = CliRunner().invoke(app, ["check", str(line), "--json", *map(str, options)])
    assert result.exit_code == 0, result.output
    path.write_text(result.stdout)
    return path


def by_script(path):
    """What the script says of a document: value and standard error [N m] by name, and whether the motion repeats."""
    with path.open() as document:
        run = subprocess.run([sys.executable, SCRIPT], stdin=document, capture_output=True, text=True, timeout=300)
    assert run.returncode == 0, run.stderr
    found = re.findall(rf"^(.+?) ({NUMBER}) N m, standard error ({NUMBER}) N m$", run.stdout, re.MULTILINE)
    assert len(found) == 3, run.stdout
    return {name: (float(value), float(error)) for name, value, error in found}, "; repeats" in run.stdout


@pytest.mark.parametrize("document", ["", "{}", "[1]", None])
def test_the_script_tells_how_it_is_called(document, tmp_path):
    path = tmp_path / "line.json"
    if document is not None:
        path.write_text(document)
    run = subprocess.run([sys.executable, SCRIPT, path], capture_output=True, text=True, timeout=60)
    assert run.returncode == 1
    assert run.stderr.startswith("This is no document of a line: ")
    assert "Usage: python check_with_scipy.py line.json" in run.stderr


def keys_of(value, path=""):
    """Every path of a document: a.b for a key in a map, a[] for the entries of a list."""
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from keys_of(inner, ".".join(filter(None, (path, NAMED.get(path, key)))))
    elif isinstance(value, list):
        for inner in value or [None]:
            yield from keys_of(inner, path + "[]")
    else:
        yield path


def test_the_page_describes_every_key_and_no_other():
    documents = [LAUNCH.resolved(cs.Condition(1800)), B.resolved(cs.Condition(1800, gear="neutral"))]
    written = re.findall(r"^\| `([^`]+)` \|", PAGE, re.MULTILINE)
    assert len(written) == len(set(written))
    assert set(written) == {key for document in documents for key in keys_of(document)}


def test_the_document_is_plain_and_survives_json_unchanged():
    document = LAUNCH.resolved(cs.Condition(1800, misfiring=[3]))
    assert json.loads(json.dumps(document, allow_nan=False)) == document


def test_gas_torque_at_the_solved_fuelling_carries_all_resistances():
    document = B.resolved(cs.Condition(2000))
    speed, rub = document["mean_speed"], document["engine_friction"]
    ratios = [station["speed_ratio"] for station in document["stations"]]
    resistance = rub["constant"] + rub["per_speed"] * speed + rub["per_speed_squared"] * speed**2
    for load in document["loads"]:
        ratio = ratios[load["station"]]
        square = load.get("coefficient", 0.0) * (ratio * speed) ** 2
        resistance += ratio * (load["torque"] if load["kind"] == "drag" else square)
    # Speeds swing by a few per cent, so that mean resistance and resistance at mean speed differ by their square.
    assert np.mean(document["crank"]["gas_torque"]) == pytest.approx(resistance, rel=2e-3)


def test_with_fixed_fuelling_the_mean_speed_is_the_one_found():
    at = cs.Condition(2000, misfiring=[3], fuelling="fixed")
    document = B.resolved(at)
    assert document["mean_speed"] == pytest.approx(cs.steady(B, at).measures["mean_rpm"] * math.tau / 60)
    assert document["fuelling"] == pytest.approx(B.resolved(cs.Condition(2000))["fuelling"])


def test_without_a_steady_state_there_is_no_fuelling_but_a_reason():
    at = cs.Condition(600, misfiring="1+2+3", fuelling="fixed", load="900 N*m")
    document = LAUNCH.resolved(at)
    assert document["status"] == "stalled"
    assert "cannot carry" in document["reason"]
    assert (document["fuelling"], document["start"], document["crank"]["gas_torque"]) == (None, None, None)


@pytest.mark.parametrize(
    "at",
    [cs.Condition(1200), cs.Condition(2000, misfiring="3"), cs.Condition(1200, gear="astern")],
    ids=["loaded", "misfiring", "astern"],
)
def test_a_stranger_finds_the_same_periodic_torque_at_the_mesh(at, tmp_path):
    options = ("--rpm", at.rpm, "--gear", at.gear, "--misfiring", at.misfiring)
    found, repeats = by_script(checked(tmp_path / "line.json", with_plate_b(tmp_path), *options))
    ours = cs.steady(B, at)
    assert repeats
    assert ours.status == "periodic"
    assert found["ripple"][0] == pytest.approx(ours.measures["mesh_torque_ripple"], rel=SAME)
    assert found["vibratory torque"][0] == pytest.approx(ours.measures["mesh_torque_vibratory"], rel=SAME)
    assert found["mean torque"][0] == pytest.approx(ours.measures["mesh_torque_mean"], rel=1e-3)  # fuelling's own


def test_a_stranger_finds_the_same_mean_ripple_of_a_rattle_that_never_repeats(tmp_path):
    at = cs.Condition(900, gear="neutral", misfiring="3")  # the free pair rattles on and on
    options = ("--rpm", at.rpm, "--gear", at.gear, "--misfiring", at.misfiring)
    found, repeats = by_script(checked(tmp_path / "line.json", with_plate_b(tmp_path), *options))
    ours = cs.steady(B, at)
    assert not repeats
    assert ours.status == "aperiodic"
    spread = ours.spread["unloaded_mesh_torque_ripple"]
    value, error = found["ripple"]
    assert abs(value - spread["mean"]) < 2 * math.hypot(error, spread["standard_error"]) + IMPACTS * value


def test_a_stranger_notices_a_changed_number(tmp_path):
    path = checked(tmp_path / "line.json", with_plate_b(tmp_path), "--rpm", 2000, "--misfiring", 3)
    document = json.loads(path.read_text())
    document["couplings"][0]["ramps"][0]["slope"] *= 1.05
    path.write_text(json.dumps(document))
    ours = cs.steady(B, cs.Condition(2000, misfiring="3")).measures["mesh_torque_vibratory"]
    assert by_script(path)[0]["vibratory torque"][0] != pytest.approx(ours, rel=SAME)
