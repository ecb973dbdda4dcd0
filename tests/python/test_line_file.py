"""Reading line files: what is refused, in which words, on which line."""

import re

import pytest

import calmshaft as cs
from calmshaft.line import LINES
from calmshaft.toml_lines import key_lines

LAUNCH = (LINES / "harbour-launch.toml").read_text()


def written(tmp_path, text):
    path = tmp_path / "launch.toml"
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return path


def complaints(tmp_path, text):
    """The messages of a file that is refused, one a fault."""
    with pytest.raises(cs.LineError) as caught:
        cs.load_line(written(tmp_path, text))
    messages = str(caught.value).splitlines()
    assert len(messages) == len(caught.value.faults)
    return messages


def line_of(text, start):
    return next(number for number, line in enumerate(text.splitlines(), 1) if line.startswith(start))


WRONG = [
    ('bore = "92 mm"', 'bore = "92 kg"', 'engine.bore is "92 kg": a length is needed; write for instance "92 mm"'),
    ('bore = "92 mm"', 'bore = "9,2 cm"', 'engine.bore is "9,2 cm": a comma in a number is not read; write "9.2 cm"'),
    ('bore = "92 mm"', "bore = 92", 'engine.bore is 92: a unit is needed; write for instance "92 mm"'),
    ('bore = "92 mm"', 'borre = "92 mm"', 'engine.borre is not a key of [engine]; did you mean "bore"?'),
    ("ratio = 2.0 ", "ratio = 0.0 ", "gearbox.ahead.ratio is 0: must be more than zero; "),
    ('mass = "11 kg"', 'mass = "-11 kg"', 'propeller.mass is "-11 kg": must be more than zero; '),
    ("firing_order = [1, 3, 4, 2]", "firing_order = [1, 3, 4]", "engine.firing_order is [1, 3, 4]: must name each of"),
    ("firing_order = [1, 3, 4, 2]", "firing_order = [1, 3, 3, 2]", "engine.firing_order is [1, 3, 3, 2]: must name"),
    ("cylinders = 4", "cylinders = 6", "engine.firing_order is [1, 3, 4, 2]: must name each of the 6 cylinders once"),
    ("cylinders = 4", 'cylinders = "4"', 'engine.cylinders is "4": a whole number is needed; '),
    (
        'fuel = "diesel"',
        'fuel = "disel"',
        "engine.fuel is \"disel\": not one of the choices; write 'diesel' or 'petrol'",
    ),
    ("idle_rpm = 800", 'idle_rpm = "13 Hz"', 'engine.idle_rpm is "13 Hz": a speed of rotation is needed; '),
    ("idle_rpm = 800", "idle_rpm = 3000", "engine.idle_rpm must be below rated_rpm; "),
    ("idle_rpm = 800", 'idle_rpm = "unknown"', "engine.idle_rpm is missing; write e.g. 800"),
    ("ratio = 2.0 ", "ratio = nan ", "gearbox.ahead.ratio is NaN: a pure number is needed; "),
    ("bore = ", "rated_power = 61\nbore = ", "engine.rated_power is 61: a unit is needed; "),
    ('material = "steel"', 'material = "wood"', 'shaft.material is "wood": not one of the choices; '),
    ("full_throttle_rpm = 2600", "absorbs_rpm = 2600", "propeller.absorbs_torque is missing beside absorbs_rpm; "),
]


@pytest.mark.parametrize(("right", "wrong", "message"), WRONG, ids=[entry[1][:30] for entry in WRONG])
def test_a_wrong_value_is_named_with_its_rule_and_what_to_write(tmp_path, right, wrong, message):
    assert right in LAUNCH
    found = complaints(tmp_path, LAUNCH.replace(right, wrong, 1))
    assert any(re.sub(r"^launch\.toml(:\d+)?: ", "", text).startswith(message) for text in found), found


def test_every_fault_is_told_at_once_with_its_line(tmp_path):
    text = LAUNCH.replace('bore = "92 mm"', 'bore = "92 kg"').replace("idle_rpm", "idel_rpm")
    text = text.replace('inertia = { value = "0.45', 'inertia = { value = "-0.45').replace(
        'until = "8 deg"', 'until = "0 deg"'
    )
    found = complaints(tmp_path, text)
    expected = {
        "engine.bore": line_of(text, "bore"),
        "engine.idel_rpm": line_of(text, "idel_rpm"),
        "engine.idle_rpm": line_of(text, "[engine]"),
        "flywheel.inertia": line_of(text, "inertia = {"),
        "plate.stages[0].until": line_of(text, "until"),
    }
    assert len(found) == len(expected)
    for path, number in expected.items():
        assert any(message.startswith(f"launch.toml:{number}: {path} ") for message in found), (path, found)


