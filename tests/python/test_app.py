"""The command line as a builder meets it: words on standard output, exit codes, nothing written on bad input."""

import errno
import json
import os
from pathlib import Path

import numpy as np
import pytest
import xarray as xr
from typer.testing import CliRunner

from calmshaft.app import app
from calmshaft.line import LINES

PLATE_B = (LINES / "plate-b.toml").read_text()


def called(*arguments, code=0):
    result = CliRunner().invoke(app, [str(argument) for argument in arguments])
    assert result.exit_code == code, result.output
    return result


@pytest.fixture
def quiet_line(tmp_path) -> Path:
    """The launch with plate B: nothing is over at idle ahead."""
    text = (LINES / "harbour-launch.toml").read_text()
    before, after = text.split("[plate]")[0], "[gearbox]" + text.split("[gearbox]", 1)[1]
    path = tmp_path / "quiet.toml"
    path.write_text(before + PLATE_B[PLATE_B.index("[plate]") :] + "\n" + after)
    return path


def test_check_shows_values_taken_as_exact_as_they_were_read(tmp_path):
    """GD2 is four times J, and a kgf m of torque is 9.80665 N m: exact by definition."""
    text = (LINES / "harbour-launch.toml").read_text()
    text = text.replace('rated_torque = "250 N*m"', 'rated_torque = "25 kgf m"')
    inertia = '{ value = "0.45 kg*m^2", source = "measured", range = "4 %" }'
    path = tmp_path / "trade.toml"
    path.write_text(text.replace(f"inertia = {inertia}", 'inertia = { value = "GD2 = 1.8 kgf*m^2", source = "maker" }'))
    said = " ".join(called("check", path).stdout.split())
    assert "gearbox.rated_torque 245.2 N*m," in said
    assert "flywheel.inertia 0.45 kg*m^2 (maker)," in said


def test_check_shows_both_sides_of_a_plate_that_differ(tmp_path):
    text = (LINES / "harbour-launch.toml").read_text()
    path = tmp_path / "sides.toml"
    path.write_text(text.replace('stop_angle = "8 deg" ', 'stop_angle = "8 deg"\ncoast_stop_angle = "9 deg" '))
    said = called("check", path).stdout
    assert "drive 45 N*m/deg from 0.5 deg; stop 8 deg; coast 45 N*m/deg from 0.5 deg; stop 9 deg; friction" in said
    assert "drive 45" not in called("check", "harbour-launch").stdout


def test_run_says_what_the_teeth_do_and_exits_one_where_something_is_over():
    said = called("run", "harbour-launch", "--rpm", 750, code=1).stdout
    assert "over" in said
    assert "apart" in said
    assert "vibratory" not in said.split("over")[0].split("\n")[0]
    assert "licensed practice" in said


def test_run_exits_zero_where_all_is_within(quiet_line):
    said = called("run", quiet_line).stdout
    assert "repeats every engine cycle" in said
    assert "within" in said


def test_run_with_json_is_one_document(quiet_line):
    document = json.loads(called("run", quiet_line, "--json").stdout)
    assert document["status"] == "periodic"
    assert document["measures"]["mesh_torque_mean"]["unit"] == "N m"
    assert {one["word"] for one in document["judgement"]} <= {"within", "near", "over", "not judged"}


def test_run_writes_its_signals_and_a_picture_where_asked(quiet_line, tmp_path):
    called("run", quiet_line, "--rpm", 1500, "--out", tmp_path / "o")
    name = f"{quiet_line.stem}-1500rpm-ahead"
    assert (tmp_path / "o" / f"{name}-torque.png").read_bytes().startswith(b"\x89PNG")
    with xr.open_dataset(tmp_path / "o" / f"{name}-signals.nc", engine="h5netcdf") as signals:
        assert signals.torque.dims == ("coupling", "crank_angle")


