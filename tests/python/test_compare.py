"""Candidates beside each other: every verdict has its deciding number, and nothing is within without a valid point."""

import copy
import json
from itertools import product

import numpy as np
import pytest
from typer.testing import CliRunner

import calmshaft as cs
from calmshaft import plots, units
from calmshaft.app import app
from calmshaft.judgement import comparison, judge, over_speed
from calmshaft.reports.judged import avoided
from calmshaft.results import MEASURES
from calmshaft.schema_paths import kind_at
from calmshaft.speed_steps import running_speeds
from test_monte_carlo import exact_but

LAUNCH = cs.sample_line("harbour-launch")
SPEEDS = [800.0, 900.0, 1500.0, 2600.0]


@pytest.fixture(scope="module")
def found():
    return cs.compare({"plate A": LAUNCH, "plate B": LAUNCH.with_plate("plate-b")}, rpm=SPEEDS)


def the(found, line, subject, cylinders="all fire"):
    return next(one for one in found.verdicts if (one.line, one.subject, one.cylinders) == (line, subject, cylinders))


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
    share = max(greatest / plate.drive.stop_angle, -least / plate.coast.stop_angle)
    assert verdict.value / verdict.limit == pytest.approx(share, rel=1e-12)
    assert (verdict.limit, verdict.unit) == (8.0, "deg")
    assert verdict.margin == 1 - verdict.value / verdict.limit
    assert verdict.margin_words.endswith(" left")


def test_speeds_that_a_weak_engine_cannot_hold_decide_nothing(found):
    assert found.datasets["plate B", "ahead"].overfuelled.sel(rpm=2600, misfiring="1")
    assert the(found, "plate B", "torque stated for the plate", "one dead").rpm < 2600


def judged_again(ds, line=None, at=None):
    cases = {"all fire": ["none"], "one dead": ["1"]}
    return comparison.judged("B", line or LAUNCH.with_plate("plate-b"), at or cs.Condition(800.0), ds, cases)


MEASURED = ("mesh_separated_share", "mesh_torque_vibratory", "mesh_torque_mean", "plate_twist_max", "plate_torque_max")
ALL_LIMITS = {key: {"value": value, "document": "invented"} for key, value in {
    "gearbox_vibratory_torque": "9 kN*m", "gearbox_mean_and_vibratory_torque": "9 kN*m", "application_factor": 99,
    "plate_twist": "3 rad", "plate_greatest_torque": "9 kN*m", "plate_mean_torque": "9 kN*m",
}.items()}  # fmt: skip
POISONED = list(product([800.0, 1500.0], ["none", "1"], [-1, 3, 4, *MEASURED]))
TOUCHES = {
    "mesh_separated_share": ("teeth at idle", "teeth under way"),
    "mesh_torque_vibratory": ("vibratory torque against mean", "gearbox vibratory torque", "application factor",
                              "gearbox mean and vibratory torque"),
    "mesh_torque_mean": ("vibratory torque against mean", "application factor", "gearbox mean and vibratory torque"),
    "plate_twist_max": ("stop of the plate", "plate twist"),
    "plate_torque_max": ("torque stated for the plate", "plate greatest torque"),
}  # fmt: skip


@pytest.mark.parametrize(("rpm", "label", "lacking"), POISONED)
def test_nothing_is_within_where_a_point_is_not_valid_or_a_value_is_missing(found, rpm, label, lacking):
    line = cs.line_from_document({**LAUNCH.document, "limits": ALL_LIMITS}).with_plate("plate-b")
    ds = found.datasets["plate B", "ahead"].copy(deep=True)
    if ds.overfuelled.sel(rpm=rpm, misfiring=label):
        return  # left out, since the engine cannot hold that speed
    if isinstance(lacking, int):
        ds["status"].loc[{"rpm": rpm, "misfiring": label}] = lacking
    else:
        for name in [one for one in ds if str(one).startswith(lacking)]:
            ds[name].loc[{"rpm": rpm, "misfiring": label}] = np.nan
    case = "all fire" if label == "none" else "one dead"
    elsewhere = "teeth under way" if rpm <= 960 else "teeth at idle"
    hit = [one for one in judged_again(ds, line) if one.cylinders == case and one.subject != elsewhere
           and (isinstance(lacking, int) or one.subject in TOUCHES[lacking])]  # fmt: skip
    assert hit
    assert {one.word for one in hit} <= {"over", "not judged"}


@pytest.mark.parametrize("key", ["plate.stop_angle", "plate.rated_torque"])
def test_nothing_is_within_where_an_input_is_missing(found, key):
    plate = dict(cs.load_plate("plate-b"))
    del plate[key.removeprefix("plate.")]
    made = judged_again(found.datasets["plate B", "ahead"], LAUNCH.with_plate(plate))
    subject = "stop of the plate" if key == "plate.stop_angle" else "torque stated for the plate"
    assert {one.word for one in made if one.subject == subject} == {"not judged"}


