"""Limits that a user enters with their document: read, shown, and judged by. All numbers are invented."""

import copy
import json
import math

import numpy as np
import pytest
from typer.testing import CliRunner

import calmshaft as cs
from calmshaft.app import app
from calmshaft.choosing.aims import aims_of
from calmshaft.judgement import judge
from calmshaft.judgement.entered import ENTERED, speeds_words
from calmshaft.schema import Limits

SHEET = "maker's sheet, invented"
SUBJECTS = [one.subject for one in ENTERED.values()]


def with_limits(**limits):
    document = copy.deepcopy(cs.sample_line("harbour-launch").document)
    document["limits"] = {key: {"value": value, "document": SHEET} for key, value in limits.items()}
    return cs.line_from_document(document, "launch")


def entered(line, run):
    return {one.subject: one for one in judge(line, run) if one.document and one.subject in SUBJECTS}


@pytest.fixture(scope="module")
def run():
    return cs.steady(cs.sample_line("harbour-launch"), cs.Condition(rpm=1500))


def test_every_limit_of_the_schema_is_judged_and_explained():
    assert list(ENTERED) == list(Limits.model_fields)


def test_a_line_without_limits_is_judged_as_before(run):
    subjects = [one.subject for one in judge(run.line, run)]
    assert subjects == ["teeth of the loaded mesh", "vibratory torque against mean", "stop of the plate",
                        "coil bind of the plate", "torque stated for the plate", "bolt slip",
                        "crankshaft stress and front end"]  # fmt: skip
    assert [one.word for one in judge(run.line, run)][-1] == "not judged"


@pytest.mark.parametrize(("share", "word"), [(2.0, "within"), (1.05, "near"), (0.9, "over")])
def test_word_number_limit_margin_and_document(run, share, word):
    vibratory = run.measures["mesh_torque_vibratory"]
    line = with_limits(gearbox_vibratory_torque=f"{share * vibratory} N*m")
    one = entered(line, run)["gearbox vibratory torque"]
    assert one.word == word
    assert one.value == vibratory
    assert one.limit == pytest.approx(share * vibratory, rel=1e-12)
    assert one.margin == pytest.approx(1 - 1 / share, rel=1e-9)
    assert f"({SHEET})" in one.finding
    assert ("left" if share > 1 else "over") in one.finding


def test_each_limit_takes_its_value_from_the_recorded_motion(run):
    # second way: by NumPy from the signals themselves
    line = with_limits(
        plate_alternating_torque="1 kN*m", plate_greatest_torque="1 kN*m", plate_twist="1 rad", plate_heat="9 kW",
        gearbox_greatest_torque="1 kN*m", shaft_vibratory_torque="1 kN*m", shaft_vibratory_stress="1000 MPa",
        unloaded_pair_alternating_torque="1 kN*m", cyclic_irregularity=0.5,
    )  # fmt: skip
    found = {subject: one.value for subject, one in entered(line, run).items()}
    torque = {str(n): run.signals["torque"].sel(coupling=n).values[:-1] for n in run.signals["coupling"].values}
    twist = np.degrees(run.signals["twist"].sel(coupling="plate").values)
    speed = run.signals["speed"].sel(station="crank and flywheel").values
    cycles = round(float(run.signals["crank_angle"][-1] - run.signals["crank_angle"][0]) / (4 * np.pi))
    lines = np.fft.rfft(torque["shaft"])
    lines[0], lines[24 * cycles + 1 :] = 0.0, 0.0
    shaft = np.ptp(np.fft.irfft(lines, torque["shaft"].size)) / 2
    nodes = 2e-3  # nodes beside peaks between them
    teeth = 4e-3  # nodes of teeth carry means over a step, see flattened_peaks() in simulate/method.hpp
    impacts = 0.1  # those of the free pair are over within a few nodes, and which one is highest is left to chance
    assert found["plate alternating torque"] == pytest.approx(np.ptp(torque["plate"]) / 2, rel=nodes)
    assert found["plate greatest torque"] == pytest.approx(np.abs(torque["plate"]).max(), rel=nodes)
    assert found["gearbox greatest torque"] == pytest.approx(np.abs(torque["loaded mesh"]).max(), rel=teeth)
    assert found["unloaded pair alternating torque"] == pytest.approx(np.ptp(torque["free pair"]) / 2, rel=impacts)
    assert found["plate twist"] == pytest.approx(np.abs(twist).max(), rel=nodes)
    assert found["cyclic irregularity"] == pytest.approx(np.ptp(speed) / speed.mean(), rel=nodes)
    assert found["shaft vibratory torque"] == pytest.approx(shaft, rel=nodes)
    assert found["shaft vibratory stress"] == pytest.approx(16e-6 * shaft / (np.pi * 0.035**3), rel=nodes)
    assert found["plate heat"] == run.measures["plate_heat_power"]


