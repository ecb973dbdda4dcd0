"""Calibration by ear: planted lines are heard, and found again within the stated interval. All lines are invented."""

import json
import math

import numpy as np
import pytest

import calmshaft as cs
from calmshaft.matching.found import _unlike_even
from calmshaft.toml_text import text_of
from test_app import called
from test_monte_carlo import exact_but

STIFFNESS, DRAG = "plate.stages[0].stiffness", "gearbox.input_drag"
SOFT = {"value": "5 N*m/deg", "range": "40 %"}  # plate C's, hardly known
DRAGGING = {"value": "3.75 N*m", "source": "estimated", "range": "50 %"}
ROUNDING = 1e-4  # ends are written with five digits, rounded inwards
KNOWN = exact_but(flywheel__inertia="4 %").with_plate("plate-c")
ONE_UNSURE = KNOWN.replace({STIFFNESS: SOFT})
BOTH_UNSURE = KNOWN.replace({STIFFNESS: SOFT, DRAG: DRAGGING})


def heard_of(line: cs.Line, gear: str = "neutral") -> float:
    """Where the rattle of a line stops [rpm], by the sweep and its finer steps: another way than the cases'."""
    return cs.quiet_idle(line, ["none"], [gear], step=5.0)[0].rpm


def of(found: cs.Match, path: str):
    return next(one for one in found.values() if one.path == path)


@pytest.mark.parametrize("planted", [3.5, 5.0, 6.5])
def test_a_planted_stiffness_is_found_again_and_determined(planted):
    rpm = heard_of(ONE_UNSURE.replace({STIFFNESS: f"{planted} N*m/deg"}))
    found = cs.match(ONE_UNSURE, neutral_quiet_at=rpm, heard_to="15 rpm", cases=600)
    value = of(found, STIFFNESS)
    assert value.word == "determined"
    assert value.left < 0.5
    assert value.after[0] <= math.degrees(planted) <= value.after[1]
    assert abs(found.stops["neutral"][found.best()] - rpm) <= 15.0


@pytest.fixture(scope="module")
def both() -> tuple[float, cs.Match]:
    planted = BOTH_UNSURE.replace({STIFFNESS: "4 N*m/deg", DRAG: "3 N*m"})
    rpm = heard_of(planted)
    return rpm, cs.match(BOTH_UNSURE, neutral_quiet_at=rpm, cases=1000)


def test_two_values_that_make_up_for_each_other_are_told_of_together(both):
    """A softer plate falls silent lower, and so does a box that drags more: one speed cannot tell them apart."""
    _, found = both
    assert {STIFFNESS, DRAG} in [{one, other} for one, other, _ in found.told_together()]
    assert of(found, STIFFNESS).after[0] <= math.degrees(4) <= of(found, STIFFNESS).after[1]
    assert of(found, DRAG).after[0] <= 3.0 <= of(found, DRAG).after[1]


def test_the_best_case_is_a_line_that_falls_silent_where_it_was_heard(both):
    rpm, found = both
    best = found.best_line()
    assert abs(heard_of(best) - rpm) <= 25.0
    assert best.quantities[STIFFNESS].source == "estimated"
    left, written = of(found, STIFFNESS).after, best.quantities[STIFFNESS]
    assert written.low <= left[0] * (1 + ROUNDING)
    assert written.high >= left[1] * (1 - ROUNDING)


def test_a_value_that_cannot_be_heard_stays_open(both):
    """The stop of the plate: in neutral it is never wound up so far."""
    assert of(both[1], "plate.stop_stiffness").word == "open"


def test_a_planted_line_outside_the_ranges_is_refused_with_how_near_the_nearest_comes():
    rpm = heard_of(KNOWN.replace({STIFFNESS: "9 N*m/deg"}))
    found = cs.match(ONE_UNSURE, neutral_quiet_at=rpm, cases=200)
    assert found.agreeing == 0
    assert found.values() == ()
    near = found.nearest[0]
    assert near.lowest <= near.nearest == near.highest < rpm - 25.0  # all lie on one side
    with pytest.raises(cs.LineError, match="agrees with what was heard"):
        found.best_line()


def test_the_same_seed_gives_the_same_cases_for_any_number_of_threads():
    one, two = (cs.match(ONE_UNSURE, neutral_quiet_at=850, cases=200, threads=n) for n in (1, 2))
    assert np.array_equal(one.shares, two.shares)
    assert np.array_equal(one.stops["neutral"], two.stops["neutral"])


def test_a_swing_of_idle_speed_tells_the_flywheel():
    """It goes as one over the inertia (energy of a firing over J w^2)."""
    line = exact_but(flywheel__inertia="30 %")
    planted = line.replace({"flywheel.inertia": "0.38 kg*m^2"})
    swing = cs.steady(planted, cs.Condition(800, "neutral")).best("cyclic_irregularity")
    found = cs.match(line, idle_swing=f"{100 * swing} %", swing_to="5 %", cases=300)
    value = of(found, "flywheel.inertia")
    assert value.word == "determined"
    assert value.after[0] <= 0.38 <= value.after[1]


