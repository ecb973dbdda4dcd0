"""The demo tells the launch's story with computed numbers."""

import csv
import json
import re
import time

import xarray as xr
from typer.testing import CliRunner

from calmshaft.app import app


def test_the_demo_tells_the_story_and_writes_its_files_in_a_minute(tmp_path):
    begun = time.process_time()
    result = CliRunner().invoke(app, ["demo", "--out", str(tmp_path)])
    assert result.exit_code == 0, result.output
    assert time.process_time() - begun < 60  # of all processors together, so that a busy machine does not decide
    said = result.stdout
    assert "invented" in said
    assert "makes no difference which cylinder is dead" in said
    before_swap = said.split("Before the swap")[1].split("With the four")[0]
    assert "stay in contact" in before_swap
    left_in, candidates = said.split("old plate A left in")[1].split("In neutral")[0].split("with plate B")
    assert float(re.search(r"apart ([\d.]+) %", left_in)[1]) > 5
    assert "stay in contact" in candidates
    assert re.search(r"with C at \d+ rpm", said)
    compared = said.split("The three plates beside each other")[1]
    teeth = next(line for line in compared.splitlines() if line.startswith("  teeth at idle"))
    assert re.search(r"over [\d.]+ %, [\d,]+ rpm +within 0 % +within 0 %", teeth)
    with_one_dead = compared.split("ahead, one dead")[1].splitlines()
    dead = next(line for line in with_one_dead if line.startswith("  teeth at idle"))
    assert dead.count("over ") == 3
    assert "Crankshaft stress and front end: not judged" in compared
    assert compared.count("the propeller shaft has its resonance at") == 3
    assert "Card for the helm" in (tmp_path / "card.html").read_text()
    assert (tmp_path / "report.html").exists()
    assert json.loads((tmp_path / "report.json").read_text())["verdicts"]
    for name in ("ripple-map.png", "torque-before-and-after.png", "comparison.png"):
        assert (tmp_path / name).read_bytes().startswith(b"\x89PNG")
    with xr.open_dataset(tmp_path / "sweep.nc", engine="h5netcdf") as ds:
        assert dict(ds.status.sizes) == {"plate_stiffness": 14, "rpm": 41, "misfiring": 5}
        assert int((ds.status >= 3).sum()) == 0
    with (tmp_path / "sweep.csv").open() as file:
        assert len(list(csv.reader(file))) == 14 * 41 * 5 + 1
