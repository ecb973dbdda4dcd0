"""The plate bolted to the flywheel: slip and pull judged, pockets pressed, and entries that cannot be."""

import json
import math

import pytest
from typer.testing import CliRunner

import calmshaft as cs
from calmshaft import judgement, workshop
from calmshaft.app import app
from calmshaft.judgement.joint import judge_joint
from calmshaft.line import LINES
from calmshaft.workshop import joint_of, thread_named

LAUNCH = cs.sample_line("harbour-launch")
JOINT = {"count": 8, "bolt": "3/8-16", "grade": "grade 5", "threads": "thread-lock", "tightening_torque": "29 lbf ft",
         "bolt_circle": "11 5/8 in"}  # fmt: skip
B = cs.load_plate("plate-b")
ROUND_OFF = 1e-12


def joint(**changes):
    return joint_of({"joint": {key: value for key, value in {**JOINT, **changes}.items() if value is not None}})


def plate_file(tmp_path, **changes):
    """plate-d with a joint and pockets."""
    entry = {**JOINT, **changes}
    rows = [f"{key} = {json.dumps(value)}" for key, value in entry.items()]
    text = (LINES / "plate-d.toml").read_text()
    extra = "\n".join(["[plate.joint]", *rows, "[plate.pockets]", 'sheet_thickness = "0.065 in"', "sheets = 2", ""])
    path = tmp_path / "plate.toml"
    path.write_text(text + "\n" + extra)
    return path


@pytest.mark.parametrize(
    ("name", "millimetres", "pitch"),
    [("M10", 10, 1.5), ("m8x1.0", 8, 1.0), ("M8 x 1.25", 8, 1.25), ("3/8-16", 9.525, 25.4 / 16),
     ("3/8 UNF", 9.525, 25.4 / 24), ("7/16-14 UNC", 11.1125, 25.4 / 14), ('5/16" - 18', 7.9375, 25.4 / 18)],
)  # fmt: skip
def test_a_bolt_is_known_by_the_name_on_its_box(name, millimetres, pitch):
    assert thread_named(name) == pytest.approx((1e-3 * millimetres, 1e-3 * pitch), rel=ROUND_OFF)


@pytest.mark.parametrize("name", ["M11", "10", "3/8-18", "3/8-24 UNC", "M10 x 15", "3/7", "bolt"])
def test_a_bolt_that_is_none_is_refused_with_names_that_are(name):
    with pytest.raises(cs.LineError, match=r"is no bolt known here; write .*(M10|3/8)"):
        thread_named(name)


def test_slip_is_bolts_times_pull_times_friction_times_radius_and_its_low_end_the_weakest_of_each():
    found = joint()
    radius = 11.625 * 0.0254 / 2
    assert found.slip.value == pytest.approx(8 * found.pull.value * 0.12 * radius, rel=ROUND_OFF)
    assert found.slip.low == pytest.approx(8 * found.pull.low * 0.10 * radius, rel=ROUND_OFF)


def test_threads_that_nobody_knows_hold_the_range_of_all_three():
    unknown = joint(threads=None).pull
    for state in ("dry", "oiled", "thread-lock"):
        pull = joint(threads=state).pull
        assert unknown.low <= pull.low
        assert pull.high <= unknown.high


def test_the_word_is_against_the_low_end():
    found = joint()
    for share, word in ((0.5, "within"), (0.95, "near"), (1.01, "over")):
        slip, _ = judge_joint(found, share * found.slip.low, "torque")
        assert slip.word == word
        assert slip.limit == found.slip.low
    assert judge_joint(found, math.nan, "torque")[0].word == "not judged"
    assert judge_joint(None, 100.0, "torque")[0].finding.startswith("the joint is not given")


@pytest.mark.parametrize(("torque", "word"), [("20 lbf ft", "within"), ("29 lbf ft", "near"), ("45 lbf ft", "over")])
def test_the_pull_is_against_the_proof_load_of_the_grade(torque, word):
    assert judge_joint(joint(tightening_torque=torque), 1.0, "torque")[1].word == word
    assert judge_joint(joint(tightening_torque=torque, grade=None), 1.0, "torque")[1].word == "not judged"


def test_the_hold_of_bolts_that_are_pulled_too_far_is_not_counted_on():
    slip, pull = judge_joint(joint(tightening_torque="45 lbf ft"), 1.0, "torque")
    assert (slip.word, pull.word) == ("not judged", "over")
    assert "if their pull did not stretch them" in slip.finding