def test_faults_of_one_side_of_the_plate_stand_at_their_own_stage(tmp_path):
    coast = '\n[[plate.stages]]\nside = "coast"\nstiffness = "-20 N*m/deg"\nuntil = "8 deg"\n'
    text = LAUNCH.replace('until = "8 deg"\n', 'until = "8 deg"\nside = "drive"\n' + coast)
    number = line_of(text, 'stiffness = "-20')
    assert complaints(tmp_path, text)[0].startswith(f"launch.toml:{number}: plate.stages[1].stiffness is -20 N*m/deg:")


def test_missing_sections_are_named(tmp_path):
    messages = complaints(tmp_path, 'title = "nothing yet"\n[gearbox]\n')
    assert [message.split(" is missing")[0] for message in messages] == [
        "launch.toml: engine",
        "launch.toml: plate.stages",
    ]


@pytest.mark.parametrize(
    ("content", "message"),
    [
        (b"", "says nothing"),
        (b"# only a comment\n", "says nothing"),
        (b"\x7fELF\x00\x01\xff", "is not a text file"),
        (b"x = 1\n" * 1_700_000, "is larger than 256 kB"),
        (b"a = " + b"[" * 100_000, "is nested too deeply"),
        (b"[engine]\nbore = 92 mm\n", "launch.toml:2 is not TOML"),
        (b"x = " + b"9" * 5000, "is not TOML"),
    ],
    ids=["empty", "comment", "binary", "10 MB", "nested", "bare unit", "long number"],
)
def test_what_is_no_line_file_is_refused_in_one_message(tmp_path, content, message):
    [told] = complaints(tmp_path, content)
    assert message in told
    assert told.startswith("launch.toml")
    assert len(told) < 300


def test_a_file_that_is_not_there_is_refused_with_a_near_name(tmp_path):
    written(tmp_path, LAUNCH)
    with pytest.raises(cs.LineError, match=r"lanuch\.toml cannot be read .*did you mean launch\.toml\?"):
        cs.load_line(tmp_path / "lanuch.toml")


def test_windows_line_ends_and_a_byte_order_mark_are_read(tmp_path):
    text = "\ufeff" + LAUNCH.replace("\n", "\r\n")
    assert cs.load_line(written(tmp_path, text)) == cs.sample_line("harbour-launch")


def test_keys_are_found_on_the_line_where_their_statement_starts():
    text = """title = "x"
[engine]
firing_order = [
  1,
  2]
combustion.burn_start = "1 deg"

[[gearbox.unloaded]]   # first
[[gearbox.unloaded]]
drag = {value = "1 N*m"}
[plate]
stages = [{stiffness = "1"}, {stiffness = "2"}]
"""
    lines = key_lines(text)
    assert lines["engine.firing_order[1]"] == 3
    assert lines["engine.combustion.burn_start"] == 6
    assert (lines["gearbox.unloaded[0]"], lines["gearbox.unloaded[1]"]) == (8, 9)
    assert lines["gearbox.unloaded[1].drag.value"] == 10
    assert lines["plate.stages[1].stiffness"] == 12


def test_a_stage_that_is_wrong_on_both_sides_is_told_once():
    stages = [{"stiffness": "9 N*m/deg", "until": "7 deg"}, {"stiffness": "16 N*m/deg", "until": "5 deg"}]
    with pytest.raises(cs.LineError) as caught:
        cs.sample_line("harbour-launch").with_plate({"stages": stages})
    assert [fault.path for fault in caught.value.faults] == ["plate.stages[1].until"]


def test_a_propeller_in_another_unit_is_told_by_its_own_key():
    with pytest.raises(cs.LineError, match=r"propeller\.diameter is 18 mm: is no diameter") as caught:
        cs.sample_line("harbour-launch").replace({"propeller.diameter": "18 mm"})
    assert "were in meant where mm stands, it is 457.2 mm" in str(caught.value)
    small = cs.sample_line("harbour-launch").replace({"propeller.diameter": "120 mm"})
    told = [small.explain(warning) for warning in small.warnings]
    assert any("propeller.diameter is 0.12 m: such parts have 0.15 m to 4 m" in message for message in told)


def test_warnings_carry_their_line(tmp_path):
    text = LAUNCH.replace('stop_angle = "8 deg"', 'stop_angle = "3 deg"')
    line = cs.load_line(written(tmp_path, text))
    told = [line.explain(warning) for warning in line.warnings]
    assert any(
        message.startswith(f"launch.toml:{line_of(text, 'stop_angle')}: warning: plate.stop_angle") for message in told
    )


def test_a_plate_file_is_read_and_its_faults_have_lines(tmp_path):
    assert cs.load_plate(LINES / "plate-b.toml")["stop_angle"] == "16 deg"
    path = written(tmp_path, '[plate]\nstop_angle = "8 mm"\n')
    with pytest.raises(cs.LineError, match=r"launch\.toml:2: plate\.stop_angle"):
        cs.load_plate(path)
    with pytest.raises(cs.LineError, match="plate is missing"):
        cs.load_plate(written(tmp_path, "[engine]\nstrokes = 4\n"))
