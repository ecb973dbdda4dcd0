"""Readings of cord, dial gauge, weights, wires and scales in the line file: values, ranges, and what cannot be.

Sums are closed forms worked here a second time; limits of what can be are common practice without a source.
"""

import copy
import math

import pytest
from typer.testing import CliRunner

import calmshaft as cs
from calmshaft.app import app
from calmshaft.schema_paths import put, remove

MEASURED = cs.sample_line("harbour-launch-measured")
LAUNCH = cs.sample_line("harbour-launch")
G = 9.80665  # [m/s^2] standard
KGF, DEGREE = G, math.pi / 180


def changed(document, changes):
    document = copy.deepcopy(document)
    for path, value in changes.items():
        remove(document, path) if value is None else put(document, path, value)
    return cs.line_from_document(document)


def of(path, changes):
    return changed(MEASURED.document, changes).quantities[path]


def test_a_pull_at_the_input_is_force_times_radius_with_the_scale_s_division_as_its_range():
    found = MEASURED.quantities["gearbox.input_drag"]
    assert found.value == pytest.approx(6.4 * KGF * 0.060)
    # 0.5 of 6.4 kgf and 1 of 60 mm, independent
    assert found.high / found.value - 1 == pytest.approx(math.hypot(0.5 / 6.4, 1 / 60), rel=1e-6)
    assert (found.source, found.rule, found.as_written) == ("measured", "pull on a cord", "gearbox.pull")
    assert MEASURED.core.gearbox.input_drag == found.value


def test_a_range_of_the_force_counts_before_the_division_and_a_fifth_where_neither_is_written():
    plain = {"gearbox.pull": {"force": "40 N", "radius": "60 mm"}}
    assert of("gearbox.input_drag", plain).high == pytest.approx(1.2 * 2.4)
    ranged = {"gearbox.pull": {"force": {"value": "40 N", "range": "2 N"}, "division": "8 N", "radius": "60 mm"}}
    assert of("gearbox.input_drag", ranged).high == pytest.approx(42 * 0.06)


def test_a_pull_at_the_output_is_the_ratio_smaller_at_the_input():
    # equal power: torque at the output turns 1/i times as fast
    at_output = {"gearbox.pull": {"force": "80 N", "radius": "60 mm", "shaft": "output"}}
    assert of("gearbox.input_drag", at_output).value == pytest.approx(80 * 0.06 / 2.0)
    own_ratio = {"gearbox.pull": {**at_output["gearbox.pull"], "ratio": 1.6}}
    assert of("gearbox.input_drag", own_ratio).value == pytest.approx(80 * 0.06 / 1.6)


def test_a_dial_on_the_output_counts_by_the_ratio_and_one_on_the_input_as_it_is():
    ahead, astern = (MEASURED.quantities[f"gearbox.{gear}.backlash"] for gear in ("ahead", "astern"))
    assert ahead.value == pytest.approx(0.26 / 120 * 2.0)
    assert astern.value == pytest.approx(0.28 / 60)
    assert ahead.high / ahead.value - 1 == pytest.approx(math.hypot(0.01 / 0.26, 1 / 120), rel=1e-3)
    assert ahead.source == astern.source == "measured"


def test_without_range_and_division_a_dial_is_two_hundredths_off():
    found = of("gearbox.ahead.backlash", {"gearbox.ahead.dial": {"travel": "0.2 mm", "radius": "100 mm"}})
    assert found.high / found.value == pytest.approx(0.22 / 0.20)


def test_a_free_gear_is_measured_on_itself_by_its_own_ratio():
    dial = {"travel": "0.20 mm", "radius": "50 mm", "ratio": 1.5}
    pull = {"force": "20 N", "radius": "50 mm", "ratio": 1.5}
    line = changed(MEASURED.document, {"gearbox.unloaded[0].dial": dial, "gearbox.unloaded[0].pull": pull})
    assert line.quantities["gearbox.unloaded[0].backlash"].value == pytest.approx(0.2 / 50 * 1.5)
    assert line.quantities["gearbox.unloaded[0].drag"].value == pytest.approx(20 * 0.05 / 1.5)
    assert line.core.gearbox.unloaded[0].drag == pytest.approx(20 * 0.05 / 1.5)


def two_falls(inertia, drag=3.8, radius=0.06, fall=1.2):
    """Readings of two weights on a box of this inertia, worked forwards."""
    masses = (10.0, 20.0)
    times = [math.sqrt(2 * fall * (inertia + m * radius**2) / ((m * G * radius - drag) * radius)) for m in masses]
    return {"radius": f"{radius} m", "fall": f"{fall} m", "mass_1": "10 kg", "time_1": f"{times[0]!r} s",
            "mass_2": "20 kg", "time_2": f"{times[1]!r} s"}  # fmt: skip


