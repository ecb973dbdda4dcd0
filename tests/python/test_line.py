"""Lines as objects: what they hold, how they change, that they stay themselves."""

import copy
import math
import pickle

import pytest

import calmshaft as cs
from calmshaft import _core
from calmshaft.line import sample_plates
from independent_launch import launch

DEGREE = math.pi / 180
ROUNDING = 1e-9  # values pass through decimal text and back
LEAST = {
    "engine": {
        "cylinders": 4,
        "strokes": 4,
        "bore": "92 mm",
        "stroke": "98 mm",
        "idle_rpm": 800,
        "rated_rpm": 2600,
        "rated_power": "61 PS",
    },
    "plate": {"stages": [{"stiffness": "16 N*m/deg"}]},
}


def least(**sections):
    """The least that a builder must know, with other or further sections."""
    return cs.line_from_document({**copy.deepcopy(LEAST), **sections}, "least")


def plain(value):
    """Compiled structs as dicts of numbers, by the names of their fields."""
    if isinstance(value, list | tuple):
        return [plain(item) for item in value]
    names = [name for name in dir(type(value)) if not name.startswith("_")]
    if type(value).__module__.startswith("calmshaft") and not hasattr(value, "value"):
        return {name: plain(getattr(value, name)) for name in names}
    return value


def compare(found, expected, path=""):
    for key, value in expected.items():
        here = f"{path}.{key}"
        if key in ("fuel", "inlet_closes"):  # an enum; a start value that is a choice of either side
            continue
        if isinstance(value, dict):
            compare(found[key], value, here)
        elif isinstance(value, list) and value and isinstance(value[0], dict):
            for one, other in zip(found[key], value, strict=True):
                compare(one, other, here)
        elif key not in ("name", "rigid"):
            assert found[key] == pytest.approx(value, rel=ROUNDING), here


@pytest.mark.parametrize("plate", ["A", "B", "C"])
def test_the_sample_launch_is_the_one_that_was_written_down_twice(plate):
    # the same invented launch, typed independently as SI values for the tests against SciPy
    line = cs.sample_line("harbour-launch")
    if plate != "A":
        line = line.with_plate(f"plate-{plate.lower()}")
    compare(plain(line.core), launch(plate))
    assert line.warnings == ()


def test_every_shipped_line_and_plate_is_accepted_without_warning():
    kinds = ("", "-measured", "-six", "-tables")
    assert cs.sample_lines() == [f"harbour-launch{kind}" for kind in kinds]
    assert sample_plates() == ["plate-b", "plate-c", "plate-d"]
    assert cs.sample_line("harbour-launch-six").warnings == ()
    assert cs.sample_line("harbour-launch-measured").warnings == ()
    assert len(cs.sample_line("harbour-launch-six").core.engine.firing_angles) == 6
    with pytest.raises(cs.LineError, match="harbour-launch-six"):
        cs.sample_line("harbor-launch-six")


def test_the_least_a_builder_knows_makes_a_line_for_neutral():
    line = least()
    assert line.core.shaft is None
    assert line.core.propeller is None
    assert {fault.path for fault in line.warnings} == {"gearbox.ahead", "shaft", "propeller", "plate.stop_angle"}
    assert line.core.engine.rated_torque == pytest.approx(61 * 75 * 9.80665 / (2600 * math.pi / 30))  # T = P / w
    assert line.core.plate.drive.stop_angle == math.inf
    assert line.core.plate.rated_torque is None  # an estimate is not what the maker states
    assert len(line.core.gearbox.unloaded) == 1
    rod = line.quantities["engine.rod_length"]
    assert (rod.source, rod.rule is not None) == ("estimated", True)
    assert rod.low < rod.value < rod.high


def test_unknown_is_the_same_as_left_out():
    known = least()
    unknown = least(flywheel={"inertia": "unknown"}, shaft={"diameter": "35 mm", "length": {"value": "unknown"}})
    assert unknown.core.flywheel_inertia == known.core.flywheel_inertia
    assert unknown.core.shaft is None
    assert "shaft.length" in {fault.path for fault in unknown.warnings}


def test_a_flywheel_may_be_given_by_mass_and_diameter():
    line = least(flywheel={"mass": "30 kg", "outer_diameter": "400 mm"})
    assert line.core.flywheel_inertia == pytest.approx(0.135 * 30 * 0.4**2)  # the rule "weighed disc"


def test_source_and_range_are_kept():
    flywheel = cs.sample_line("harbour-launch").quantities["flywheel.inertia"]
    assert (flywheel.value, flywheel.source, flywheel.as_written) == (0.45, "measured", "0.45 kg*m^2")
    assert (flywheel.low, flywheel.high) == pytest.approx((0.432, 0.468))
    absolute = least(flywheel={"inertia": {"value": "0.45 kg*m^2", "range": "0.01 kg*m^2"}})
    assert absolute.quantities["flywheel.inertia"].low == pytest.approx(0.44)


def test_a_rigid_plate_needs_nothing_else():
    line = least(plate={"kind": "rigid"})
    assert line.core.plate.rigid
    assert "plate.stiffness" not in line.paths()
    with pytest.raises(cs.LineError, match="rigid"):
        line.replace({"plate.stiffness": "16 N*m/deg"})