def test_run_without_a_valid_result_exits_three():
    result = called("run", "harbour-launch", "--rpm", 800, "--misfiring", "1+2+3+4", code=2)
    assert "cylinder" in result.stderr  # all dead is refused before the run
    weak = ["--load", "900 N*m", "--fuelling", "fixed", "--misfiring", "1+2+3"]
    called("run", "harbour-launch", "--rpm", 600, *weak, code=3)


def test_check_shows_the_line_as_understood():
    said = called("check", "harbour-launch").stdout
    for word in ("gearbox input", "propeller", "N*m/deg", "backlash", "pitch rule", "Hz"):
        assert word in said


def test_check_with_json_gives_plain_si_values():
    document = json.loads(called("check", "harbour-launch", "--json").stdout)
    assert document["stations"][0]["name"] == "crank and flywheel"
    assert document["quantities"]["flywheel.inertia"]["source"] == "measured"
    assert np.isclose(document["couplings"][0]["ramps"][0]["slope"], 45 * 180 / np.pi)


def test_sweep_writes_a_file_that_opens_and_says_what_it_found(tmp_path):
    out = tmp_path / "ripple.nc"
    axes = ("plate.stiffness = 8 to 45 N*m/deg, 3 values", "rpm = 800, 1200", "misfiring = none, 3")
    vary = [word for axis in axes for word in ("--vary", axis)]
    said = called("sweep", "harbour-launch", *vary, "--out", out).stdout
    assert "12 points" in said
    with xr.open_dataset(out, engine="h5netcdf") as ds:
        assert ds.status.dims == ("plate_stiffness", "rpm", "misfiring")
        assert ds.plate_stiffness.attrs["units"] == "N*m/deg"
        assert list(ds.misfiring.values) == ["none", "3"]


def test_a_sweep_that_was_stopped_is_gone_on_with_by_resume_only(tmp_path, monkeypatch):
    def full(*_, **__):
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC), "chunk")

    out = tmp_path / "ripple.nc"
    ask = ("sweep", "harbour-launch", "--vary", "rpm = 1500 to 2400, 100 values", "--out", out)
    monkeypatch.setattr("calmshaft.storage.into_file.assemble", full)
    said = called(*ask, code=2).stderr
    assert "chunk cannot be written: no space left on device; 100 of 100 points are kept in" in said
    monkeypatch.undo()
    assert "go on with resume=True (--resume)" in called(*ask, code=2).stderr
    assert "100 points: " in called(*ask, "--resume").stdout
    assert [path.name for path in tmp_path.iterdir()] == ["ripple.nc"]
    assert "ripple.nc is complete already: nothing was run" in called(*ask, "--resume").stderr
    out.unlink()
    assert "begins with its first point" in called(*ask, "--resume").stderr


def test_axes_set_together_are_points_side_by_side(tmp_path):
    axes = ("rpm = 1500, 1800, 2000", "gear = ahead, neutral", "misfiring = none, 3, 1")
    vary = [word for axis in axes for word in ("--vary", axis)]
    together = ("--together", "rpm, misfiring")
    assert "6 points: " in called("sweep", "harbour-launch", *vary, *together, "--out", tmp_path / "o.nc").stdout
    with xr.open_dataset(tmp_path / "o.nc", engine="h5netcdf") as ds:
        assert ds.status.dims == ("gear", "point")
        assert [*zip(ds.rpm.values, ds.misfiring.values, strict=True)] == [(1500, "none"), (1800, "3"), (2000, "1")]
    called("sweep", "harbour-launch", *vary, *together, "--out", tmp_path / "o.csv")
    heading, first, second, *_ = (tmp_path / "o.csv").read_text().splitlines()
    assert heading.startswith("gear,point,rpm [rpm],misfiring,")
    assert first.startswith("ahead,0,1500,none,")
    assert second.startswith("ahead,1,1800,3,")