def test_two_weights_give_the_box_without_the_pairs_that_turn_along():
    known = {"gearbox.two_weights": two_falls(0.030), "gearbox.unloaded[0].inertia": "0.006 kg*m^2"}
    assert of("gearbox.input_inertia", known).value == pytest.approx(0.024)
    still = {"gearbox.two_weights": two_falls(0.030), "gearbox.unloaded[0].turns_in": ["ahead"]}
    assert of("gearbox.input_inertia", still).value == pytest.approx(0.030)


def test_a_pair_of_which_nothing_is_known_takes_its_share_with_its_range():
    found = of("gearbox.input_inertia", {"gearbox.two_weights": two_falls(0.030)})
    assert found.value == pytest.approx(0.030 / 1.2)
    assert (found.low, found.high) == pytest.approx((0.030 / 1.5, 0.030 / 1.04))


def test_rods_on_scales_and_on_a_knife_edge_give_mass_centre_and_inertia():
    mass, centre, inertia = (MEASURED.quantities[f"engine.{key}"] for key in
                             ("rod_mass", "rod_centre_from_big_end", "rod_inertia"))  # fmt: skip
    assert mass.value == pytest.approx(0.742 + 0.358)
    assert centre.value == pytest.approx(0.160 * 0.358 / 1.1)
    about_edge = 1.1 * G * 0.122 * (24.3 / 30) ** 2 / (4 * math.pi**2)
    assert inertia.value == pytest.approx(about_edge - 1.1 * 0.122**2)
    assert {one.source for one in (mass, centre, inertia)} == {"measured"}
    engine = MEASURED.core.engine
    assert (engine.rod_mass, engine.rod_inertia) == (mass.value, inertia.value)


def test_crank_and_propeller_hang_like_a_flywheel():
    for path, (mass, radius, time) in {"engine.crank_inertia": (26.0, 0.080, 42.5 / 30),
                                       "propeller.inertia": (11.2, 0.120, 56.8 / 30)}.items():  # fmt: skip
        found = MEASURED.quantities[path]
        assert found.value == pytest.approx(mass * G * radius**2 * time**2 / (4 * math.pi**2 * 1.5))
        assert found.low < found.value < found.high
    assert MEASURED.quantities["propeller.mass"].value == 11.2


def test_a_value_takes_the_place_of_its_readings_and_readings_that_of_a_value():
    line = MEASURED.replace({"gearbox.input_drag": "5 N*m", "gearbox.unloaded[0].drag": "1 N*m"})
    assert line.core.gearbox.input_drag == 5.0
    assert "pull" not in line.document["gearbox"]
    back = line.replace({"gearbox.pull": {"force": "40 N", "radius": "60 mm"}})
    assert back.core.gearbox.input_drag == pytest.approx(2.4)


def test_readings_are_no_values_beside_what_is_made_of_them_but_may_vary():
    assert not [path for path in MEASURED.quantities if ".pull." in path or ".dial." in path or "hang." in path]
    assert "gearbox.pull.force" in MEASURED.paths()
    table = cs.sweep(MEASURED, {"gearbox.pull.force": ([20, 60], "N"), "rpm": [1500]}, cs.Condition(1500))
    mean = table["mesh_torque_mean"].values.ravel()
    assert mean[1] != mean[0]


REFUSED = [
    ({"gearbox.pull.force": "6.4 kg"}, "where its weight is meant write kgf"),
    ({"gearbox.pull.force": "640 kgf"}, "gearbox.pull.force is 6276 N: is no steady pull by hand"),
    ({"gearbox.pull.force": "120 kgf"}, "28 % of the box's torque, where 0.5 to 5 % is usual; see that it is"),
    ({"gearbox.pull.radius": "60 in"}, "measure from the axis to the middle of the cord again"),
    ({"gearbox.pull.radius": None}, "gearbox.pull.radius is missing"),
    ({"gearbox.pull.ratio": 2.0}, "gearbox.pull.ratio is 2: is for the output only"),
    ({"gearbox.input_drag": "3 N*m"}, "gearbox.pull says the same as gearbox.input_drag; keep one of the two"),
    ({"gearbox.ahead.backlash": "0.3 deg"}, "gearbox.ahead.dial says the same as gearbox.ahead.backlash"),
    ({"gearbox.ahead.dial.travel": "0.26 in"}, "makes 6.306 deg at the input, where teeth leave 0.1 deg to 1 deg"),
    ({"gearbox.ahead.dial.travel": "2.6 in"}, "rock the shaft from stop to stop and read it again"),
    ({"gearbox.ahead.dial.ratio": 3}, "gearbox.ahead.dial.ratio is 3: is not the pair's own of 2"),
    ({"gearbox.ahead.ratio": None}, "gearbox.ahead.dial.ratio is missing"),
    ({"gearbox.unloaded[0].dial": {"travel": "0.2 mm", "radius": "50 mm"}}, "count input turns for one turn of that"),
    ({"gearbox.unloaded[0].pull": {"force": "2 N", "radius": "50 mm"}}, "gearbox.unloaded[0].pull.ratio is missing"),
    ({"gearbox.two_weights.time_2": "1.05 s"}, "time both falls again from rest"),
    ({"gearbox.two_weights.time_2": "1.20 s"}, "gearbox.two_weights.time_2 is too near each other"),
    ({"gearbox.unloaded[0].inertia": "0.3 kg*m^2"}, "no more than that of the pairs that turn along in neutral"),
    ({"engine.rod_scales.small_end": "0.9 kg"}, "rod level; look which end is which"),
    ({"engine.rod_length": None}, "engine.rod_length is missing beside these readings"),
    ({"engine.rod_swing.time": "12 s"}, "engine.rod_swing.time is 0.4 s a swing: gives an inertia of nothing"),
    ({"engine.rod_mass": "1.1 kg"}, "engine.rod_scales says the same as engine.rod_mass"),
    ({"engine.crank_hang.time": "0.1 s"}, "count more swings and time it again"),
    ({"propeller.hang.wire_radius": "120 in"}, "were mm meant where in stands, it is 120 mm"),
    ({"propeller.hang.wires": 3}, "wires is not a key of [propeller.hang]"),
]


