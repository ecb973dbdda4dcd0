"""Spring damage follows its own rules: the infinite-life point, the knee, the strength, the diary."""

import math

import numpy as np
import pytest

import calmshaft as cs
from calmshaft.cycle_counting import Cycles
from calmshaft.judgement import fatigue
from calmshaft.judgement.spring_life import Diary, Duty, spring_life

STEEL = fatigue.spring_steel(1800e6)
ANGLE = np.linspace(0, 2 * np.pi, 64, endpoint=False)


def cycle(amplitude, mean, count=1.0):
    return Cycles(np.array([2 * amplitude]), np.array([mean]), np.array([count]))


def wave(mean, amplitude):
    return mean + amplitude * np.cos(ANGLE)


def test_the_infinite_life_point_lies_on_the_knee():
    # definition: Goodman's line is drawn through it
    assert STEEL.life(cycle(STEEL.amplitude, STEEL.mean))[0] == pytest.approx(STEEL.knee, rel=1e-12)
    assert STEEL.safety(STEEL.amplitude, STEEL.mean) == pytest.approx(1.0, rel=1e-12)


def test_slopes_on_both_sides_of_the_knee():
    at, above, below = (STEEL.life(cycle(f * STEEL.reversed_amplitude, 0.0))[0] for f in (1.0, 1.1, 0.9))
    assert math.log(at / above) / math.log(1.1) == pytest.approx(STEEL.slope, rel=1e-9)
    assert math.log(below / at) / math.log(1 / 0.9) == pytest.approx(2 * STEEL.slope - 1, rel=1e-9)


def test_a_peak_at_the_strength_is_the_end_and_rest_is_for_ever():
    half = STEEL.shear_strength / 2
    assert STEEL.damage(cycle(half, half)) == math.inf
    assert STEEL.damage(cycle(0.0, half)) == 0.0
    assert STEEL.damage(Cycles(*(np.array([]),) * 3)) == 0.0


def test_damage_of_a_sine_is_its_cycles_over_their_life():
    # second way: one period has one cycle, its life written out by hand
    amplitude, mean = 300e6, 350e6
    equivalent = amplitude / (1 - mean / STEEL.shear_strength)
    by_hand = (equivalent / STEEL.reversed_amplitude) ** STEEL.slope / STEEL.knee
    assert STEEL.damage(fatigue.stress_cycles(wave(mean, amplitude))) == pytest.approx(by_hand, rel=1e-9)


def test_constants_lie_in_their_ranges_and_say_where_they_come_from():
    constants = [one for one in vars(fatigue).values() if isinstance(one, fatigue.Constant)]
    assert len(constants) >= 8
    assert all(one.low <= one.value <= one.high and one.source.document and one.source.text for one in constants)


def test_relative_life_of_a_softer_plate_is_sure_where_hours_are_not():
    hard = Diary([Duty("idle", 400, wave(350e6, 300e6), 0.075), Duty("cruise", 600, wave(400e6, 150e6), 0.025)], 1000)
    soft = Diary([Duty("idle", 400, wave(350e6, 240e6), 0.075), Duty("cruise", 600, wave(400e6, 150e6), 0.025)], 1000)
    found = spring_life(soft, STEEL, hard, STEEL)
    assert 1 < found.low <= found.relative <= found.high
    assert found.hours_high / found.hours_low > found.high / found.low
    assert found.worst == "idle"
    assert "an order of magnitude only" in str(found)
    same = spring_life(hard, STEEL, hard, STEEL)
    assert (same.relative, same.low, same.high) == (1.0, 1.0, 1.0)


def test_a_life_that_cannot_be_compared_says_so():
    rest = Diary([Duty("rest", 10, wave(300e6, 0.0), 1.0)], 10)
    assert "cannot be compared" in str(spring_life(rest, STEEL, rest, STEEL))


def test_a_diary_that_does_not_add_up_is_refused_with_the_difference():
    duties = [Duty("idle", 300, wave(1e8, 1e8), 0.1), Duty("cruise", 600, wave(1e8, 1e8), 0.1)]
    with pytest.raises(cs.LineError, match="add up to 900 h: 100 h are missing"):
        Diary(duties, 1000)
    with pytest.raises(cs.LineError, match="100 h are too many"):
        Diary(duties, 800)
    assert Diary(duties, 900.5).total_hours == 900.5  # within rounding


def test_all_faults_of_a_diary_show_at_once():
    with pytest.raises(cs.LineError) as caught:
        Diary([Duty("idle", -1, wave(1, 1), 0.0), Duty("idle", 2, wave(1, 1), 1.0)], 1)
    assert [fault.path for fault in caught.value.faults] == ["duties", "hours of idle", "period of idle"]


@pytest.mark.parametrize("wrong", [{"tensile_strength": 0.0}, {"tensile_strength": 1e9, "kept": 1.5}])
def test_wrong_wire_is_refused(wrong):
    with pytest.raises(cs.LineError, match="write"):
        fatigue.spring_steel(**wrong)
