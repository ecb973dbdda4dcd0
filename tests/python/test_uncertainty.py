"""Ranges, cases inside them and swings: how sure an answer is. The lines are invented."""

import math

import numpy as np
import pytest

import calmshaft as cs
from calmshaft.build_line import build
from calmshaft.uncertainties import Swing, tornado
from calmshaft.uncertainties.cases import Family, steady_of
from calmshaft.uncertainties.frequencies import frequency_bands
from calmshaft.uncertainties.ranges import is_factor, value_at

IDLE = cs.Condition(rpm=800, gear="ahead")
LINE = cs.sample_line("harbour-launch")


def unsure(**ranges: str) -> cs.Line:
    """The launch with ranges of its own on some values; a double underscore stands for a point."""
    written = {path.replace("__", "."): text for path, text in ranges.items()}
    values = {path: {"value": LINE.quantities[path].as_written, "range": text} for path, text in written.items()}
    return LINE.replace(values)


def test_a_factor_is_drawn_in_the_logarithm_and_per_cent_is_not():
    assert is_factor((2.0, 0.8, 5.0))
    assert not is_factor((1.0, 0.55, 1.45))
    assert value_at(0.5, "plate.hub_inertia", (2.0, 0.8, 5.0)) == pytest.approx(2.0)  # geometric mean of the ends
    assert value_at(0.25, "engine.piston_mass", (1.0, 0.8, 1.2)) == pytest.approx(0.9)
    assert not is_factor((0.5, 0.0, 1.8))  # a range from zero has no logarithm


@pytest.mark.parametrize("spread", [(2.0, 0.8, 5.0), (1.0, 0.55, 1.45), (-0.03, -0.17, 0.09), (1.0, 0.9, 3.0)])
def test_half_of_the_draws_lie_to_either_side_and_the_outermost_meet_the_ends(spread):
    value, low, high = spread
    assert [value_at(end, "x", spread) for end in (0.0, 0.5, 1.0)] == pytest.approx([low, value, high])
    drawn = [value_at(share, "x", spread) for share in np.linspace(0, 1, 101)]
    assert drawn == sorted(drawn)
    assert np.median(drawn) == pytest.approx(value)


def test_within_a_side_draws_are_even():
    """Closed form: a quarter of all draws is half of the upper side, which ends at 3."""
    assert value_at(0.75, "x", (1.0, 0.9, 3.0)) == pytest.approx(2.0)
    assert value_at(0.25, "x", (1.0, 0.9, 3.0)) == pytest.approx(0.95)


def test_a_value_at_an_end_of_its_range_has_all_draws_on_the_other_side():
    assert [value_at(share, "x", (0.0, 0.0, 2.0)) for share in (0.0, 0.25, 1.0)] == pytest.approx([0.0, 0.5, 2.0])
    assert [value_at(share, "x", (2.0, 0.0, 2.0)) for share in (0.0, 0.25, 1.0)] == pytest.approx([0.0, 0.5, 2.0])


def test_blades_are_whole():
    assert {value_at(share, "propeller.blades", (3.0, 3.0, 4.0)) for share in np.linspace(0, 1, 20)} == {3.0, 4.0}


@pytest.mark.parametrize("name", cs.sample_lines())
def test_a_case_without_changes_is_the_line_itself(name):
    line = cs.sample_line(name)
    assert repr(Family(line).member({})[0]) == repr(line.core)  # by text: parts that are absent are not-a-number


def test_estimates_that_lean_on_a_drawn_value_follow_it():
    line = LINE.replace({"gearbox.rated_torque": "unknown", "gearbox.input_inertia": "unknown"})
    core, values = Family(line).member({"gearbox.rated_torque": 1.0})
    rated = 1.3 * 165.0 * 1.3  # three tenths above the engine's, then 30 % up
    assert values["gearbox.rated_torque"] == pytest.approx(rated)
    assert core.gearbox.input_inertia == pytest.approx(0.025 * (rated / 200) ** 1.5)  # rule "box torque"


def test_a_case_equals_the_line_that_is_written_with_its_values():
    """Two ways to one line: drawn values put in directly, and the same values through file, units and schema."""
    family = Family(LINE)
    core, values = family.member({"flywheel.inertia": 0.8, "propeller.inertia": 0.1})
    written = LINE.document
    written["flywheel"]["inertia"] = f"{values['flywheel.inertia']!r} kg*m^2"
    written["propeller"]["inertia"] = f"{values['propeller.inertia']!r} kg*m^2"
    assert repr(build(written).core) == repr(core)
    assert core.flywheel_inertia == pytest.approx(0.45 * (1 + 0.04 * 0.6))


def test_what_cannot_be_asked_is_an_error_and_a_misspelt_measure_gets_a_near_match():
    with pytest.raises(cs.LineError, match="rpm"):
        tornado(LINE, cs.Condition(rpm=9000))
    with pytest.raises(cs.LineError, match="mesh_torque_vibratory"):
        tornado(LINE, IDLE, "mesh_torque_vibratry")


def test_a_case_that_makes_no_line_is_refused_and_the_others_are_solved():
    broken, _ = Family(LINE).member({})
    broken.flywheel_inertia = -1.0
    found = steady_of([broken, LINE.core], [IDLE.with_(gear="neutral")])
    assert found.status[0, 0] == 5
    assert math.isnan(found.of("plate_torque_ripple")[0, 0])
    alone = cs.steady(LINE, IDLE.with_(gear="neutral"))
    assert found.of("plate_torque_ripple")[1, 0] == pytest.approx(alone.best("plate_torque_ripple"), rel=1e-12)


def test_a_range_whose_end_lets_a_dead_cylinder_drive_loses_that_end_only():
    line = LINE.replace({"engine.combustion.exhaust_pressure": {"value": "1.05 bar", "range": "0.2 bar"}})
    neutral = IDLE.with_(gear="neutral")
    swing = next(one for one in tornado(line, neutral).unsolved() if one.path.endswith("exhaust_pressure"))
    assert swing.status_low == "refused"
    assert math.isnan(swing.at_low)
    assert math.isfinite(swing.at_high)
    assert np.isfinite(frequency_bands(line, neutral, cases=20)).all()


def test_the_swing_of_a_full_throttle_speed_is_the_square_law():
    """Closed form: the mean torque at a speed goes with 1 / (full-throttle speed)^2; drag and losses are alike."""
    line = unsure(propeller__full_throttle_rpm="10 %")
    found = tornado(line, cs.Condition(rpm=1600), "mesh_torque_mean")
    (swing,) = [one for one in found.swings if one.path == "propeller.full_throttle_rpm"]
    assert swing.at_low / swing.at_high == pytest.approx((1.1 / 0.9) ** 2, rel=2e-3)  # ripple adds a little to w^2
    assert found.swings[0] is swing
    assert found.measure_next() is swing


def test_values_that_only_manoeuvres_ask_for_do_not_stand_in_a_tornado():
    paths = [swing.path for swing in tornado(LINE, IDLE).swings]
    assert "flywheel.inertia" in paths
    assert not [path for path in paths if "governor" in path or "clutch" in path]


def test_an_answer_that_falls_to_both_sides_is_not_called_steady():
    """A swing takes in the answer as described: near a resonance both ends may lie below it."""
    swing = Swing("plate.hub_inertia", LINE.quantities["plate.hub_inertia"], 9.0, 4.0, 4.0, "", "")
    assert swing.width == 5.0