@pytest.mark.parametrize(("changes", "words"), REFUSED, ids=[next(iter(change)) for change, _ in REFUSED])
def test_a_reading_that_cannot_be_is_refused_with_what_to_measure_again(changes, words):
    with pytest.raises(cs.LineError) as caught:
        changed(MEASURED.document, changes)
    assert words in str(caught.value)
    assert len(caught.value.faults) == 1


def test_a_scale_in_kg_that_was_written_as_newton_is_doubted():
    line = changed(MEASURED.document, {"gearbox.pull.force": "6.4 N"})
    assert [fault.path for fault in line.warnings] == ["gearbox.pull.force"]
    assert "a scale that shows kg is written kgf" in line.explain(line.warnings[0])


def test_readings_whose_ranges_leave_no_inertia_are_refused():
    """A board of 0.4 to 9 kg m^2 under a flywheel of 0.45: less the board, it may be below zero."""
    board = {"value": "0.4 kg*m^2", "low": "0.01 kg*m^2", "high": "9 kg*m^2"}
    with pytest.raises(cs.LineError) as caught:
        changed(MEASURED.document, {"flywheel.hang.table_inertia": board})
    (fault,) = caught.value.faults
    assert fault.path == "flywheel.hang"
    assert "flywheel.inertia of 0.05189 kg*m^2 a range from -8.5" in fault.rule
    assert "narrower ranges" in fault.advice


def test_a_time_by_its_two_ends_leaves_the_inertia_both():
    time = {"value": "64.3 s", "low": "63.9 s", "high": "65.5 s"}
    exact = {f"flywheel.hang.{key}": MEASURED.document["flywheel"]["hang"][key]["value"] for key in
             ("mass", "wire_radius", "wire_length")}  # fmt: skip
    one = of("flywheel.inertia", {**exact, "flywheel.hang.time": time})
    assert one.low / one.value == pytest.approx((63.9 / 64.3) ** 2, rel=1e-9)  # J ~ t^2
    assert one.high / one.value == pytest.approx((65.5 / 64.3) ** 2, rel=1e-9)


def test_plausible_cases_draw_what_readings_make_within_its_range():
    from calmshaft.uncertainties.cases import Family

    family = Family(MEASURED)
    made = ("gearbox.input_drag", "gearbox.ahead.backlash", "engine.rod_inertia", "gearbox.input_inertia")
    assert set(made) <= set(family.ranges)
    high = MEASURED.quantities["gearbox.ahead.backlash"].high
    assert family.member({"gearbox.ahead.backlash": 1.0})[0].gearbox.ahead.contact.backlash == pytest.approx(high)


COMMANDS = (
    ["check", "--rpm", "800"],
    ["run", "--rpm", "800"],
    ["uncertainty", "--rpm", "1500", "--cases", "20"],
    ["sweep", "--vary", "rpm = 800, 1500", "--out", "table.csv"],
)


@pytest.mark.parametrize("command", COMMANDS, ids=[command[0] for command in COMMANDS])
def test_a_line_of_readings_alone_goes_through_every_command(command, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    name, *options = command
    result = CliRunner().invoke(app, [name, "harbour-launch-measured", *options])
    assert result.exit_code in (0, 1), result.output  # 1: at idle the teeth part
    if name == "check":
        said = " ".join(result.stdout.split())
        assert "gearbox.input_drag 3.766 N*m 3.465 N*m 4.067 N*m measured pull on a cord" in said
        assert "gearbox.ahead.backlash 0.2483 deg" in said