def test_mean_and_vibratory_torque_stand_together_and_over_the_rated_torque(run):
    line = with_limits(gearbox_mean_and_vibratory_torque="1 kN*m", application_factor=2)
    found = {subject: one.value for subject, one in entered(line, run).items()}
    together = run.measures["mesh_torque_mean"] + run.measures["mesh_torque_vibratory"]
    assert found["gearbox mean and vibratory torque"] == pytest.approx(together, rel=1e-12)
    assert found["application factor"] == pytest.approx(together / 250, rel=1e-12)  # rated_torque of the sample's box


def test_without_the_gearbox_makers_torque_no_application_factor_is_judged(run):
    document = copy.deepcopy(with_limits(application_factor=2).document)
    del document["gearbox"]["rated_torque"]
    line = cs.line_from_document(document)
    one = entered(line, cs.steady(line, cs.Condition(1500)))["application factor"]
    assert one.word == "not judged"
    assert one.matters
    assert "without the gearbox maker's rated_torque" in one.finding


def test_the_stress_of_a_stepped_shaft_is_not_judged_by_a_plain_one(run):
    document = copy.deepcopy(with_limits(shaft_vibratory_stress="40 MPa").document)
    pieces = [{"length": "1.2 m", "diameter": "35 mm"}, {"length": "1.0 m", "diameter": "30 mm"}]
    document["shaft"] = {"material": "steel", "pieces": pieces}
    line = cs.line_from_document(document)
    one = entered(line, cs.steady(line, cs.Condition(1500)))["shaft vibratory stress"]
    assert (one.word, one.matters) == ("not judged", True)
    assert "not one plain solid piece" in one.finding


def test_in_neutral_a_limit_of_the_mesh_is_not_judged_and_leaves_nothing_open():
    line = with_limits(gearbox_vibratory_torque="75 N*m", shaft_vibratory_stress="40 MPa")
    judged = entered(line, cs.steady(line, cs.Condition(rpm=900, gear="neutral")))
    assert {one.word for one in judged.values()} == {"not judged"}
    assert not any(one.matters for one in judged.values())
    assert all("in neutral there is none" in one.finding for one in judged.values())


def test_a_stalled_run_leaves_limits_not_judged():
    line = with_limits(gearbox_vibratory_torque="75 N*m")
    run = cs.steady(line, cs.Condition(rpm=600, misfiring="1+2+3", load="900 N*m", fuelling="fixed"))
    assert run.status == "stalled"
    assert judge(line, run)[-1].word == "not judged"
    assert math.isnan(judge(line, run)[-1].value)


@pytest.mark.parametrize(
    ("key", "written", "message"),
    [
        ("gearbox_vibratory_torque", {"value": "75 kW", "document": "x"}, "a torque is needed"),
        ("gearbox_vibratory_torque", {"value": 75, "document": "x"}, "a unit is needed"),
        ("gearbox_vibratory_torque", {"value": "0 N*m", "document": "x"}, "must be more than zero"),
        ("gearbox_vibratory_torque", "75 N*m", "a limit needs the document"),
        ("gearbox_vibratory_torque", {"value": "75 N*m", "document": " "}, "a limit needs the document"),
        ("gearbox_vibratory_torque", {"document": "x"}, "value is missing"),
        ("plate_twist", {"value": "7 deg", "document": "x", "range": "1 %"}, "range is not a key of a limit"),
        ("plate_twist", [], "an empty list is no limit"),
        (
            "plate_twist",
            {"value": "7 deg", "document": "x", "from": "900 rpm", "to": "800 rpm"},
            "ends before it begins",
        ),
        ("plate_twist", {"value": "7 deg", "document": "x", "from": "900 N*m"}, "a speed of rotation is needed"),
        (
            "plate_twist",
            [{"value": "7 deg", "document": "x"}, {"value": "8 deg", "document": "x", "to": "900 rpm"}],
            "ranges overlap",
        ),
        ("plate_temperature", {"value": "80 K", "document": "x"}, "no temperature is worked out"),
        ("plate_twst", {"value": "7 deg", "document": "x"}, 'did you mean "plate_twist"'),
    ],
)
def test_a_limit_that_is_not_well_written_is_refused(key, written, message):
    document = copy.deepcopy(cs.sample_line("harbour-launch").document)
    document["limits"] = {key: written}
    with pytest.raises(cs.LineError, match=message):
        cs.line_from_document(document)


def test_limits_are_no_values_of_the_line():
    line = with_limits(gearbox_vibratory_torque="75 N*m")
    assert line.paths() == cs.sample_line("harbour-launch").paths()
    assert line.replace({"flywheel.inertia": "0.5 kg*m^2"}).limits == line.limits


def test_check_shows_the_limits_and_run_judges_by_them(tmp_path):
    text = (cs.line.LINES / "harbour-launch.toml").read_text()
    path = tmp_path / "launch.toml"
    path.write_text(text + f'\n[limits]\nplate_twist = {{ value = "1 deg", document = "{SHEET}" }}\n')
    shown = CliRunner().invoke(app, ["check", str(path)])
    assert "Limits entered" in shown.stdout
    assert SHEET in shown.stdout
    ran = CliRunner().invoke(app, ["run", str(path), "--rpm", "1500", "--json"])
    assert ran.exit_code == 1
    judged = json.loads(ran.stdout)["judgement"][-1]
    assert (judged["subject"], judged["word"], judged["document"]) == ("plate twist", "over", SHEET)
    assert judged["margin"] == pytest.approx(1 - judged["value"] / judged["limit"])


