"""The guided entry: questions in the builder's words, estimates at once, a file that runs."""

import tomllib

import pytest
from typer.testing import CliRunner

import calmshaft as cs
from calmshaft.app import app
from calmshaft.commands.questions import QUESTIONS
from calmshaft.schema_paths import get

BROCHURE = {
    "title": "Old Gull",
    "engine.fuel": "diesel",
    "engine.cylinders": "4",
    "engine.bore": "3 5/8 in",
    "engine.stroke": "98 mm",
    "engine.rated_rpm": "2600",
    "engine.rated_power": "61 PS",
    "engine.idle_rpm": "800",
}
IN_GEAR = {
    "gearbox.ahead.ratio": "2",
    "shaft.diameter": "35 mm",
    "shaft.length": "2.2 m",
    "propeller.diameter": "18 in",
}


def typed(answers, heard="", wrong=()):
    """What a builder types: one line a question that is asked, wrong answers before the right ones."""
    known = {**answers, "engine.cylinders": int(answers.get("engine.cylinders", 4))}
    asked = [one for one in QUESTIONS if one.applies(known)]
    lines = [line for one in asked for line in [*dict(wrong).get(one.key, ()), answers.get(one.key, "")]]
    return "\n".join([*lines, heard]) + "\n"


def guided(path, text, code=0):
    result = CliRunner().invoke(app, ["new", str(path), "--guided"], input=text)
    assert result.exit_code == code, result.output
    return result


def test_brochure_data_alone_give_a_file_of_which_every_other_value_is_an_estimate(tmp_path):
    guided(tmp_path / "gull.toml", typed(BROCHURE))
    line = cs.load_line(tmp_path / "gull.toml")
    assert line.title == "Old Gull"
    given = {path for path, one in line.quantities.items() if one.source != "estimated"}
    assert given == {f"engine.{key}" for key in ("bore", "stroke", "rated_rpm", "rated_power", "idle_rpm")}
    stiffness = line.quantities["plate.stages[0].stiffness"]
    assert stiffness.high / stiffness.low == pytest.approx(4.0)  # the fourfold band
    assert cs.steady(line, cs.Condition(800, gear="neutral")).status in ("periodic", "aperiodic")


def test_with_gearbox_shaft_and_propeller_the_line_runs_in_gear(tmp_path):
    guided(tmp_path / "gull.toml", typed({**BROCHURE, **IN_GEAR}, heard="1100"))
    text = (tmp_path / "gull.toml").read_text()
    assert "# The rattle in neutral stops at 1100 rpm." in text
    assert cs.steady(cs.load_line(tmp_path / "gull.toml"), cs.Condition(1500)).measures["mesh_torque_mean"] > 0


def test_what_is_not_known_is_estimated_at_once_with_its_range(tmp_path):
    said = guided(tmp_path / "gull.toml", typed({**BROCHURE, "flywheel.outer_diameter": "330 mm"})).stdout
    # fifth power: 70 d^5, 45 %
    assert "flywheel.inertia is taken as 0.2739 kg*m^2 (0.1507 kg*m^2 to 0.3972 kg*m^2, rule: fifth power)" in said


def test_what_is_not_known_of_the_plate_is_told_at_once_too(tmp_path):
    said = guided(tmp_path / "gull.toml", typed(BROCHURE)).stdout
    assert "plate.stop_angle is taken as 10 deg, 40 % to either side" in said
    assert "plate.stages[0].stiffness is taken as 24.3 N*m/deg, 60 % to either side" in said  # 1.4 x 164.8 N m/9.5 deg
    assert "plate.free_play is taken as 1 deg (0 deg to 2 deg, rule: one degree)" in said


def test_a_stop_that_is_not_known_is_a_band_beside_a_measured_stiffness(tmp_path):
    guided(tmp_path / "gull.toml", typed({**BROCHURE, "plate.stages[0].stiffness": "16 N*m/deg"}))
    stop = cs.load_line(tmp_path / "gull.toml").quantities["plate.stop_angle"]
    assert (stop.source, stop.high / stop.low) == ("estimated", pytest.approx(14 / 6))


@pytest.mark.parametrize(
    ("key", "wrong", "words"),
    [
        ("engine.fuel", "kerosene", "write diesel or petrol"),
        ("engine.cylinders", "four", "write one whole number"),
        ("engine.bore", "3 5/8", "a unit is needed"),
        ("engine.bore", "", "This one is needed"),
        ("engine.bore", "92 in", "it is 92 mm"),
        ("engine.rated_power", "76 petasiemens", "write for instance"),
        ("engine.idle_rpm", "-800", "must be more than zero"),
    ],
)
def test_an_answer_that_cannot_be_is_asked_again(tmp_path, key, wrong, words):
    result = guided(tmp_path / "gull.toml", typed(BROCHURE, wrong=[(key, [wrong])]))
    assert words in result.stderr
    assert cs.load_line(tmp_path / "gull.toml").title == "Old Gull"


