"""A plate over speed: the same as run by run and as the sweep has it, beside the maker's limits, and drawn."""

import math

import numpy as np
import pytest

import calmshaft as cs
from calmshaft.duty.over_speed import usual_speeds
from calmshaft.duty.over_speed_words import capacity_rows, sentences
from calmshaft.plots import plate_over_speed

LAUNCH = cs.sample_line("harbour-launch")
SPRUNG = LAUNCH.with_plate("plate-d")
SPEEDS = [800.0, 1450.0, 2600.0]
LIMITS = {"plate_mean_torque": {"value": "150 N*m", "document": "maker's sheet 7"},
          "plate_heat": {"value": "0.1 kW", "document": "maker's sheet 7"}}  # fmt: skip
SAME = 1e-9  # [-] the same motion, asked in another way


@pytest.fixture(scope="module")
def found():
    return cs.plate_over_rpm(SPRUNG, SPEEDS)


def test_it_is_the_duty_of_every_single_run(found):
    for label in ("none", "1"):
        duty = cs.plate_duty(cs.steady(SPRUNG, cs.Condition(1450, misfiring=label)))
        here = found.sel(misfiring=label, rpm=1450)
        assert float(here.torque_alternating_ten_hertz) == duty.alternating_at_ten_hertz
        assert float(here.warming_high) == duty.warming.high
        assert dict(zip(found.stage.values, here.stage_share.values, strict=True)) == duty.shares


def test_it_agrees_with_the_measures_of_a_sweep(found):
    # second route: the meters of the integration over all cycles measured
    swept = cs.sweep(SPRUNG, {"rpm": SPEEDS, "misfiring": ["none", "1"]}, cs.Condition(800))
    for name, measure in (("torque_mean", "plate_torque_mean"), ("heat_power", "plate_heat_power")):
        wanted = swept[measure].transpose("misfiring", "rpm").values
        assert found[name].values == pytest.approx(wanted, rel=SAME)
    repeats = swept.plate_twist_max.transpose("misfiring", "rpm").values
    there = np.isfinite(repeats)
    assert there.sum() >= 3
    assert found.twist_max.values[there] == pytest.approx(repeats[there], rel=SAME)


def test_time_on_the_stages_adds_up_and_moves_outwards_with_speed(found):
    assert found.stage_share.sum("stage").values == pytest.approx(1.0)
    outer = found.stage_share.sel(misfiring="none", stage="drive, inner springs")
    assert list(outer.values) == sorted(outer.values)
    assert float(outer[0]) == 0.0
    assert float(outer[-1]) == 1.0


def test_it_asks_from_idle_to_rated_speed_by_itself():
    speeds = usual_speeds(LAUNCH)
    assert (speeds[0], speeds[-1], len(speeds)) == (800.0, 2600.0, 16)


def test_capacity_is_judged_only_where_its_maker_states_it():
    line = cs.line_from_document({**SPRUNG.document, "limits": LIMITS})
    rows = capacity_rows(line, cs.plate_over_rpm(line, SPEEDS))
    words = {row[0].split(",")[0]: row[-2:] for row in rows[1:]}
    assert words["nominal torque T_N"] == ["150 N m (maker's sheet 7)", "over"]  # 165 N m at full throttle
    assert words["heat P_W"] == ["100 W (maker's sheet 7)", "within"]
    assert words["alternating torque T_W"] == ["", "not judged: no limit is entered"]


def test_speeds_that_no_engine_holds_do_not_decide(found):
    assert bool(found.overfuelled.sel(misfiring="1", rpm=2600))
    rows = capacity_rows(SPRUNG, found)
    assert rows[1][1].endswith("2,600")
    assert not rows[1][2].endswith("2,600")
    assert "more fuel than at rated torque" in " ".join(sentences(SPRUNG, found))


def test_hits_of_the_stop_and_warming_are_told(found):
    short = LAUNCH.replace({"plate.stop_angle": "4 deg", "plate.stages[0].until": "4 deg"})
    struck = " ".join(sentences(short, cs.plate_over_rpm(short, [800.0, 900.0], ["none"])))
    assert "the stop is hit in drive up to" in struck
    calm = " ".join(sentences(SPRUNG, found))
    assert "never hit" in calm
    assert "no coils touch" in calm
    assert "K at most" in calm
    assert "(estimate)" in calm


def test_a_speed_without_an_answer_is_not_a_number_and_keeps_the_rest():
    ds = cs.plate_over_rpm(SPRUNG, [150.0, 1450.0], ["1+2+3"])
    assert math.isnan(float(ds.twist_max[0, 0]))
    assert math.isfinite(float(ds.twist_max[0, 1]))
    assert sentences(SPRUNG, ds)
    plate_over_speed(SPRUNG, ds)


def test_it_is_drawn_with_the_stops_of_both_sides(found):
    figure = plate_over_speed(SPRUNG, found)
    twist = figure.axes[0]
    levels = [float(line.get_ydata()[0]) for line in twist.lines if len(set(line.get_ydata())) == 1]
    assert min(levels) == pytest.approx(-15.0)
    assert max(levels) == pytest.approx(15.0)
    labels = [text.get_text() for text in figure.axes[1].get_legend().get_texts()]
    assert labels == ["drive, soft springs", "drive, main springs", "drive, inner springs"]
    assert "(estimate)" in figure.axes[3].get_title("left")


def test_without_a_plate_or_speeds_there_is_a_clear_error():
    rigid = cs.line_from_document({**LAUNCH.document, "plate": {"kind": "rigid"}})
    with pytest.raises(cs.LineError, match="no damper plate"):
        cs.plate_over_rpm(rigid)
    with pytest.raises(cs.LineError, match="needs at least one"):
        cs.plate_over_rpm(LAUNCH, [])