def test_sides_of_the_plate_may_differ():
    stages = [
        {"stiffness": "9 N*m/deg", "until": "4 deg"},
        {"stiffness": "16 N*m/deg", "side": "drive"},
        {"stiffness": "12 N*m/deg", "side": "coast"},
    ]
    line = least(plate={"stages": stages, "stop_angle": "16 deg", "coast_stop_angle": "12 deg"})
    drive, coast = line.core.plate.drive, line.core.plate.coast
    assert [stage.stiffness * DEGREE for stage in drive.stages] == pytest.approx([9, 16])
    assert [stage.stiffness * DEGREE for stage in coast.stages] == pytest.approx([9, 12])
    assert (drive.stop_angle / DEGREE, coast.stop_angle / DEGREE) == pytest.approx((16, 12))
    softer = line.replace({"plate.stiffness": "8 N*m/deg"}).core.plate
    # (stop - corner) x slope stays: (16 - 4) 16 = (28 - 4) 8 and (12 - 4) 12 = (16 - 4) 8
    assert (softer.drive.stop_angle / DEGREE, softer.coast.stop_angle / DEGREE) == pytest.approx((28, 16))
    assert [softer.drive.stages[0].stiffness, softer.coast.stages[1].stiffness] == pytest.approx(
        [9 / DEGREE, 8 / DEGREE]
    )


@pytest.mark.parametrize("keep", ["stop torque", "travel"])
def test_the_slope_of_the_plate_keeps_stop_torque_or_travel(keep):
    line = cs.sample_line("harbour-launch").with_plate("plate-b")
    other = line.replace({"plate.stiffness": "40 N*m/deg"}, keep=keep)

    def stop_torque(plate):
        return _core.elastic_torque(plate.drive, plate.free_play, plate.drive.stop_angle)

    before, after = line.core.plate, other.core.plate
    assert after.drive.stages[1].stiffness == pytest.approx(40 / DEGREE)
    assert after.drive.stages[0] == before.drive.stages[0]
    kept = (stop_torque(before), before.drive.stop_angle) if keep == "stop torque" else (None, before.drive.stop_angle)
    if keep == "stop torque":
        assert stop_torque(after) == pytest.approx(kept[0])
        assert after.drive.stop_angle < kept[1]
    else:
        assert after.drive.stop_angle == kept[1]
        assert stop_torque(after) > stop_torque(before)


def test_a_change_makes_another_line_and_leaves_the_first():
    line = cs.sample_line("harbour-launch")
    other = line.replace(
        {"plate.stages[0].stiffness": "25 N*m/deg", "engine.idle_rpm": 750, "gearbox.ahead.ratio": 2.5}
    )
    assert other.core.plate.drive.stages[0].stiffness == pytest.approx(25 / DEGREE)
    assert other.quantities["engine.idle_rpm"].value == pytest.approx(25 * math.pi)
    assert other.core.gearbox.ahead.ratio == 2.5
    assert line == cs.sample_line("harbour-launch") != other
    line.document["engine"]["bore"] = "1 mm"  # a copy
    assert line.document["engine"]["bore"] == "92 mm"
    with pytest.raises(AttributeError):
        line.title = "other"


def test_every_path_that_can_vary_can_be_written_back():
    from calmshaft import units
    from calmshaft.schema_paths import kind_at

    line = cs.sample_line("harbour-launch")
    for path in line.paths():
        if path != "plate.stiffness":
            quantity, kind = line.quantities[path], kind_at(path)
            other = line.replace({path: units.write(quantity.value, kind)})
            assert other.quantities[path].value == pytest.approx(quantity.value, rel=ROUNDING, abs=1e-12), path


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"plate.stifness": "9 N*m/deg"}, 'not a path of this line; did you mean "plate.stiffness"'),
        ({"plate.stages[4].stiffness": "9 N*m/deg"}, "no such item"),
        ({"engine.bore": "92 kg"}, "a length is needed"),
        ({"engine.bore": "-92 mm"}, "must be more than zero"),
        ({"plate.stiffness": 9}, "a unit is needed"),
        ({"plate.stiffness": "-9 N*m/deg"}, "must be more than zero"),
        ({"": 1}, "not a path"),
    ],
)
def test_a_change_that_cannot_be_is_refused(change, message):
    with pytest.raises(cs.LineError) as caught:
        cs.sample_line("harbour-launch").replace(change)
    assert message in str(caught.value)
    assert caught.value.faults


def test_keep_must_be_one_of_two():
    with pytest.raises(cs.LineError, match='"stop torque" or "travel"'):
        cs.sample_line("harbour-launch").replace({"plate.stiffness": "9 N*m/deg"}, keep="everything")


def test_power_takes_the_place_of_torque():
    line = cs.sample_line("harbour-launch").replace({"engine.rated_power": "40 kW"})
    assert line.core.engine.rated_torque == pytest.approx(40e3 / (2600 * math.pi / 30))  # T = P / w


def test_a_line_travels_between_processes_and_is_its_own_key():
    line = cs.sample_line("harbour-launch").replace({"plate.stiffness": "20 N*m/deg"})
    again = pickle.loads(pickle.dumps(line))
    assert again == line
    assert hash(again) == hash(line)
    assert again.core == line.core
    assert again != cs.sample_line("harbour-launch")


def test_firing_angles_may_be_given_and_the_usual_order_is_taken_where_none_is():
    angles = ["0 deg", "540 deg", "180 deg", "360 deg"]  # by cylinder number: order 1-3-4-2
    by_angles = least(engine={**LEAST["engine"], "firing_angles": angles}).core.engine
    assert by_angles.firing_angles == pytest.approx(least().core.engine.firing_angles)


def test_a_vee_whose_bank_angle_is_no_firing_interval_is_warned_of():
    def paths(bank):
        engine = {**LEAST["engine"], "cylinders": 6, "layout": "vee", "bank_angle": bank}
        return {fault.path for fault in least(engine=engine).warnings}

    assert "engine.firing_order" in paths("90 deg")  # 720 / 6 = 120 deg between firings
    assert "engine.firing_order" not in paths("120 deg")


def test_a_gearbox_may_be_said_to_have_no_free_pair():
    assert least(gearbox={"unloaded": []}).core.gearbox.unloaded in ((), [])
