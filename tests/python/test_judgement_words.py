"""Judgements never say more than what was found."""

import copy

import pytest

import calmshaft as cs
from calmshaft.commands.vary import axes_of
from calmshaft.judgement import judge


def test_a_line_without_a_loaded_mesh_is_not_judged_by_its_teeth():
    document = copy.deepcopy(cs.sample_line("harbour-launch-tables").document)
    wheel = next(mass for mass in document["mass_elastic"]["masses"] if mass["name"] == "output flange")
    del wheel["part"]  # its gear pair is then rigid: nothing can part
    line = cs.line_from_document(document)
    teeth = judge(line, cs.steady(line, cs.Condition(rpm=1500)))[0]
    assert teeth.word == "not judged"
    assert "no loaded mesh" in teeth.finding


@pytest.mark.parametrize("text", ["rpm = 600 to 800 rpm", "rpm = 600 to 2600", "plate.stiffness = 8 to 60 N*m/deg"])
def test_a_range_without_a_number_of_values_is_refused(text):
    with pytest.raises(cs.LineError, match="a range without a number of values"):
        axes_of([text])


def test_a_throw_of_a_cylinder_that_does_not_exist_is_refused():
    document = copy.deepcopy(cs.sample_line("harbour-launch-tables").document)
    document["mass_elastic"]["masses"][4]["cylinder"] = 9
    with pytest.raises(cs.LineError, match=r"masses\[4\]\.cylinder is 9: the engine has cylinders 1 to 4"):
        cs.line_from_document(document)