def test_without_a_limit_the_number_stands_there_and_is_not_judged(found):
    factor = the(found, "plate B", "application factor")
    assert factor.word == "not judged"
    assert factor.finding == "up to 0.641; no limit is entered"
    assert not factor.matters


def test_crankshaft_and_front_end_are_not_judged_in_so_many_words(found):
    crank = [one for one in found.verdicts if one.subject == "crankshaft stress and front end"]
    assert [(one.line, one.word) for one in crank] == [("plate A", "not judged"), ("plate B", "not judged")]
    assert "the crank is taken as rigid" in crank[0].finding


def with_rule(**rule):
    document = copy.deepcopy(LAUNCH.document)
    document["shaft"] |= {"ultimate_strength": "500 MPa", "iacs_ur_m68": rule}
    return cs.line_from_document(document).with_plate("plate-b")


RULE = {"applies": True, "material": "carbon-manganese steel", "shape": "propeller shaft, keyed"}


def test_shaft_stress_by_the_rule_is_that_of_one_run_beside_the_rules_formula():
    line = with_rule(**RULE)
    found = cs.compare({"ruled": line}, rpm=[1500.0], gears=["ahead"], misfiring=["none"])
    verdict = the(found, "ruled", "shaft stress by IACS UR M68")
    run = cs.steady(line, cs.Condition(1500.0))
    torque = float(cs.signals.orders(run, "torque", "shaft").vibratory)
    # IACS UR M68 section 5, value from memory: (s_B + 160) / 18 C_K C_D (3 - 2 lambda^2), d 35 mm, lambda 1500 / 2600
    allowed = (500 + 160) / 18 * 0.55 * (0.35 + 0.93 * 35**-0.2) * (3 - 2 * (1500 / 2600) ** 2)
    assert verdict.value == pytest.approx(16e-6 * torque / (np.pi * 0.035**3), rel=1e-9)
    assert verdict.limit == pytest.approx(allowed, rel=1e-9)
    assert verdict.word == "within"
    assert "from memory" in verdict.document


@pytest.mark.parametrize(
    ("rule", "why"),
    [
        ({**RULE, "applies": False}, "nobody said"),
        ({"applies": True, "shape": "shrink fit"}, "outside of IACS UR M68"),
        ({**RULE, "material": "other"}, "outside of IACS UR M68"),
        ({"applies": True, "material": "alloy steel"}, "the shape of its end is not said"),
    ],
)
def test_a_shaft_outside_of_the_rule_is_not_judged_by_it(rule, why):
    found = cs.compare({"ruled": with_rule(**rule)}, rpm=[1500.0], gears=["ahead"], misfiring=["none"])
    verdict = the(found, "ruled", "shaft stress by IACS UR M68")
    assert verdict.word == "not judged"
    assert why in verdict.finding


def test_a_stress_beyond_the_rule_names_the_range_to_pass_quickly_or_that_there_is_none():
    line = with_rule(**{**RULE, "shape": "longitudinal slot"})
    # closed form: 16 n_c / (18 - lambda) to (18 - lambda) n_c / 16, IACS UR M68, value from memory
    ratio = 1000 / 2600
    low, high = 16000 / (18 - ratio), (18 - ratio) * 1000 / 16
    words = over_speed.barred_words(line, 1000.0, 30.0)
    assert words == f"barred from {low:.0f} to {high:,.0f} rpm, to be run through quickly"
    assert over_speed.barred_words(line, 1000.0, 300.0) == "more than the rule has for passing quickly"
    assert over_speed.barred_words(line, 2500.0, 30.0) == "more than the rule has for passing quickly"


def test_a_run_judges_the_shaft_by_the_rule_as_the_comparison_does():
    line = with_rule(**RULE)
    verdict = the(cs.compare({"ruled": line}, rpm=[1500.0], gears=["ahead"]), "ruled", "shaft stress by IACS UR M68")
    one = next(one for one in judge(line, cs.steady(line, cs.Condition(1500.0))) if one.unit == "MPa")
    assert (one.word, one.value, one.limit) == (
        verdict.word,
        pytest.approx(verdict.value),
        pytest.approx(verdict.limit),
    )
    assert not [one for one in judge(line, cs.steady(line, cs.Condition(1500.0, "neutral"))) if one.unit == "MPa"]


def test_whether_the_rule_applies_is_true_or_false():
    with pytest.raises(cs.LineError, match=r'applies is "yes": true or false is needed; write it without quotes'):
        with_rule(**{**RULE, "applies": "yes"})


