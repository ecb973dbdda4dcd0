"""Ranges of a line file: alike to both sides or by two ends, within what can be. The rules are our own contract."""

import json
import math

import numpy as np
import pytest

import calmshaft as cs
from calmshaft.line import LINES
from calmshaft.quantity import Quantity
from calmshaft.toml_text import text_of
from calmshaft.uncertainties.ranges import where_measured
from test_app import called
from test_monte_carlo import exact_but

IDLE = cs.Condition(rpm=800, gear="ahead")
LINE = cs.sample_line("harbour-launch")
FLYWHEEL, FREE, REST = "flywheel.inertia", "plate.free_play", "gearbox.unloaded[0].restitution"
ENDS = {"value": "0.45 kg*m^2", "source": "estimated", "low": "0.42 kg*m^2", "high": "0.60 kg*m^2"}
PLAIN = 'free_play = "1.0 deg"'


def launch(tmp_path, entry: str):
    """The launch as a file, with another entry for its free play; the path and the number of that entry's line."""
    text = (LINES / "harbour-launch.toml").read_text()
    path = tmp_path / "launch.toml"
    path.write_text(text.replace(PLAIN, f"free_play = {entry}"))
    return path, 1 + text[: text.index(PLAIN)].count("\n")


def quantity(path: str, **table: str) -> Quantity:
    return LINE.replace({path: table}).quantities[path]


def test_two_ends_stand_in_a_line_and_in_what_it_hands_on():
    line = LINE.replace({FLYWHEEL: ENDS})
    one = line.quantities[FLYWHEEL]
    assert (one.value, one.low, one.high, one.source) == (0.45, 0.42, 0.60, "estimated")
    told = line.resolved(IDLE)["quantities"][FLYWHEEL]
    assert (told["low"], told["value"], told["high"]) == (0.42, 0.45, 0.60)
    assert cs.line_from_document(line.document) == line


def test_ends_take_the_units_of_their_value_and_bare_numbers_where_it_does():
    one = quantity(FREE, value="1 deg", low="0.01 rad", high="1.5 deg")
    assert (one.low, one.high) == pytest.approx((0.01, math.radians(1.5)))
    speed = LINE.replace({"engine.idle_rpm": {"value": 800, "low": 780, "high": "850 rpm"}}).quantities[
        "engine.idle_rpm"
    ]
    assert speed.high == pytest.approx(850 * math.pi / 30)


def test_half_of_the_cases_lie_to_either_side_and_an_end_is_a_swing():
    line = LINE.replace({FLYWHEEL: ENDS})
    found = cs.uncertainty(line, IDLE, cases=200, method="latin")
    drawn = found.shares[:, list(found.inputs).index(FLYWHEEL)]
    assert (drawn < 0.5).sum() == 100
    swing = next(one for one in cs.tornado(line, IDLE).swings if one.path == FLYWHEEL)
    at_high = cs.steady(LINE.replace({FLYWHEEL: "0.60 kg*m^2"}), IDLE).best("mesh_torque_vibratory")
    assert swing.at_high == pytest.approx(at_high, rel=1e-9)


@pytest.mark.parametrize(
    ("table", "words"),
    [
        ({"low": "0.46 kg*m^2", "high": "0.5 kg*m^2"}, "the value lies below its low end"),
        ({"low": "0.40 kg*m^2", "high": "0.44 kg*m^2"}, "the value lies above its high end"),
        ({"low": "0.5 kg*m^2", "high": "0.4 kg*m^2"}, "low end lies above its high end"),
        ({"low": "0.4 kg*m^2"}, "high is missing beside low"),
        ({"high": "0.5 kg*m^2"}, "low is missing beside high"),
        ({"low": "0.4 kg*m^2", "high": "0.5 kg*m^2", "range": "5 %"}, "says its range twice"),
        ({"low": "0.4 kg", "high": "0.5 kg*m^2"}, "its low '0.4 kg': a moment of inertia is needed"),
        ({"low": 0.4, "high": "0.5 kg*m^2"}, "its low 0.4: a unit is needed"),
        ({"low": "0 kg*m^2", "high": "0.5 kg*m^2"}, "the low end of its range, 0 kg.*, must be more than zero"),
        ({"lowest": "0.4 kg*m^2"}, "lowest is not a key of a value"),
    ],
)
def test_ends_that_cannot_be_are_refused_with_what_is_wrong(table, words):
    with pytest.raises(cs.LineError, match=words):
        LINE.replace({FLYWHEEL: {"value": "0.45 kg*m^2", **table}})