def test_kolmogorovs_statistic_of_an_even_and_of_a_lopsided_row():
    """Closed form: the middles of n equal parts lie 1/(2n) off; all in the lower half lie 1/2 off."""
    assert _unlike_even((np.arange(10) + 0.5) / 10) == pytest.approx(math.sqrt(10) / 20)
    assert _unlike_even((np.arange(100) + 0.5) / 200) == pytest.approx(10 * 0.5, rel=0.02)


@pytest.mark.parametrize(
    ("told", "words"),
    [
        ({}, "nothing was heard"),
        ({"neutral_quiet_at": -5}, "more than zero"),
        ({"ahead_quiet_at": "3000 rpm"}, "above the rated speed, 2600 rpm"),
        ({"neutral_quiet_at": 100}, "below half of the idle speed"),
        ({"neutral_quiet_at": "900 mm"}, "speed of rotation"),
        ({"neutral_quiet_at": 900, "heard_to": 0}, "between 1 and 300"),
        ({"idle_swing": "0 %"}, "between zero"),
        ({"idle_swing": "3 %", "swing_to": "300 %"}, "between 0.1 % and 100 %"),
        ({"neutral_quiet_at": 900, "cases": 3}, "cannot make a band"),
    ],
)
def test_what_cannot_have_been_heard_is_refused(told, words):
    with pytest.raises(cs.LineError, match=words):
        cs.match(ONE_UNSURE, **told)


def test_all_faults_are_told_at_once():
    with pytest.raises(cs.LineError) as caught:
        cs.match(ONE_UNSURE, neutral_quiet_at=-1, ahead_quiet_at=9000, heard_to="x")
    assert len(caught.value.faults) == 3


def test_the_command_says_words_and_writes_a_line_that_loads(tmp_path):
    path, out = tmp_path / "mine.toml", tmp_path / "matched.toml"
    path.write_text(text_of(ONE_UNSURE.document))
    said = called("match", path, "--neutral-quiet-at", "850 rpm", "--cases", "200", "--out", out)
    assert "plausible cases agree" in said.output
    assert "determined" in said.output
    assert cs.load_line(out).quantities[STIFFNESS].source == "estimated"
    told = json.loads(called("match", path, "--neutral-quiet-at", "850", "--cases", "200", "--json").stdout)
    assert told["agreeing"] > 0
    assert told["best"]["line"]["plate"]


def test_the_command_tells_both_explanations_and_writes_nothing_where_none_agrees(tmp_path):
    path, out = tmp_path / "mine.toml", tmp_path / "matched.toml"
    path.write_text(text_of(ONE_UNSURE.document))
    said = called("match", path, "--neutral-quiet-at", "2000", "--cases", "100", "--out", out, code=5)
    assert "description is wrong" in said.output
    assert "engine is ill" in said.output
    assert not out.exists()


@pytest.mark.parametrize("name", cs.sample_lines())
def test_a_document_is_written_as_text_that_reads_the_same(name, tmp_path):
    document = cs.sample_line(name).document
    (tmp_path / "again.toml").write_text(text_of(document))
    assert cs.load_line(tmp_path / "again.toml").document == document


def test_what_is_met_alone_and_what_is_not_is_told_apart():
    """Plate C's swing at idle is some 6 %: 2 % is met by no case, 850 rpm by many."""
    found = cs.match(ONE_UNSURE, neutral_quiet_at=850, idle_swing="2 %", cases=60)
    assert found.agreeing == 0
    assert found.met_alone() == [True, False]
    low, high = found.nearest_swings
    assert 0.02 < low <= high


def test_gears_that_contradict_each_other_are_met_alone_and_by_no_case_together():
    """With one value unsure: neutral asks for a stiff plate, and ahead for a soft one."""
    ahead, neutral = (
        heard_of(ONE_UNSURE.replace({STIFFNESS: f"{stiffness} N*m/deg"}), gear)
        for gear, stiffness in (("ahead", 4.2), ("neutral", 6.5))
    )
    found = cs.match(ONE_UNSURE, neutral_quiet_at=neutral, ahead_quiet_at=ahead, heard_to="15 rpm", cases=200)
    assert found.agreeing == 0
    assert found.met_alone() == [True, True]


def test_stated_intervals_hold_planted_values_as_often_as_they_say():
    """Sixteen planted values, drawn evenly: nine in ten should lie inside; under eleven are 3 in 1000 (binomial)."""
    inside = 0
    for stiffness, drag in np.random.default_rng(7).uniform((3.2, 2.1), (6.8, 5.4), (8, 2)):
        planted = BOTH_UNSURE.replace({STIFFNESS: f"{stiffness} N*m/deg", DRAG: f"{drag} N*m"})
        found = cs.match(BOTH_UNSURE, neutral_quiet_at=heard_of(planted), cases=400)
        for path, value in ((STIFFNESS, math.degrees(stiffness)), (DRAG, drag)):
            low, high = of(found, path).after
            inside += low <= value <= high
    assert inside >= 11
