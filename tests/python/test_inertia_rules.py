"""GD2 is four times the moment of inertia (definition): values that look four times off, and such as cannot be."""

import pytest

import calmshaft as cs

LAUNCH = cs.sample_line("harbour-launch")
HANG = {"mass": "26.4 kg", "wire_radius": "150 mm", "wire_length": "1.5 m", "swings": 30, "time": "64.3 s"}
ROUND = {"mass": "26.4 kg", "outer_diameter": "356 mm"}  # rule: 0.135 m d^2 is 0.452 kg m^2


def flywheel(**keys):
    return cs.line_from_document({**LAUNCH.document, "flywheel": keys})


def told(line):
    return [line.explain(fault) for fault in line.warnings]


def test_a_gd2_that_stands_as_an_inertia_is_doubted_with_what_to_write():
    (message,) = told(flywheel(inertia="1.8 kgm2"))
    assert "flywheel.inertia is 1.8 kg*m^2: is 6.1 times the 0.297 kg*m^2 that is usual" in message  # 0.0018 x 165 N m
    assert 'write "GD2 = 1.8 kgf*m^2"' in message
    as_advised = flywheel(inertia="GD2 = 1.8 kgf*m^2")
    assert told(as_advised) == []
    assert as_advised.core.flywheel_inertia == pytest.approx(0.45)


def test_a_wr2_that_stands_as_a_gd2_is_doubted():
    (message,) = told(flywheel(inertia="GD2 = 0.45 kgf m2"))
    assert 'write "0.45 kg*m^2"' in message


@pytest.mark.parametrize("inertia", ["0.45 kg*m^2", "0.2 kg*m^2", "WR2 = 0.45 kgf*m^2", "5 kg*m^2"])
def test_values_that_are_usual_or_off_by_another_factor_are_not_called_a_gd2(inertia):
    assert not any("GD2" in message or "WR2" in message for message in told(flywheel(inertia=inertia)))


def test_a_measured_flywheel_is_not_doubted_by_a_guess_from_torque():
    assert told(flywheel(inertia={"value": "1.6 kg*m^2", "source": "measured", "range": "4 %"})) == []


def test_engines_of_one_or_two_cylinders_carry_more_than_the_guess_knows():
    single = LAUNCH.document
    single["engine"] |= {"cylinders": 2, "firing_order": [1, 2], "rated_torque": "82 N*m"}
    single["flywheel"] = {"inertia": "0.8 kg*m^2"}
    assert not any("GD2" in message for message in told(cs.line_from_document(single)))


def test_more_than_all_the_weight_at_the_rim_is_refused():
    with pytest.raises(cs.LineError) as caught:
        flywheel(inertia="1.8 kg*m^2", **ROUND)
    # m d^2 / 4 = 26.4 x 0.356^2 / 4
    assert "cannot be: all of 26.4 kg at the rim of 356 mm would have 0.8365 kg*m^2" in str(caught.value)
    assert told(flywheel(inertia="0.8 kg*m^2", **ROUND)) == []  # heavy rim


def test_a_propeller_cannot_have_more_than_its_weight_at_the_tips():
    with pytest.raises(cs.LineError, match=r"propeller\.inertia is 0.7 kg\*m\^2: cannot be"):
        LAUNCH.replace({"propeller.inertia": "0.7 kg*m^2"})  # 11 kg of 0.46 m: 0.58 at most


@pytest.mark.parametrize(
    ("change", "path"),
    [
        ({"engine.crank_inertia": "0.22 kg*m^2"}, "engine.crank_inertia"),
        ({"propeller.inertia": "0.37 kg*m^2"}, "propeller.inertia"),
        ({"gearbox.input_inertia": "0.14 kg*m^2"}, "gearbox.input_inertia"),
    ],
)
def test_other_parts_are_doubted_alike(change, path):
    assert [fault.path for fault in LAUNCH.replace(change).warnings] == [path]


def test_half_swings_counted_as_whole_ones_are_told_as_such():
    line = flywheel(hang={**HANG, "swings": 60}, outer_diameter="350 mm")  # fifth power: 0.37 kg m^2, found 0.11
    (message,) = told(line)
    assert "there and back is one swing" in message
    assert told(flywheel(hang=HANG, outer_diameter="350 mm")) == []


@pytest.mark.parametrize("name", ["gd2", "WR2", "wk2"])
def test_a_key_of_that_name_says_how_it_is_written(name):
    with pytest.raises(cs.LineError, match=f'write inertia = "{name.upper()} = 1.8 kgf\\*m\\^2"'):
        flywheel(**{name: "1.8 kgm2"})
