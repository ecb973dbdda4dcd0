"""Candidates beside each other: every verdict has its deciding number, and nothing is within without a valid point."""

import json

import numpy as np
import pytest
from typer.testing import CliRunner

import calmshaft as cs
from calmshaft import plots
from calmshaft.app import app
from calmshaft.judgement import comparison

LAUNCH = cs.sample_line("harbour-launch")
SPEEDS = [800.0, 900.0, 1500.0, 2600.0]


@pytest.fixture(scope="module")
def found():
    return cs.compare({"plate A": LAUNCH, "plate B": LAUNCH.with_plate("plate-b")}, rpm=SPEEDS)


def the(found, line, subject, cylinders="all fire"):
    return next(
        one for one in found.verdicts if (one.line, one.subject, one.cylinders) == (line, subject, cylinders)
    )


def test_the_old_plate_parts_its_teeth_at_idle_and_the_softer_one_does_not(found):
    assert the(found, "plate A", "teeth at idle").word == "over"
    assert the(found, "plate B", "teeth at idle").word == "within"


def test_a_dead_cylinder_parts_the_teeth_of_plate_b_again(found):
    verdict = the(found, "plate B", "teeth at idle", "one dead")
    assert (verdict.word, verdict.rpm) == ("over", 800.0)
    assert verdict.cylinder == 0  # evenly firing: any


def test_of_an_engine_that_fires_unevenly_the_worst_cylinder_is_named():
    engine = dict(LAUNCH.document["engine"])
    del engine["firing_order"]
    engine["firing_angles"] = ["0 deg", "540 deg", "200 deg", "380 deg"]
    line = cs.line_from_document({**LAUNCH.document, "engine": engine}).with_plate("plate-b")
    found = cs.compare({"uneven": line}, rpm=[900.0, 1500.0], gears=["ahead"])
    assert list(found.datasets["uneven", "ahead"].misfiring.values) == ["none", "1", "2", "3", "4"]
    assert the(found, "uneven", "stop of the plate", "one dead").cylinder in (1, 2, 3, 4)


def test_the_deciding_number_is_that_of_one_steady_run(found):
    verdict = the(found, "plate A", "stop of the plate")
    run = cs.steady(LAUNCH, cs.Condition(verdict.rpm))
    plate = LAUNCH.core.plate
    never = run.status == "aperiodic"
    greatest = run.spread["plate_twist_max"]["highest_cycle"] if never else run.best("plate_twist_max")
    least = run.spread["plate_twist_min"]["lowest_cycle"] if never else run.best("plate_twist_min")
    assert verdict.value == max(greatest / plate.drive.stop_angle, -least / plate.coast.stop_angle)
    assert verdict.margin == 1 - verdict.value


def test_speeds_that_a_weak_engine_cannot_hold_decide_nothing(found):
    assert found.datasets["plate B", "ahead"].overfuelled.sel(rpm=2600, misfiring="1")
    assert the(found, "plate B", "torque stated for the plate", "one dead").rpm < 2600


def test_nothing_is_within_where_a_point_has_no_result(found):
    ds = found.datasets["plate B", "ahead"].copy(deep=True)
    ds["status"].loc[{"rpm": 1500.0}] = 4
    made = comparison._verdicts("B", LAUNCH.with_plate("plate-b"), "ahead", ds)
    under_way = next(one for one in made if (one.subject, one.cylinders) == ("teeth under way", "all fire"))
    assert under_way.word == "not judged"
    assert "1,500 rpm" in under_way.finding


def test_a_plate_without_stop_or_stated_torque_is_not_judged_in_them():
    plate = dict(cs.load_plate("plate-b"))
    del plate["stop_angle"], plate["rated_torque"]
    found = cs.compare({"bare": LAUNCH.with_plate(plate)}, rpm=[800.0, 1500.0], gears=["ahead"])
    assert the(found, "bare", "stop of the plate").word == "not judged"
    assert the(found, "bare", "torque stated for the plate").word == "not judged"


def test_the_picture_has_a_panel_a_case_and_a_line_a_candidate(found):
    figure = plots.comparison(found)
    panels = [ax for ax in figure.axes if ax.lines]
    assert len(panels) == 4
    drawn = panels[0].lines[0]
    assert np.allclose(drawn.get_ydata(), 100 * found.datasets["plate A", "ahead"].mesh_separated_share[:, 0])


def called(*arguments, code):
    result = CliRunner().invoke(app, ["compare", *map(str, arguments)])
    assert result.exit_code == code, result.output
    return result


def test_the_command_compares_lines_plates_and_changes(tmp_path):
    candidates = ("harbour-launch", "--plate", "plate-b", "--change", "engine.idle_rpm = 900")
    result = called(*candidates, "--out", tmp_path, code=1)
    assert "plate-b: " in result.stdout
    assert "engine.idle_rpm = 900: " in result.stdout
    assert "licensed practice" in result.stdout
    assert (tmp_path / "comparison.png").exists()


def test_with_json_every_verdict_has_its_number_limit_margin_and_speed():
    document = json.loads(called("harbour-launch", "--plate", "plate-c", "--json", code=1).stdout)
    assert {"value", "limit", "margin", "rpm", "word", "finding"} <= set(document["verdicts"][0])
    assert {one["word"] for one in document["verdicts"]} <= {"within", "near", "over", "not judged"}


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["harbour-launch"], "only candidate"),
        (["harbour-launch", "harbour-launch"], "two candidates"),
        (["harbour-launch", "--change", "engine.idel_rpm = 850"], "did you mean"),
        (["harbour-launch", "--change", "idle"], "needs a key and a value"),
        (["harbour-launch", "--plate", "plate-x"], "did you mean plate-b"),
    ],
)
def test_what_cannot_be_compared_is_refused_and_nothing_written(tmp_path, arguments, words):
    assert words in called(*arguments, "--out", tmp_path / "study", code=2).stderr
    assert not (tmp_path / "study").exists()
