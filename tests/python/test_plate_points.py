"""Plates measured by a torque wrench: middle and width of the readings, and readings that no plate gives."""

import math

import pytest
from typer.testing import CliRunner

import calmshaft as cs
from calmshaft import _core
from calmshaft.app import app
from calmshaft.toml_text import text_of

DEGREE = math.pi / 180
LAUNCH = cs.sample_line("harbour-launch")


def points(*rows):
    """A [plate] by rows of angle [deg], torque loading and unloading [N m]."""
    keys = ("angle", "torque_loading", "torque_unloading")
    return {"points": [dict(zip(keys, (f"{a} deg", f"{up} N*m", f"{down} N*m"), strict=True)) for a, up, down in rows]}


def of_two_stages(friction, *angles):
    """Readings on a plate with 1 deg of play, 10 N m/deg, from 5 deg on 20 N m/deg; `friction`: half width [N m]."""
    rows = []
    for a in angles:
        torque = 10 * max(abs(a) - 0.5, 0) + 10 * max(abs(a) - 5, 0)
        sign = math.copysign(1, a)
        rows.append((a, sign * (torque + friction), sign * (torque - friction)))
    return points(*rows)


def test_the_readings_of_a_plate_give_the_plate_back():
    line = LAUNCH.with_plate({**of_two_stages(3, 0.5, 2, 3.5, 5, 8, 10), "stop_angle": "12 deg"})
    core = line.core.plate
    assert core.free_play == pytest.approx(1 * DEGREE)
    assert core.hysteresis_full_width == pytest.approx(6)
    assert [stage.stiffness * DEGREE for stage in core.drive.stages] == pytest.approx([10, 20])
    assert core.drive.stages[0].until == pytest.approx(5 * DEGREE)
    assert core.coast.stages[0].until == pytest.approx(5 * DEGREE)
    assert line.quantities["plate.hysteresis_full_width"].source == "derived"
    assert _core.elastic_torque(core.drive, core.free_play, 11 * DEGREE) == pytest.approx(45 + 120)


def test_without_a_reading_at_no_torque_the_first_line_is_drawn_back():
    assert LAUNCH.with_plate(of_two_stages(3, 2, 4, 5, 8)).core.plate.free_play == pytest.approx(1 * DEGREE)


def test_drive_and_coast_may_differ_and_the_middle_lies_between():
    rows = [(1, 2, -2 + 2), (6, 52, 48), (-3, -2, 0), (-5, -42, -38)]
    core = LAUNCH.with_plate(points(*rows)).core.plate
    assert core.drive.stages[0].stiffness != core.coast.stages[0].stiffness
    assert core.coast.stages[-1].stiffness * DEGREE == pytest.approx((40 - 1) / 2)


def test_one_reading_a_little_off_makes_no_corner():
    off = points((0, 1, -1 + 1), (2, 21, 19), (4, 41.4, 39.4), (6, 61, 59))
    assert len(LAUNCH.with_plate(off).core.plate.drive.stages) == 1


REFUSED = [
    ([(2, 20, 14), (4, 18, 12), (6, 60, 54)], "plate.points[1].torque_loading is 18 N*m: is, with unloading, no more"),
    ([(2, 20, 24), (4, 40, 34)], "plate.points[0].torque_unloading is 24 N*m: is more than the 20 N*m while loading"),
    ([(2, 20, 14), (2, 40, 34)], "plate.points[1].angle is 2 deg: was read twice"),
    (
        [(2, 20, 14), (-4, 40, 34)],
        "plate.points[1].torque_loading is 40 N*m: has another sign than the angle of -4 deg",
    ),
    ([(0, 0, 0), (2, 0, 0)], "plate.points hold no reading with a torque"),
]


@pytest.mark.parametrize(("rows", "message"), REFUSED, ids=[message[:40] for _, message in REFUSED])
def test_readings_that_no_plate_gives_are_told(rows, message):
    with pytest.raises(cs.LineError) as caught:
        LAUNCH.with_plate(points(*rows))
    assert str(caught.value).removeprefix("harbour-launch.toml: ").startswith(message)
    assert "plate.stages" not in str(caught.value)


def test_a_half_reading_is_told():
    with pytest.raises(cs.LineError, match=r"plate.points\[0\].torque_unloading is missing; read angle and torque"):
        LAUNCH.with_plate({"points": [{"angle": "2 deg", "torque_loading": "20 N*m"}]})


def notes(plate):
    line = LAUNCH.with_plate(plate)
    return [line.explain(fault) for fault in line.warnings if fault.path == "plate.points"]


def test_fewer_readings_of_a_side_than_four_are_told_with_what_they_cannot_tell():
    (message,) = notes(of_two_stages(3, 4, 8, 12))
    assert "plate.points is 3 readings on the drive side: cannot tell a second stage, a preload or how the" in message
    assert "read 4 angles at least" in message
    assert "one line is drawn through it from the middle" in notes(of_two_stages(3, 12))[0]
    assert notes(of_two_stages(3, 2, 4, 8, 12)) == []


def test_each_side_is_counted_by_itself():
    (message,) = notes(of_two_stages(3, 2, 4, 8, 12, -6, -12))
    assert "2 readings on the coast side" in message


def test_few_readings_leave_slope_and_friction_less_sure():
    few, many = (LAUNCH.with_plate(of_two_stages(3, *angles)).quantities for angles in ((8, 12), (6, 8, 10, 12)))
    for path, unsure in (("plate.stages[0].stiffness", (0.15, 0.05)), ("plate.hysteresis_full_width", (0.15, 0.0))):
        for found, share in zip((few, many), unsure, strict=True):
            assert found[path].high / found[path].value - 1 == pytest.approx(share)


@pytest.mark.parametrize("command", [["check"], ["run", "--rpm", "1500"]])
def test_check_and_run_tell_of_few_readings(command, tmp_path):
    line = LAUNCH.with_plate({**of_two_stages(3, 8, 12), "stop_angle": "16 deg"})
    (tmp_path / "mine.toml").write_text(text_of(line.document))
    result = CliRunner().invoke(app, [command[0], str(tmp_path / "mine.toml"), *command[1:]])
    assert "2 readings on the drive side" in result.stderr
    (tmp_path / "plate.toml").write_text(text_of({"plate": line.document["plate"]}))
    alone = CliRunner().invoke(app, ["plate", str(tmp_path / "plate.toml")])
    assert "2 readings on the drive side" in alone.stderr
    assert "sure within 15 %" in alone.stdout
