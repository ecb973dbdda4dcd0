"""A line and its checks through the bindings. Values are invented; the rules are our own contract."""

import copy
import math
import pickle

import pytest

from calmshaft import _core

RPM = math.pi / 30
DEGREE = math.pi / 180


def launch() -> _core.Line:
    """A plausible line: a four-cylinder harbour launch."""
    teeth = _core.ToothContact(backlash=0.25 * DEGREE, stiffness=6e5)
    pair = _core.LoadedPair(ratio=2.0, output_inertia=0.030, contact=teeth)
    springs = _core.PlateSide(
        stages=[
            _core.PlateStage(stiffness=9 / DEGREE, until=4 * DEGREE),
            _core.PlateStage(stiffness=16 / DEGREE, until=16 * DEGREE),
        ],
        stop_angle=16 * DEGREE,
    )
    return _core.Line(
        title="harbour launch, invented",
        engine=_core.Engine(
            firing_angles=_core.firing_angles([1, 3, 4, 2], 4),
            bore=0.092,
            stroke=0.098,
            rod_length=0.160,
            compression_ratio=18.5,
            piston_mass=0.95,
            rod_mass=1.1,
            rod_centre_from_big_end=0.052,
            rod_inertia=0.0056,
            crank_inertia=0.055,
            rated_torque=165,
            rated_speed=2600 * RPM,
            combustion=_core.default_combustion(_core.Fuel.diesel, 4),
            friction=_core.default_friction(_core.Fuel.diesel, 4, 0.098),
        ),
        flywheel_inertia=0.45,
        plate=_core.Plate(
            hub_inertia=0.004,
            rated_torque=180.0,
            free_play=1 * DEGREE,
            hysteresis_full_width=6,
            presliding_angle=0.1 * DEGREE,
            viscous_damping=0.5,
            stop_stiffness=1600 / DEGREE,
            drive=springs,
            coast=springs,
        ),
        gearbox=_core.Gearbox(
            rated_torque=250,
            input_inertia=0.020,
            input_drag=3.0,
            ahead=pair,
            unloaded=[_core.UnloadedPair(name="astern pair", inertia=0.0042, drag=1.3, contact=teeth)],
        ),
        shaft=_core.Shaft(stiffness=5300, inertia=0.0025, damping_ratio=0.01),
        propeller=_core.Propeller(inertia=0.093, water_inertia=0.02, absorbs_torque=165, absorbs_speed=2600 * RPM),
    )


@pytest.mark.parametrize("fuel", [_core.Fuel.diesel, _core.Fuel.petrol])
@pytest.mark.parametrize("strokes", [2, 4])
def test_the_default_working_cycles_pass_the_checks(fuel: _core.Fuel, strokes: int) -> None:
    line = launch()
    line.engine.strokes = strokes
    line.engine.firing_angles = _core.firing_angles([1, 3, 4, 2], strokes)
    line.engine.combustion = _core.default_combustion(fuel, strokes)
    line.engine.friction = _core.default_friction(fuel, strokes, 0.098)
    assert _core.check(line) == []


def test_a_fault_names_key_value_rule_and_advice() -> None:
    line = launch()
    line.gearbox.ahead.ratio = 0
    (fault,) = _core.check(line)
    assert (fault.path, fault.value, fault.warning) == ("gearbox.ahead.ratio", "0", False)
    assert "more than zero" in str(fault)
    assert "input turns" in fault.advice


def test_a_stop_torque_below_rated_torque_is_a_warning() -> None:
    line = launch()
    line.engine.rated_torque = 230
    warnings = _core.check(line)
    assert all(fault.warning for fault in warnings)
    assert {fault.path for fault in warnings} == {"plate.stop_angle", "plate.rated_torque"}
    stop = _core.elastic_torque(line.plate.drive, line.plate.free_play, 16 * DEGREE)
    assert stop == pytest.approx(9 * 3.5 + 16 * 12)  # N m, own arithmetic: half the free play taken off
    assert "223.5 N*m" in warnings[-1].value


def test_a_condition_is_checked_against_the_line() -> None:
    condition = _core.Condition(speed=4000 * RPM, gear=_core.Gear.astern, strengths=[1, 1, 0])
    paths = [fault.path for fault in _core.check(launch(), condition)]
    assert paths == ["rpm", "gear", "misfiring"]


def test_a_firing_order_that_misses_a_cylinder_is_a_line_error() -> None:
    with pytest.raises(_core.LineError, match="firing_order"):
        _core.firing_angles([1, 3, 3, 2], 4)


def test_a_line_survives_copying_and_pickling() -> None:
    line = launch()
    for twin in (pickle.loads(pickle.dumps(line)), copy.deepcopy(line)):
        assert twin == line
        twin.engine.bore = 0.1
        assert twin != line


def test_a_misspelt_field_gets_a_near_match() -> None:
    with pytest.raises(TypeError, match="did you mean 'stroke'"):
        _core.Engine(strok=0.098)


def test_a_field_of_the_wrong_type_is_named() -> None:
    with pytest.raises(TypeError, match=r"Engine\.bore cannot take '92 mm'"):
        _core.Engine(bore="92 mm")


def test_lists_are_assigned_whole_so_that_no_change_is_lost() -> None:
    gearbox = launch().gearbox
    with pytest.raises(AttributeError):
        gearbox.unloaded.append(_core.UnloadedPair())
    gearbox.unloaded = [*gearbox.unloaded, _core.UnloadedPair(inertia=0.001)]
    assert [pair.inertia for pair in gearbox.unloaded] == [0.0042, 0.001]


def test_a_part_of_a_line_is_changed_in_place() -> None:
    line = launch()
    line.shaft.stiffness = 6000
    line.plate.drive.stop_angle = 10 * DEGREE
    assert line.shaft.stiffness == 6000
    assert line.plate.drive.stop_angle == 10 * DEGREE


def test_a_part_shows_its_fields() -> None:
    assert repr(_core.PlateStage(stiffness=500, until=0.25)) == "PlateStage(stiffness=500.0, until=0.25)"