def test_entered_limits_decide_with_their_document(found):
    limits = {"gearbox_vibratory_torque": {"value": "10 N*m", "document": "sheet 12, invented"}}
    line = cs.line_from_document({**LAUNCH.document, "limits": limits}).with_plate("plate-b")
    made = judged_again(found.datasets["plate B", "ahead"], line)
    verdict = next(one for one in made if one.subject == "gearbox vibratory torque")
    most = found.datasets["plate B", "ahead"].mesh_torque_vibratory.sel(misfiring="none").max()
    assert (verdict.word, verdict.document) == ("over", "sheet 12, invented")
    assert verdict.value == pytest.approx(float(most), rel=1e-12)
    assert verdict.margin_words.endswith(" over")


def test_below_idle_nothing_is_judged():
    found = cs.compare({"low": LAUNCH}, rpm=[600.0, 700.0], gears=["ahead"])
    assert {one.word for one in found.verdicts} == {"not judged"}


def test_other_faults_are_judged_each_by_itself():
    found = cs.compare({"B": LAUNCH.with_plate("plate-b")}, rpm=[800.0], gears=["ahead"], misfiring=["3@50%", "1+2"])
    cases = list(dict.fromkeys(one.cylinders for one in found.verdicts))
    assert cases == ["any one cylinder at 50 % strength", "cylinder 1 dead and cylinder 2 dead", "any"]


def test_nothing_is_within_where_a_point_has_no_result(found):
    ds = found.datasets["plate B", "ahead"].copy(deep=True)
    ds["status"].loc[{"rpm": 1500.0}] = 4
    made = judged_again(ds)
    under_way = next(one for one in made if (one.subject, one.cylinders) == ("teeth under way", "all fire"))
    assert under_way.word == "not judged"
    assert "1,500 rpm" in under_way.finding


def test_a_plate_without_stop_or_stated_torque_is_not_judged_in_them():
    plate = dict(cs.load_plate("plate-b"))
    del plate["stop_angle"], plate["rated_torque"]
    found = cs.compare({"bare": LAUNCH.with_plate(plate)}, rpm=[800.0, 1500.0], gears=["ahead"])
    assert the(found, "bare", "stop of the plate").word == "not judged"
    assert the(found, "bare", "torque stated for the plate").word == "not judged"


def test_the_picture_has_a_row_a_quantity_and_a_line_a_candidate(found):
    figure = plots.comparison(found)
    panels = [ax for ax in figure.axes if ax.lines]
    assert [ax.get_title(loc="left") for ax in panels[::2]] == [
        "ahead, all cylinders fire", "ahead, all cylinders fire", "neutral, all cylinders fire",
    ]  # fmt: skip
    ds = found.datasets["plate A", "ahead"].sel(misfiring="none")
    assert np.allclose(panels[0].lines[0].get_ydata(), 100 * ds.mesh_separated_share)
    assert np.allclose(panels[2].lines[0].get_ydata(), ds.mesh_torque_vibratory / ds.mesh_torque_mean)


def test_the_picture_shows_other_faults_and_nothing_where_a_point_has_no_result():
    found = cs.compare({"B": LAUNCH.with_plate("plate-b")}, rpm=[800.0, 900.0], gears=["ahead"], misfiring=["3", "1+4"])
    found.datasets["B", "ahead"]["mesh_separated_share"].loc[{"rpm": 900.0, "misfiring": "1+4"}] = np.nan
    panels = [ax for ax in plots.comparison(found).axes if ax.lines]
    assert panels[0].get_title(loc="left") == "ahead, the worst fault"
    assert np.isnan(panels[0].lines[0].get_ydata()).tolist() == [False, True]


def test_lines_that_have_no_such_gear_are_refused():
    document = {key: part for key, part in LAUNCH.document.items() if key not in ("shaft", "propeller")}
    with pytest.raises(cs.LineError, match="none of the lines has such a gear"):
        cs.compare({"alone": cs.line_from_document(document)}, gears=["ahead"])


def test_no_speed_is_refused():
    with pytest.raises(cs.LineError, match=r"rpm .*no speed"):
        cs.compare({"plate A": LAUNCH}, rpm=[])


def test_lines_without_names_are_refused():
    with pytest.raises(cs.LineError, match=r"lines is .*must be names with a Line each"):
        cs.compare([LAUNCH])


