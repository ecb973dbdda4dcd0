"""The condition as people write it: labels, choices, loads, and what is refused. The rules are our own contract."""

import math
import pickle

import pytest

import calmshaft as cs
from calmshaft.condition import cylinder_strengths, misfiring_label


@pytest.mark.parametrize(
    ("written", "label"),
    [
        ("none", "none"), ([], "none"), ({2: 1.0}, "none"), (3, "3"), ("3", "3"), ([4, 3], "3+4"), ("4 + 3", "3+4"),
        ({3: 0.5}, "3@50%"), ("3@50%", "3@50%"), ("3@0%", "3"), ({4: 0.25, 1: 0.0}, "1+4@25%"),
    ],
)  # fmt: skip
def test_however_misfiring_is_written_it_carries_one_label(written, label):
    assert misfiring_label(written) == label
    assert cs.Condition(800, misfiring=written) == cs.Condition(800, misfiring=label)
    assert cylinder_strengths(label) == cylinder_strengths(written)


def test_strengths_are_listed_by_cylinder_number():
    assert cs.Condition(800).strengths(4) == []  # all fire
    assert cs.Condition(800, misfiring="2+4@50%").strengths(4) == [1.0, 0.0, 1.0, 0.5]


def test_a_condition_is_a_value():
    at = cs.Condition(800, misfiring=[3], load="50 N*m")
    assert pickle.loads(pickle.dumps(at)) == at
    assert len({at, cs.Condition(800, misfiring="3", load="50 N*m")}) == 1
    assert at.with_(rpm=900).rpm == 900
    with pytest.raises(AttributeError):
        at.rpm = 900


def test_the_compiled_library_gets_radians_per_second_and_newton_metres():
    core = cs.Condition(800, load="37 lbf*ft").core(4)
    assert core.speed == pytest.approx(800 * math.pi / 30)
    assert core.load_torque == pytest.approx(37 * 1.3558179, rel=1e-6)  # NIST SP 811, from memory


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"rpm": "800"}, "^rpm .*number"),
        ({"rpm": math.nan}, "^rpm .*number"),
        ({"gear": "aheed"}, 'gear .*"ahead"'),
        ({"gear": "reverse"}, "gear .*ahead, neutral, astern"),
        ({"fuelling": "governd"}, 'fuelling .*"governed"'),
        ({"load": "tied"}, "^load .*tied up"),
        ({"load": "50 kg"}, "load.*torque"),
        ({"misfiring": "x"}, "^misfiring .*must name cylinders"),
        ({"misfiring": {3: 1.5}}, "^misfiring .*between 0 and 1"),
        ({"misfiring": "3@150%"}, '^misfiring .*"3@50%"'),
        ({"misfiring": [3.7]}, "^misfiring"),
        ({"misfiring": ["a"]}, "^misfiring"),
        ({"rpm": True}, "^rpm"),
    ],
)
def test_what_makes_no_sense_is_refused_by_the_field_s_name(fields, words):
    with pytest.raises(cs.LineError, match=words):
        cs.Condition(**{"rpm": 800, **fields})


@pytest.mark.parametrize(
    ("at", "words"),
    [
        (cs.Condition(800, misfiring=[7]), "misfiring .*cylinders 1 to 4"),
        (cs.Condition(800, misfiring=[1, 2, 3, 4]), "misfiring.*one cylinder that fires"),
        (cs.Condition(9000), "^rpm.*1.3 times"),
        (cs.Condition(800, load="-5 N*m"), "^load.*negative"),
    ],
)
def test_what_the_line_cannot_do_is_refused_before_anything_runs(at, words):
    with pytest.raises(cs.LineError, match=words):
        cs.steady(cs.sample_line("harbour-launch"), at)


def test_a_strength_near_nothing_survives_its_own_label():
    weak = cs.Condition(800, misfiring={1: 2e-16})
    assert cs.Condition(800, misfiring=weak.misfiring).strengths(4) == pytest.approx([2e-16, 1, 1, 1])