def test_a_four_is_not_asked_for_its_layout(tmp_path):
    said = guided(tmp_path / "gull.toml", typed(BROCHURE)).stdout
    assert "In line or vee?" not in said
    assert "Then the usual order is taken: 1 3 4 2." in said


@pytest.mark.parametrize(
    ("cylinders", "typed_layout", "told", "layout", "bank"),
    [
        # orders and angles: common practice, no source; 720 deg over the cylinders fires evenly on common pins
        (6, "", ["engine.layout is taken as inline", "is taken: 1 5 3 6 2 4."], "inline", None),
        (8, "", ["taken as vee", "taken as 90 deg", "is taken: 1 8 4 3 6 5 7 2."], "vee", "90 deg"),
        (12, "V", ["taken as 60 deg"], "vee", "60 deg"),
        (6, "vee", ["Then even firing is taken", "is taken: 1 2 3 4 5 6."], "vee", None),
        (8, "straight", ["is taken: 1 6 2 5 8 3 7 4."], "inline", None),
    ],
)
def test_from_six_cylinders_on_the_layout_is_asked_and_the_order_follows_it(
    tmp_path, cylinders, typed_layout, told, layout, bank
):
    head = ["Gull", "diesel", str(cylinders), typed_layout, *([""] if layout == "vee" else []), ""]
    size = ["92 mm", "98 mm", "2600", f"{15 * cylinders} kW", "800"]
    said = guided(tmp_path / "gull.toml", "\n".join([*head, *size, *[""] * 8])).stdout
    for words in told:
        assert words in said
    engine = cs.load_line(tmp_path / "gull.toml").document["engine"]
    assert (engine["layout"], engine.get("bank_angle")) == (layout, bank)


def test_questions_broken_off_write_nothing(tmp_path):
    result = guided(tmp_path / "gull.toml", "Old Gull\ndiesel\n", code=130)
    assert "nothing was written" in result.stderr
    assert not (tmp_path / "gull.toml").exists()


def test_an_existing_file_is_not_asked_for(tmp_path):
    (tmp_path / "gull.toml").write_text("title = 'kept'")
    assert "exists already" in guided(tmp_path / "gull.toml", "", code=2).stderr


@pytest.mark.parametrize(
    ("key", "answer", "value", "low", "high"),
    [
        ("plate.stages[0].stiffness", "14 to 22 N*m/deg", "18 N*m/deg", "14 N*m/deg", "22 N*m/deg"),
        ("plate.stop_angle", "7 deg to 9 deg", "8 deg", "7 deg", "9 deg"),
        ("flywheel.outer_diameter", "13 3/4 to 14 in", "13.875 in", "13 3/4 in", "14 in"),
        ("flywheel.mass", "26 kg TO 60 lb", "58.6601 lb", "26 kg", "60 lb"),  # 26 kg are 57.3202 lb
        ("engine.idle_rpm", "780 to 820", "800 rpm", "780 rpm", "820 rpm"),
        ("gearbox.ahead.ratio", "1.9 to 2.1", "2", "1.9", "2.1"),
    ],
)
def test_an_answer_may_be_two_ends_and_the_file_takes_their_middle(tmp_path, key, answer, value, low, high):
    guided(tmp_path / "gull.toml", typed({**BROCHURE, **IN_GEAR, key: answer}))
    document = tomllib.loads((tmp_path / "gull.toml").read_text())
    found = get(document, key)
    assert found == {"value": value, "low": low, "high": high}
    one = cs.load_line(tmp_path / "gull.toml").quantities[key]
    assert one.value == pytest.approx((one.low + one.high) / 2, rel=1e-6)  # six digits are written


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        ("22 to 14 N*m/deg", "low end must lie below its high end; write the lowest first"),
        ("16 to 16 N*m/deg", "or one value alone"),
        ("14 to 22", 'a unit is needed, it is a torque per angle; write for instance "16 N*m/deg"'),
        ("14 to 18 to 22 N*m/deg", 'more than two ends; write for instance "14.4 to 17.6 N*m/deg"'),
        ("some to 22 N*m/deg", "write for instance"),
        ("14 kg to 22 N*m/deg", "a torque per angle is needed"),
    ],
)
def test_two_ends_that_cannot_be_are_asked_again(tmp_path, wrong, words):
    key = "plate.stages[0].stiffness"
    result = guided(tmp_path / "gull.toml", typed({**BROCHURE, key: "16 N*m/deg"}, wrong={key: [wrong]}))
    assert words in result.output
    assert (tmp_path / "gull.toml").exists()


def test_an_end_in_inches_that_stands_as_millimetres_is_asked_again(tmp_path):
    key = "flywheel.outer_diameter"
    result = guided(tmp_path / "gull.toml", typed(BROCHURE | {key: "350 mm"}, wrong={key: ["13.5 to 350 mm"]}))
    assert "were in meant where mm stands, it is 342.9 mm" in " ".join(result.output.split())