@pytest.mark.parametrize(
    ("together", "words"),
    [
        (("rpm, misfirin",), ["did you mean misfiring?"]),
        (("rpm", "load, gear"), ["stands alone", "is not varied"]),
        (("rpm, misfiring", "misfiring, gear"), ["is named twice"]),
        (("rpm, gear",), ["3 of rpm, 2 of gear", "one length"]),
    ],
)
def test_axes_that_cannot_stand_together_are_refused_and_nothing_is_written(tmp_path, together, words):
    axes = ("rpm = 1500, 1800, 2000", "gear = ahead, neutral", "misfiring = none, 3, 1")
    options = [word for axis in axes for word in ("--vary", axis)]
    options += [word for text in together for word in ("--together", text)]
    said = called("sweep", "harbour-launch", *options, "--out", tmp_path / "o.nc", code=2).stderr
    assert all(one in said for one in words)
    assert not list(tmp_path.iterdir())


def test_a_sweep_of_very_many_points_is_begun_with_yes_only(tmp_path):
    axes = ("rpm = 2300 to 2400, 1000 values", "plate.stiffness = 8 to 60 N*m/deg, 1000 values")
    vary = [word for axis in axes for word in ("--vary", axis)]
    said = called("sweep", "harbour-launch", *vary, "--out", tmp_path / "o.nc", code=2).stderr
    assert "'1,000,000 points': more than 200,000" in said
    assert "GB" in said
    assert "--yes" in said
    assert not list(tmp_path.iterdir())


def test_sweep_writes_csv_with_units_in_the_heading(tmp_path):
    out = tmp_path / "ripple.csv"
    called("sweep", "harbour-launch", "--vary", "rpm = 800, 1200", "--out", out)
    heading = out.read_text().splitlines()[0]
    assert "mesh_torque_vibratory [N m]" in heading
    assert "status" in heading


@pytest.mark.parametrize(
    ("vary", "words"),
    [
        ("plate.stifness = 8, 20 N*m/deg", "plate.stiffness"),
        ("rpm", "needs a name and its values"),
        ("rpm = fast", "must be numbers"),
        ("rpm = 800, 800", "twice"),
        ("rpm = 800:1200:100", 'write how many: "rpm = 800 to 1200, 14 values"'),
        ("plate.stiffness = 9-45 N*m/deg", 'write how many: "plate.stiffness = 9 to 45 N*m/deg, 14 values"'),
        ("plate.stiffness = 8, 20", "unit"),
        ("plate.stiffness = 8, 20 kg", "stiffness"),
        ("misfiring = 5", "cylinders 1 to 4"),
        ("rpm = 20, 800", "rpm"),
    ],
)
def test_a_sweep_axis_that_cannot_be_is_refused_and_nothing_written(vary, words, tmp_path):
    out = tmp_path / "o.nc"
    result = called("sweep", "harbour-launch", "--vary", vary, "--out", out, code=2)
    assert words in result.stderr
    assert not out.exists()
    assert not list(tmp_path.iterdir())


def test_new_writes_a_file_that_check_takes_and_never_overwrites(tmp_path):
    path = tmp_path / "mine.toml"
    called("new", path)
    called("check", path)
    before = path.read_text()
    assert "exists already" in called("new", path, code=2).stderr
    assert path.read_text() == before


def test_faults_name_file_and_line_all_at_once(tmp_path):
    path = tmp_path / "bad.toml"
    text = (LINES / "harbour-launch.toml").read_text()
    text = text.replace('bore = "92 mm"', 'bore = "92 kg"')
    text = text.replace('hub_inertia = "0.004 kg*m^2"', 'hub_inertia = "-0.004 kg*m^2"')
    path.write_text(text.replace("ratio = 2.0", "ratio = 0", 1).replace("blades", "blade"))
    said = called("check", path, code=2).stderr
    for words in ("bad.toml:", "engine.bore", "blades"):
        assert words in said


def test_an_unknown_file_or_sample_is_one_message():
    assert "cannot be read" in called("run", "harbor-lunch.toml", code=2).stderr


