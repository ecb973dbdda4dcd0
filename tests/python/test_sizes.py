"""Inches for millimetres and the reverse: what only another unit can mean is refused, with the value it would be.

The sizes are common practice without a source, wide.
"""

import copy

import pytest

import calmshaft as cs
from calmshaft.schema_paths import put
from calmshaft.workshop import sizes

LAUNCH = cs.sample_line("harbour-launch").document
SPRUNG = {**LAUNCH, "plate": cs.load_plate("plate-d")}
SPRING = "plate.springs[0]"

CONFUSED = [
    ("engine.bore", "92 in", "2337 mm", "were mm meant where in stands, it is 92 mm"),
    ("engine.bore", "3.62 mm", "3.62 mm", "were in meant where mm stands, it is 91.95 mm"),
    ("engine.stroke", "98 in", "2489 mm", "measure how far a piston moves"),
    ("engine.stroke", "3.86 mm", "3.86 mm", "it is 98.04 mm"),
    ("engine.rod_length", "160 in", "4064 mm", "it is 160 mm"),
    ("engine.rod_length", "6.3 mm", "6.3 mm", "measure between the middles of its bores"),
    ("shaft.diameter", "35 in", "889 mm", "measure it with a micrometer again"),
    ("shaft.diameter", "1.375 mm", "1.375 mm", "it is 34.92 mm"),
    ("propeller.diameter", "18 mm", "18 mm", "it is 457.2 mm"),
    (f"{SPRING}.wire_diameter", "3.2 in", "81.28 mm", "measure one wire, not the coil"),
    (f"{SPRING}.wire_diameter", "0.126 mm", "0.126 mm", "it is 3.2 mm"),
    (f"{SPRING}.coil_outer_diameter", "22 in", "558.8 mm", "measure across the coils, outside to outside"),
    (f"{SPRING}.coil_outer_diameter", "0.866 mm", "0.866 mm", "it is 22 mm"),
    (f"{SPRING}.free_length", "50 in", "1270 mm", "measure the spring lying free"),
    (f"{SPRING}.free_length", "1.97 mm", "1.97 mm", "it is 50.04 mm"),
    (f"{SPRING}.pitch_radius", "62 in", "1575 mm", "measure from the hub's axis to the spring's"),
    (f"{SPRING}.pitch_radius", "2.44 mm", "2.44 mm", "it is 61.98 mm"),
    (f"{SPRING}.window_length", "50.5 in", "1283 mm", "measure the window along the spring"),
    ("plate.springs[1].drive_gap", "4 in", "101.6 mm", "measure it with a feeler gauge again"),
]


IDS = [f"{path} {written}" for path, written, *_ in CONFUSED]


@pytest.mark.parametrize(("path", "written", "shown", "words"), CONFUSED, ids=IDS)
def test_a_size_in_the_other_unit_is_one_error_with_what_to_measure_again(path, written, shown, words):
    document = copy.deepcopy(SPRUNG)
    put(document, path, written)
    with pytest.raises(cs.LineError) as caught:
        cs.line_from_document(document)
    (fault,) = caught.value.faults
    assert (fault.path, fault.value) == (path, shown)
    assert words in fault.advice


@pytest.mark.parametrize(
    ("low", "high", "shown", "which"),
    [("3.6 mm", "92.2 mm", "3.6 mm", "low"), ("91.9 mm", "92.2 in", "2342 mm", "high")],
)
def test_an_end_of_a_range_in_the_other_unit_is_told_too(low, high, shown, which):
    document = copy.deepcopy(LAUNCH)
    put(document, "engine.bore", {"value": "92 mm", "low": low, "high": high})
    with pytest.raises(cs.LineError) as caught:
        cs.line_from_document(document)
    (fault,) = caught.value.faults
    assert (fault.path, fault.value) == ("engine.bore", shown)
    assert f"the {which} end of its range is no bore of such an engine" in fault.rule
    assert "meant where" in fault.advice


def test_a_hint_of_the_other_unit_is_given_only_where_that_unit_was_written():
    document = copy.deepcopy(LAUNCH)
    put(document, "propeller.diameter", "46 m")
    with pytest.raises(cs.LineError) as caught:
        cs.line_from_document(document)
    assert "were" not in str(caught.value)


def test_bore_and_stroke_that_no_engine_has_together_are_refused():
    document = copy.deepcopy(LAUNCH)
    document["engine"]["bore"] = "12.2 in"
    with pytest.raises(cs.LineError, match=r"is 3\.2 times the stroke of 98 mm"):
        cs.line_from_document(document)


def test_a_coil_of_far_too_thin_wire_is_refused():
    document = copy.deepcopy(SPRUNG)
    put(document, f"{SPRING}.wire_diameter", "1 mm")
    with pytest.raises(cs.LineError, match=r"is 22 mm: is more than 21 times the wire of 1 mm"):
        cs.line_from_document(document)


@pytest.mark.parametrize("name", cs.sample_lines())
def test_the_sizes_of_shipped_lines_lie_far_inside(name):
    for path, one in cs.sample_line(name).quantities.items():
        if size := sizes.LINE.get(path):
            assert size.holds(one.value / 2)
            assert size.holds(one.value * 2)