@pytest.mark.parametrize(
    ("path", "value", "range_", "low", "high"),
    [
        (REST, "0.9", "20 %", 0.72, 1.0),
        (FREE, "1 deg", "150 %", 0.0, math.radians(2.5)),
        ("engine.combustion.polytropic_exponent", "1.35", "0.5", 1.0, 1.85),
        ("engine.rod_length", "160 mm", "90 %", 0.049, 0.304),  # no shorter than the crank radius, stroke 98 mm
    ],
)
def test_a_range_ends_where_its_key_ends(path, value, range_, low, high):
    one = quantity(path, value=value, source="estimated", range=range_)
    assert (one.low, one.high) == pytest.approx((low, high), rel=1e-8)


def test_an_end_of_ones_own_beyond_its_key_is_cut_and_told(tmp_path):
    line = LINE.replace({REST: {"value": "0.9", "source": "estimated", "low": "0.8", "high": "1.3"}})
    assert line.quantities[REST].high == 1.0
    told = [line.explain(fault) for fault in line.warnings]
    assert any("high end of its range, 1.3, must be above 0 and at most 1: it is cut at 1" in one for one in told)
    found = cs.uncertainty(line, cs.Condition(rpm=800, gear="neutral"), cases=40)
    assert "refused" not in found.unsolved()


def test_rows_of_a_mass_elastic_table_have_limits_too():
    table = cs.sample_line("harbour-launch-tables")
    path = next(one for one in table.paths() if one.startswith("mass_elastic.connections") and "stiffness" in one)
    value = table.quantities[path].as_written
    assert table.replace({path: {"value": value, "range": "20 %"}}).quantities[path].low > 0
    with pytest.raises(cs.LineError, match=r"the low end of its range.*must be more than zero"):
        table.replace({path: {"value": value, "range": "120 %"}})


NOT_ONE = [
    ('{ value = "1.0 deg", source = "estimated" }', "is an estimate with a range of zero"),
    ('{ value = "1.0 deg", source = "estimated", range = "0 deg" }', "is an estimate with a range of zero"),
    (
        '{ value = "1.0 deg", source = "estimated", low = "1 deg", high = "1 deg" }',
        "is an estimate with a range of zero",
    ),
    ('{ value = "1.0 deg", source = "estimated", range = "-5 %" }', "the range '-5 %' is not one"),
    ('{ value = "1.0 deg", source = "estimated", range = "-0.1 deg" }', "the range '-0.1 deg' is not one"),
    ('{ value = "1.0 deg", source = "estimated", range = nan }', "the range nan is not one"),
    (f'{{ value = "1.0 deg", source = "estimated", range = "{"9" * 400} %" }}', "is not one"),
]


@pytest.mark.parametrize(("entry", "words"), NOT_ONE)
@pytest.mark.parametrize("command", ["check", "run", "sweep", "uncertainty"])
def test_every_command_refuses_an_estimate_that_leaves_nothing_open(tmp_path, entry, words, command):
    path, number = launch(tmp_path, entry)
    rest = ["--vary", "rpm = 800, 900", "--out", tmp_path / "out.csv"] if command == "sweep" else []
    told = " ".join(called(command, path, *rest, code=2).stderr.split())
    assert f"launch.toml:{number}: plate.free_play is " in told
    assert words in told


@pytest.mark.parametrize(("entry", "words"), NOT_ONE)
def test_so_does_python(tmp_path, entry, words):
    path, number = launch(tmp_path, entry)
    with pytest.raises(cs.LineError, match=words) as caught:
        cs.load_line(path)
    assert f"launch.toml:{number}: " in str(caught.value)


def test_a_refused_estimate_is_told_what_to_write(tmp_path):
    with pytest.raises(cs.LineError, match=r'measure it and write source = "measured", or give it a range'):
        cs.load_line(launch(tmp_path, NOT_ONE[0][0])[0])


def test_a_measured_value_may_be_exact():
    one = quantity(FREE, value="1 deg", source="measured", range="0 deg")
    assert one.low == one.value == one.high