def test_a_run_is_judged_by_what_the_plate_carries():
    line = LAUNCH.with_plate({**B, "joint": JOINT})
    run = cs.steady(line, cs.Condition(800))
    words = {one.subject: one for one in judgement.judge(line, run)}
    assert words["bolt slip"].word == "within"
    assert words["bolt slip"].value == pytest.approx(
        max(run.best("plate_torque_max"), -run.best("plate_torque_min")),
        rel=0.02,  # of the worst cycle
    )
    loose = LAUNCH.with_plate({**B, "joint": {**JOINT, "tightening_torque": "0.5 N*m"}})
    assert {one.subject: one.word for one in judgement.judge(loose, cs.steady(loose, cs.Condition(800)))}[
        "bolt slip"
    ] == "over"
    bare = judgement.judge(LAUNCH, cs.steady(LAUNCH, cs.Condition(800)))
    assert [one.word for one in bare if one.subject == "bolt slip"] == ["not judged"]


def test_bolts_and_sheets_leave_the_motion_and_its_values_alone():
    line = LAUNCH.with_plate({**B, "joint": JOINT, "pockets": {"sheet_thickness": "2 mm"}})
    plain = LAUNCH.with_plate(B)
    assert repr(line.core) == repr(plain.core)
    assert set(line.quantities) == set(plain.quantities)


def test_comparison_judges_the_bolts_where_they_are_given():
    pair = {"with": LAUNCH.with_plate({**B, "joint": JOINT}), "without": LAUNCH.with_plate(B)}
    found = cs.compare(pair, rpm=[800, 1500], gears=("ahead",))
    assert {(one.line, one.word) for one in found.verdicts if one.subject == "bolt slip"} == {("with", "within")}


def test_the_plate_command_tells_bolts_and_pockets(tmp_path):
    found = CliRunner().invoke(app, ["plate", str(plate_file(tmp_path))])
    assert found.exit_code == 0, found.output
    for words in ("Bolted to the flywheel by 8 of 3/8-16 on 295.3 mm, 39.32 N*m, thread-lock.",
                  "within      bolt slip: the torque at the plate's stop 255 N m; the bolts hold 1,907 N m at least",
                  "near        pull of the bolts", "on the pocket's edges [MPa], not judged"):  # fmt: skip
        assert words in found.stdout
    few = CliRunner().invoke(app, ["plate", str(plate_file(tmp_path, count=2, bolt="M6", tightening_torque="5 N*m"))])
    assert few.exit_code == 1
    assert "over        bolt slip" in few.stdout


def test_pocket_pressure_in_the_table_is_force_over_the_two_edges(tmp_path):
    found = workshop.plate_alone(cs.load_plate(plate_file(tmp_path)))
    from calmshaft.commands.plate_joint import pocket_text

    group = found.springs.groups[1]
    load = found.springs.at(found.stop("drive"))[1]
    by_hand = load.force / (2 * 4.0e-3 * 0.065 * 0.0254 * 2) / 1e6
    assert float(pocket_text(found.pockets, group, load)) == pytest.approx(by_hand, rel=2e-3)  # three digits shown


REFUSED = [
    ({"count": None}, "plate.joint.count is missing; count the bolts"),
    ({"tightening_torque": None}, "plate.joint.tightening_torque is missing; write what the wrench was set to"),
    ({"bolt": "M11"}, 'plate.joint.bolt is "M11": is no bolt known here; write M1'),
    ({"bolt_circle": "11 5/8 mm"}, "plate.joint.bolt_circle is 11.62 mm: is no bolt circle of a plate"),
    ({"bolt_circle": "295 in"}, "plate.joint.bolt_circle is 7493 mm: is no bolt circle of a plate"),
    ({"count": 60}, "plate.joint.count is 60: of 3/8-16 do not fit on a circle of 295.3 mm"),
    ({"tightening_torque": "29 lbf"}, 'plate.joint.tightening_torque is "29 lbf": a torque is needed'),
    ({"grade": "8"}, "plate.joint.grade is \"8\": not one of the choices; write '5.8', '8.8'"),
    ({"boltcircle": "295 mm"}, 'plate.joint.boltcircle is not a key of [plate.joint]; did you mean "bolt_circle"?'),
]


@pytest.mark.parametrize(("change", "message"), REFUSED, ids=[str(change) for change, _ in REFUSED])
def test_what_cannot_be_is_told_with_what_to_look_at(change, message):
    entry = {key: value for key, value in {**JOINT, **change}.items() if value is not None}
    with pytest.raises(cs.LineError) as caught:
        LAUNCH.with_plate({**B, "joint": entry})
    assert message in str(caught.value)
    assert len(caught.value.faults) == 1


def test_a_sheet_in_the_wrong_unit_is_told():
    for sheet in ("0.065 mm", "65 mm"):
        with pytest.raises(cs.LineError, match=r"is no sheet of a damper plate: 0.5 mm to 12 mm is usual"):
            LAUNCH.with_plate({**B, "pockets": {"sheet_thickness": sheet}})
    with pytest.raises(cs.LineError, match=r"plate.pockets.sheet_thickness is missing; measure the sheet"):
        LAUNCH.with_plate({**B, "pockets": {"sheets": 2}})