# limits that belong to speeds

BANDS = [{"value": "1 N*m", "document": "sheet 2", "from": "1200 rpm", "to": "2000 rpm"},
         {"value": "1000 N*m", "document": "sheet 1", "to": "1200 rpm"}]  # fmt: skip


def banded(key="plate_alternating_torque", bands=BANDS):
    document = copy.deepcopy(cs.sample_line("harbour-launch").document)
    document["limits"] = {key: bands}
    return cs.line_from_document(document, "launch")


def test_a_limit_of_a_speed_range_judges_only_runs_in_it(run):
    line = banded()
    one = entered(line, run)["plate alternating torque"]
    assert (one.word, one.limit, one.document) == ("over", pytest.approx(1.0), "sheet 2")
    slow = entered(line, cs.steady(line, cs.Condition(900)))["plate alternating torque"]
    assert (slow.word, slow.limit, slow.document) == ("within", pytest.approx(1000.0), "sheet 1")
    fast = entered(line, cs.steady(line, cs.Condition(2400)))["plate alternating torque"]
    assert (fast.word, fast.matters) == ("not judged", False)
    assert fast.finding == "it belongs to other speeds, up to 2,000 rpm"


def test_where_two_ranges_meet_the_narrower_limit_counts():
    line = banded()
    assert line.limits["plate_alternating_torque"].at_speed(1200 * math.pi / 30).value == pytest.approx(1.0)
    assert line.limits["plate_alternating_torque"].at_speed(2001 * math.pi / 30) is None


@pytest.mark.parametrize("key", ["plate_alternating_torque", "shaft_vibratory_torque"])
def test_over_speed_each_range_has_its_own_limit_and_other_speeds_do_not_decide(key):
    verdicts = {}
    for name, bands in {
        "both": BANDS,
        "slow": BANDS[1:],
        "none": [{**BANDS[0], "from": "2700 rpm", "to": "2800 rpm"}],
    }.items():
        found = cs.compare({name: banded(key, bands)}, rpm=[800.0, 1100.0, 1500.0, 1900.0, 2400.0], gears=["ahead"])
        verdicts[name] = next(
            one for one in found.verdicts if one.subject == ENTERED[key].subject and one.cylinders == "all fire"
        )
    assert (verdicts["both"].word, verdicts["both"].document) == ("over", "sheet 2")
    assert verdicts["both"].limit == pytest.approx(1.0)
    assert 1200 < verdicts["both"].rpm < 2000
    assert verdicts["slow"].word == "within"
    assert verdicts["slow"].rpm <= 1200
    assert (verdicts["none"].word, verdicts["none"].finding) == ("not judged", "no speed of it was asked")


def test_choose_holds_each_speed_to_the_limit_of_its_range():
    aims = [aim for aim in aims_of(banded("plate_twist", [
        {"value": "7 deg", "document": "sheet 1", "to": "1200 rpm"},
        {"value": "8 deg", "document": "sheet 2", "from": "1800 rpm"},
    ])).all if aim.key == "plate_twist"]  # fmt: skip
    assert [aim.words for aim in aims] == [
        "plate twist no more than 7 deg up to 1,200 rpm (sheet 1)",
        "plate twist no more than 8 deg from 1,800 rpm on (sheet 2)",
    ]
    assert max(at.rpm for at in aims[0].conditions) <= 1200
    assert min(at.rpm for at in aims[1].conditions) >= 1800
    passed_by = banded("plate_twist", [{"value": "7 deg", "document": "sheet", "from": "961 rpm", "to": "962 rpm"}])
    assert "plate twist: not judged here, none of its speeds is looked at" in aims_of(passed_by).left_out


def test_ranges_with_a_gap_are_named_apart():
    bands = [{"value": "7 deg", "document": "a", "to": "1200 rpm"},
             {"value": "8 deg", "document": "b", "from": "1800 rpm"}]  # fmt: skip
    assert speeds_words(banded("plate_twist", bands).limits["plate_twist"]) == "up to 1,200 rpm and from 1,800 rpm on"


def test_plausible_cases_are_held_to_the_limit_of_their_speed():
    from calmshaft.uncertainties.asked import usual_limits

    bands = [
        {"value": "60 N*m", "document": "a", "to": "1200 rpm"},
        {"value": "90 N*m", "document": "b", "from": "1201 rpm"},
    ]
    line = banded("gearbox_vibratory_torque", bands)
    for rpm, value in ((900, 60.0), (1500, 90.0)):
        assert usual_limits(line, cs.Condition(rpm))["mesh_torque_vibratory"] == pytest.approx(value)


def test_check_lists_a_row_for_each_range():
    from calmshaft.judgement.entered import limit_rows

    rows = limit_rows(banded())
    assert [row[2] for row in rows[1:]] == ["sheet 1", "sheet 2"]
    assert rows[1][3].endswith("up to 1,200 rpm")
    assert rows[2][3].endswith("1,200 to 2,000 rpm")