def test_faults_of_the_file_and_of_all_options_are_told_together(tmp_path):
    path = tmp_path / "bad.toml"
    path.write_text((LINES / "harbour-launch.toml").read_text().replace('bore = "92 mm"', 'bore = "92 kg"'))
    options = ("--gear", "sideways", "--misfiring", "nine", "--load", "3 kg")
    said = called("run", path, *options, code=2).stderr
    for words in ("bad.toml:", "engine.bore", "sideways", "nine", "3 kg"):
        assert words in said
    said = called("run", "harbour-launch", "--rpm", 0, "--misfiring", 7, code=2).stderr
    for words in ("rpm", "cylinders 1 to 4"):
        assert words in said


def test_faults_of_all_axes_and_of_the_name_of_the_result_are_told_together(tmp_path):
    vary = ("--vary", "rpm = fast", "--vary", "rpm")
    said = called("sweep", "harbour-launch", *vary, "--out", tmp_path / "o.txt", code=2).stderr
    for words in ("fast", "needs a name and its values", ".nc or .csv"):
        assert words in said
    vary = ("--vary", "plate.stifness = 8, 20 N*m/deg", "--vary", "misfiring = none, 9", "--vary", "rpm = 800, 800")
    said = called("sweep", "harbour-launch", *vary, "--out", tmp_path / "o.nc", code=2).stderr
    for words in ("plate.stiffness", "cylinders 1 to 4", "twice"):
        assert words in said


def test_schema_tells_what_each_key_takes_its_rule_and_how_to_measure_it():
    known = {one["key"]: one for one in json.loads(called("schema", "--json").stdout)}
    assert "kg*m^2" in known["propeller.water_inertia"]["takes"]
    assert {"rule", "range", "measure", "formula", "source"} <= set(known["propeller.water_inertia"]["rules"][0])
    assert known["engine.bore"]["required"]
    assert not known["shaft.divisions"]["required"]


def test_schema_shows_one_section_and_refuses_what_is_none():
    said = called("schema", "gearbox.unloaded").stdout
    assert all(line.startswith(("gearbox.unloaded[].", "    ")) for line in said.splitlines())
    assert "did you mean plate?" in called("schema", "plat", code=2).stderr


def test_check_says_in_words_what_moves_in_each_mode():
    said = called("check", "harbour-launch").stdout
    assert "propeller on the plate and its shaft" in said
    assert "gearbox against propeller on the shaft" in said
    assert "gear teeth" in said
    assert "above range" in said


def test_version_and_help():
    assert called("--version").stdout[0].isdigit()
    assert "Example" in called("sweep", "--help").stdout


def test_a_shipped_line_written_almost_right_is_offered():
    assert "did you mean harbour-launch?" in called("check", "harbor-launch", code=2).stderr


def test_a_speed_may_carry_its_unit_and_is_else_refused_in_words(quiet_line):
    assert called("run", quiet_line, "--rpm", "800 rpm").stdout == called("run", quiet_line, "--rpm", 800).stdout
    assert "'fast' is not a speed" in called("run", quiet_line, "--rpm", "fast", code=2).stderr


def test_schema_explains_with_the_launchs_own_values():
    said = called("schema", "engine").stdout
    assert "engine.compression_ratio: a pure number, e.g. 18.5" in said
    assert "engine.firing_order: a list, e.g. [1, 3, 4, 2]" in said


def test_schema_explains_only_keys_that_exist():
    from calmshaft.commands.schema_words import MEANINGS

    keys = {one["key"] for one in json.loads(called("schema", "--json").stdout)}
    assert set(MEANINGS) <= keys


def test_check_says_where_values_come_from_and_what_to_measure_first():
    said = called("check", "harbour-launch", "--rpm", 1600).stdout
    assert "1 measured" in said
    rows = said[said.index("Values with a range") : said.index("Values: ")]
    assert "flywheel.inertia" in rows  # measured, yet with a range
    assert "burn_coefficient" not in rows  # estimated, yet without one
    ends = said[said.index("What matters most") :].splitlines()[3:9]
    assert len({line.split()[0] for line in ends}) == 6
    assert "Measure first: " in said
