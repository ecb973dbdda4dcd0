"""Where commands write to: looked at before any work, and no result takes the place of another."""

import errno
import json
import os

import pytest
from typer.testing import CliRunner

import calmshaft as cs
from calmshaft.app import app
from calmshaft.places import LONGEST, into_file, into_folder, name_at, name_of

SWEEP = ("sweep", "harbour-launch", "--vary", "rpm = 800, 1200", "--out")
# command up to --out, and the file in a folder that it wants, nothing where it wants the folder
COMMANDS = [
    (("run", "harbour-launch", "--no-band", "--out"), ""),
    (("compare", "harbour-launch", "harbour-launch-six", "--out"), ""),
    (("choose", "harbour-launch", "--out"), ""),
    (("uncertainty", "harbour-launch", "--out"), ""),
    (("misfiring", "harbour-launch", "--out"), ""),
    (("plate", "plate-d", "--out"), ""),
    (("demo", "--out"), ""),
    (SWEEP, "o.nc"),
    (("report", "harbour-launch", "--out"), "r.html"),
    (("report", "harbour-launch", "--letter"), "l.txt"),
    (("misfiring", "harbour-launch", "--card"), "card.html"),
    (("worksheet", "hang", "--out"), "sheet.html"),
    (("match", "harbour-launch", "--neutral-quiet-at", "900 rpm", "--out"), "m.toml"),
    (("new",), "n.toml"),
]
names = pytest.mark.parametrize(("command", "file"), COMMANDS, ids=[" ".join(words) for words, _ in COMMANDS])


def refused(command, path):
    result = CliRunner().invoke(app, [*command, str(path)])
    assert result.exit_code == 2, result.output
    assert result.stdout == ""
    return result.stderr


@names
def test_a_file_in_place_of_a_folder_is_told_before_any_work(command, file, tmp_path):
    (tmp_path / "taken").write_text("mine")
    said = refused(command, tmp_path / "taken" / "deeper" / file)
    assert f"cannot be written, {tmp_path / 'taken'} is a file and no folder; choose another place" in said
    assert (tmp_path / "taken").read_text() == "mine"


@names
def test_a_folder_that_takes_no_files_is_told_before_any_work(command, file, tmp_path, monkeypatch):
    def locked(*args, **options):
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))

    monkeypatch.setattr("calmshaft.places.tempfile.TemporaryDirectory", locked)
    assert "cannot be written, permission denied; choose another place" in refused(command, tmp_path / file)


@pytest.mark.parametrize(("command", "file"), [one for one in COMMANDS if one[1] and one[0] != ("new",)])
def test_a_folder_in_place_of_a_file_is_told_before_any_work(command, file, tmp_path):
    (tmp_path / file).mkdir()
    assert any(words in refused(command, tmp_path / file) for words in ("a folder has that name", "exists already"))


def test_a_place_that_is_wrong_is_told_together_with_the_rest(tmp_path):
    (tmp_path / "taken").write_text("mine")
    said = refused(("run", "harbour-launch", "--gear", "ahaed", "--out"), tmp_path / "taken")
    assert "did you mean" in said
    assert "is a file and no folder" in said


def test_missing_folders_are_made_only_when_something_is_written(tmp_path):
    into_folder(tmp_path / "a" / "b")
    into_file(tmp_path / "a" / "c" / "page.html", (".html",))
    assert list(tmp_path.iterdir()) == []


def test_a_whole_sweep_is_read_again_where_nothing_can_be_written(tmp_path, monkeypatch):
    out = tmp_path / "o.nc"
    assert CliRunner().invoke(app, [*SWEEP, str(out)]).exit_code == 0

    def locked(*args, **options):
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))

    monkeypatch.setattr("calmshaft.places.tempfile.TemporaryDirectory", locked)
    assert "2 points" in CliRunner().invoke(app, [*SWEEP, str(out), "--resume"]).stdout


def test_two_reports_in_one_folder_keep_their_data(tmp_path):
    for name in ("harbour-launch", "harbour-launch-six"):
        CliRunner().invoke(app, ["report", name, "--out", str(tmp_path / f"{name}.html")])
        title = json.loads((tmp_path / f"{name}.json").read_text())["title"]
        assert title == cs.sample_line(name).title
    assert len(list(tmp_path.iterdir())) == 4


def test_two_runs_in_one_folder_keep_their_results(tmp_path):
    for options in (["--rpm", "800"], ["--rpm", "1500"], ["--rpm", "1500", "--misfiring", "3@50%"]):
        CliRunner().invoke(app, ["run", "harbour-launch", "--no-band", "--out", str(tmp_path), *options])
    assert sorted(path.name for path in tmp_path.glob("*.png")) == [
        "harbour-launch-1500rpm-ahead-misfiring-3at50-torque.png",
        "harbour-launch-1500rpm-ahead-torque.png",
        "harbour-launch-800rpm-ahead-torque.png",
    ]


def test_names_hold_what_tells_results_apart_and_stay_short():
    other = cs.Condition(1200, "ahead", "3+4", load="60 N*m", fuelling="fixed")
    assert name_at("my line.toml", other, "torque") == "my-line-1200rpm-ahead-misfiring-3+4-60-N-m-fixed-torque"
    assert name_of("") == "line"
    long = [name_of(*["plate-with-a-long-name"] * 5, word) for word in ("b", "c")]
    assert long[0] != long[1]
    assert max(map(len, long)) == LONGEST