def test_without_any_line_there_is_nothing_to_compare():
    with pytest.raises(cs.LineError, match="nothing to compare"):
        cs.compare({})


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
    assert (tmp_path / "harbour-launch-plate-b-engine.idle_rpm-900-comparison.png").exists()


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
        (["harbour-launch", "--plate", "plate-b", "--misfiring", "9"], "the engine has cylinders 1 to 4"),
        (["harbour-launch", "--plate", "plate-b", "--gear", "ahaed"], "did you mean"),
        (["harbour-launch", "--plate", "plate-b", "--rpm", "800 to 2600"], "a range without a number of values"),
        (["harbour-launch", "--plate", "plate-b", "--load", "towing"], "must be one of under way"),
    ],
)
def test_what_cannot_be_compared_is_refused_and_nothing_written(tmp_path, arguments, words):
    assert words in called(*arguments, "--out", tmp_path / "study", code=2).stderr
    assert not (tmp_path / "study").exists()


def test_a_limit_in_the_wrong_unit_is_refused_and_nothing_written(tmp_path):
    text = (cs.line.LINES / "harbour-launch.toml").read_text()
    path = tmp_path / "mine.toml"
    path.write_text(text + '\n[limits]\ngearbox_vibratory_torque = { value = "40 kW", document = "sheet" }\n')
    stderr = called(path, "--plate", "plate-b", "--out", tmp_path / "study", code=2).stderr
    assert "a torque is needed" in stderr
    assert "mine.toml:" in stderr
    assert not (tmp_path / "study").exists()


def test_every_line_is_asked_at_its_own_idle():
    faster = LAUNCH.replace({"engine.idle_rpm": 913})
    speeds = comparison._speeds({"as it is": LAUNCH, "faster": faster, "six": cs.sample_line("harbour-launch-six")})
    assert {700.0, 800.0, 913.0} <= set(speeds)
    alone = comparison._speeds({"alone": LAUNCH})
    assert alone[:5] == [640.0, 680.0, 720.0, 760.0, 800.0]
    assert alone[4:] == running_speeds(800.0, 2600.0)


def test_the_report_and_the_speeds_to_avoid_are_asked_at_the_same_speeds():
    line = LAUNCH.replace({"engine.idle_rpm": 813, "engine.rated_rpm": 2590})
    found = cs.compare({line.title: line}, gears=["ahead"])
    assert tuple(avoided(line, found)) == cs.speeds_to_avoid(line) != ()


@pytest.fixture(scope="module")
def with_bands():
    return cs.compare({"plate B": LAUNCH.with_plate("plate-b")}, rpm=[800.0, 1500.0], gears=["ahead"], plausible=40)


def test_a_band_is_that_of_the_same_cases_asked_by_themselves(with_bands):
    """Second route: cs.uncertainty draws and solves the same cases at the deciding point."""
    verdict = the(with_bands, "plate B", "vibratory torque against mean")
    at = cs.Condition(verdict.rpm, "ahead")
    alone = cs.uncertainty(with_bands.lines["plate B"], at, 40, 1, "mesh_torque_vibratory", method="latin")
    band = alone.band()
    assert (verdict.low, verdict.high, verdict.plausible) == (band.low, band.high, 40)
    over = alone.of() >= abs(alone.values[:, [one.name for one in MEASURES].index("mesh_torque_mean")])
    assert verdict.share_over == over.mean()


def test_a_line_that_is_within_may_be_over_in_plausible_cases(with_bands):
    """As described its teeth stay together at idle; restitution and friction within their ranges part them in some."""
    verdict = the(with_bands, "plate B", "teeth at idle")
    assert verdict.word == "within"
    assert 0 < verdict.share_over < 1
    assert verdict.band_words.endswith(" over")


def test_a_dead_cylinder_has_its_own_band(with_bands):
    healthy, dead = (the(with_bands, "plate B", "teeth at idle", case) for case in ("all fire", "one dead"))
    assert dead.share_over > healthy.share_over


def test_without_ranges_or_unasked_there_is_no_band(found):
    exact = exact_but().with_plate("plate-b")
    known = {
        path: units.write(one.value, kind_at(path)) for path, one in exact.quantities.items() if one.low < one.high
    }
    bare = cs.compare({"known": exact.replace(known)}, rpm=[800.0], gears=["ahead"], plausible=20)
    for one in (*bare.verdicts, *found.verdicts):
        assert one.plausible == 0
        assert one.band_words == ""


def test_too_few_cases_make_no_band():
    with pytest.raises(cs.LineError, match="from 20"):
        cs.compare({"plate A": LAUNCH}, plausible=5)


def test_the_command_shows_bands_unless_told_not_to():
    asked = ["compare", "harbour-launch", "--change", "engine.idle_rpm = 900", "--rpm", "900", "--gear", "ahead"]
    shown, bare = (CliRunner().invoke(app, [*asked, *more]).output for more in ([], ["--no-band"]))
    assert "plausible cases" in shown
    assert "drawn from the ranges" in shown
    assert "plausible" not in bare