def test_every_estimate_of_a_rule_lies_within_what_can_be():
    """Each end put in its place makes no fault: else a tornado would have an end without an answer."""
    for name in cs.sample_lines():
        line = cs.sample_line(name)
        for gear in ("neutral", "ahead"):
            assert not cs.tornado(line, IDLE.with_(gear=gear)).unsolved()


def test_a_matched_line_has_no_end_beyond_its_key_and_is_one_that_loads(tmp_path):
    line = LINE.replace({
        "plate.stages[0].stiffness": {"value": "9 N*m/deg", "source": "estimated", "low": "4 N*m/deg",
                                      "high": "30 N*m/deg"},
        REST: {"value": "0.9", "source": "estimated", "range": "20 %"},
    })  # fmt: skip
    found = cs.match(line, neutral_quiet_at="1050 rpm", heard_to="100 rpm", cases=300)
    assert found.agreeing
    best = found.best_line()
    assert not [one for one in best.warnings if "cut at" in one.rule]
    for path, one in best.quantities.items():
        if one.source == "estimated" and "restitution" in path:
            assert 0 < one.low <= one.value <= one.high <= 1.0
    for one in found.values():
        written = best.quantities[one.path]
        assert written.low <= one.best * (1 + 1e-12)
        assert written.low >= min(one.after[0], one.best) - 1e-9 * abs(one.best)
        assert written.high <= max(one.after[1], one.best) + 1e-9 * abs(one.best)
        assert np.isclose(written.low, min(one.after[0], one.best), rtol=2e-4, atol=0)


def test_check_says_what_can_only_be_measured_afloat_and_what_comes_before(tmp_path):
    water = {"value": "0.02 kg*m^2", "source": "estimated", "low": "0.005 kg*m^2", "high": "0.1 kg*m^2"}
    path = tmp_path / "launch.toml"
    line = exact_but(flywheel__inertia="1 %").replace({"propeller.water_inertia": water})
    path.write_text(text_of(line.document))
    said = " ".join(called("check", path).stdout.split())
    assert "Measure first: propeller.water_inertia (afloat only, not before it is bolted together). " in said
    assert "Before it is bolted together, in the workshop: flywheel.inertia. " in said
    path.write_text(text_of(exact_but().replace({"propeller.water_inertia": water}).document))
    said = " ".join(called("check", path).stdout.split())
    assert "no value that can be measured in the workshop moves it" in said


def test_uncertainty_names_both_in_its_document(tmp_path):
    path, _ = launch(tmp_path, '{ value = "1.0 deg", source = "estimated", low = "0.5 deg", high = "2 deg" }')
    document = json.loads(called("uncertainty", path, "--cases", 40, "--json", code=1).stdout)
    assert document["measure_before_assembly"]["where"] == "in the workshop"
    swing = next(one for one in document["tornado"] if one["key"] == FREE)
    assert (swing["low"], swing["high"]) == pytest.approx((math.radians(0.5), math.radians(2)))


@pytest.mark.parametrize(
    ("fuel", "key", "where"),
    [
        ("diesel", "engine.combustion.inlet_pressure", "with the engine running"),
        ("diesel", "engine.combustion.exhaust_pressure", "with the engine running"),
        ("petrol", "engine.combustion.burn_start", "with the engine running"),  # timing lamp
        ("diesel", "engine.combustion.burn_start", "nowhere"),
        ("diesel", "engine.combustion.inlet_closes", "in the workshop"),
        ("diesel", "propeller.water_inertia", "afloat only"),
    ],
)
def test_what_needs_the_engine_running_or_the_boat_afloat_is_called_so(fuel, key, where):
    line = cs.sample_line("harbour-launch").replace({"engine.fuel": fuel})
    assert where_measured(key, line.quantities[key]) == where


def test_uncertainty_names_a_value_of_the_workshop_even_where_it_narrows_little(tmp_path):
    water = {"value": "0.02 kg*m^2", "source": "estimated", "low": "0.005 kg*m^2", "high": "0.1 kg*m^2"}
    path = tmp_path / "launch.toml"
    path.write_text(text_of(exact_but(flywheel__inertia="1 %").replace({"propeller.water_inertia": water}).document))
    said = " ".join(called("uncertainty", path, "--cases", 400, code=1).stdout.split())
    assert "Measure next: propeller.water_inertia (afloat only, not before it is bolted together). " in said
    assert "Before it is bolted together, in the workshop: flywheel.inertia. " in said
    assert "It alone narrows this band by less than a twentieth." in said
