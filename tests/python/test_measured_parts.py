"""Flywheels as discs or on wires and shafts in pieces, in the line file."""

import math

import pytest

import calmshaft as cs
from calmshaft import workshop
from calmshaft.workshop import Disc, Holes, measured, percent

LAUNCH = cs.sample_line("harbour-launch").document
HANG = {"mass": "26.4 kg", "wire_radius": "150 mm", "wire_length": "1.5 m", "swings": 30, "time": "60.9 s"}
DISC = {"outer_diameter": "350 mm", "thickness": "35 mm"}
BOX = "gearbox output"


def launch(**sections):
    return cs.line_from_document({**LAUNCH, **sections})


def refused(**sections):
    with pytest.raises(cs.LineError) as caught:
        launch(**sections)
    return caught.value


def test_a_hung_flywheel_is_its_closed_form_with_the_error_of_a_watch():
    line = launch(flywheel={"hang": HANG})
    expected = 26.4 * 9.80665 * 0.15**2 * 2.03**2 / (4 * math.pi**2 * 1.5)
    found = line.quantities["flywheel.inertia"]
    assert line.core.flywheel_inertia == found.value == pytest.approx(expected)
    assert (found.source, found.rule) == ("measured", "hung on three wires")
    assert found.high / found.value == pytest.approx((61.1 / 60.9) ** 2)


def test_ranges_of_the_readings_become_the_range_of_the_inertia():
    readings = {**HANG, "mass": {"value": "26.4 kg", "source": "measured", "range": "1 %"},
                "time": {"value": "60.9 s", "range": "0.5 s"}}  # fmt: skip
    found = launch(flywheel={"hang": readings}).quantities["flywheel.inertia"]
    by_hand = workshop.trifilar(percent(26.4, 1), 0.15, 1.5, measured(2.03, 0.5 / 30))
    assert (found.low, found.value, found.high) == pytest.approx((by_hand.low, by_hand.value, by_hand.high))


def test_a_board_is_taken_off():
    board = {"table_mass": "3 kg", "table_inertia": "0.06 kg*m^2"}
    bare, with_board = (launch(flywheel={"hang": {**HANG, **more}}).core.flywheel_inertia for more in ({}, board))
    assert with_board == pytest.approx(bare * 29.4 / 26.4 - 0.06)


def test_a_flywheel_of_discs_with_holes():
    ring = {"outer_diameter": "0.40 m", "bore": "350 mm", "thickness": "20 mm", "material": "grey iron"}
    holed = {**DISC, "holes": [{"count": 6, "diameter": "11 mm", "circle": "320 mm"}]}
    line = launch(flywheel={"discs": [holed, ring]})
    parts = [Disc(0.35, 0.035, holes=(Holes(6, 0.011, 0.32),)), Disc(0.40, 0.02, bore=0.35, material="grey iron")]
    expected = workshop.discs_inertia(parts)
    found = line.quantities["flywheel.inertia"]
    assert (found.value, found.low, found.high) == pytest.approx((expected.value, expected.low, expected.high))
    assert found.low < found.value < found.high
    assert not any(path.startswith("flywheel.discs") for path in line.quantities)  # else they would count twice


def test_a_weight_that_does_not_fit_the_discs_is_told():
    line = launch(flywheel={"discs": [DISC], "mass": "34 kg"})
    assert [fault.path for fault in line.warnings] == ["flywheel.mass"]
    assert "26.43 kg" in line.explain(line.warnings[0])
    assert launch(flywheel={"discs": [DISC], "mass": "26 kg"}).warnings == ()


def test_a_shaft_of_pieces_alike_is_the_plain_shaft():
    plain = launch()
    pieces = [{"length": "0.9 m", "diameter": "35 mm"}, {"length": "1.3 m", "diameter": "35 mm"}]
    cut = launch(shaft={"material": "steel", "pieces": pieces})
    for field in ("stiffness", "inertia", "damping_ratio"):
        assert getattr(cut.core.shaft, field) == pytest.approx(getattr(plain.core.shaft, field))
    assert cut.warnings == ()


def test_a_stepped_shaft_of_two_metals():
    pieces = [
        {"length": "1.0 m", "diameter": "50 mm", "bore": "30 mm", "material": "steel"},
        {"length": {"value": "1.2 m", "range": "10 mm"}, "diameter": "35 mm"},
    ]
    line = launch(shaft={"material": "stainless", "pieces": pieces})
    polar = [math.pi / 32 * (0.05**4 - 0.03**4), math.pi / 32 * 0.035**4]
    assert 1 / line.core.shaft.stiffness == pytest.approx(1.0 / (79e9 * polar[0]) + 1.2 / (77e9 * polar[1]))
    assert line.core.shaft.inertia == pytest.approx(7850 * polar[0] * 1.0 + 7900 * polar[1] * 1.2)
    assert line.quantities["shaft.pieces[1].length"].low == pytest.approx(1.19)
    thinner = line.replace({"shaft.pieces[1].diameter": "33 mm"})
    assert thinner.core.shaft.stiffness < line.core.shaft.stiffness


def test_another_form_takes_the_place_of_the_first_when_a_value_is_replaced():
    line = launch(flywheel={"hang": HANG}).replace({"flywheel.inertia": "0.5 kg*m^2"})
    assert line.core.flywheel_inertia == 0.5
    assert "hang" not in line.document["flywheel"]


REFUSED = [
    ({"flywheel": {"inertia": "0.45 kg*m^2", "hang": HANG}}, "flywheel.hang says the same as flywheel.inertia"),
    ({"flywheel": {"discs": [DISC], "hang": HANG}}, "flywheel.hang says the same as flywheel.discs"),
    ({"flywheel": {"hang": {"mass": "26 kg"}}}, "flywheel.hang.time is missing"),
    ({"flywheel": {"hang": {**HANG, "table_mass": "1 kg", "table_inertia": "9 kg*m^2"}}}, "flywheel.hang.time is"),
    ({"flywheel": {"discs": [{"thickness": "20 mm"}]}}, "flywheel.discs[0].outer_diameter is missing"),
    ({"flywheel": {"discs": []}}, "flywheel.discs is []: is empty"),
    ({"flywheel": {"discs": [{**DISC, "bore": "400 mm"}]}}, "flywheel.discs[0].bore is 400 mm: must be smaller"),
    ({"flywheel": {"discs": [{**DISC, "holes": [{"count": 4}]}]}}, "flywheel.discs[0].holes[0].diameter is missing"),
    ({"flywheel": {"discs": [{**DISC, "thickness": "3 kg"}]}}, "flywheel.discs[0].thickness"),
    ({"flywheel": {"discs": [{**DISC, "widht": "3 mm"}]}}, "widht is not a key"),
    (
        {"shaft": {"diameter": "35 mm", "pieces": [{"length": "1 m", "diameter": "35 mm"}]}},
        "shaft.pieces says the same",
    ),
    ({"shaft": {"pieces": [{"length": "1 m"}]}}, "shaft.pieces[0].diameter is missing"),
    ({"shaft": {"pieces": [{"length": "1 m", "diameter": "35 mm", "bore": "35 mm"}]}}, "shaft.pieces[0].bore is 35 mm"),
]


@pytest.mark.parametrize(("sections", "words"), REFUSED, ids=[words for _, words in REFUSED])
def test_what_does_not_go_together_is_refused_in_words_of_the_file(sections, words):
    error = refused(**sections)
    assert words in str(error)
    assert len(error.faults) <= 3


def test_the_readings_stand_in_a_file_with_their_lines(tmp_path):
    text = (cs.line.LINES / "harbour-launch.toml").read_text()
    old = 'inertia = { value = "0.45 kg*m^2", source = "measured", range = "4 %" }     # hung on three wires\n'
    assert old in text
    both = old + '\n[[flywheel.discs]]\nouter_diameter = "350 mm"\n'
    path = tmp_path / "mine.toml"
    path.write_text(text.replace(old, both))
    with pytest.raises(cs.LineError, match=r"mine\.toml:\d+: flywheel\.discs says the same") as caught:
        cs.load_line(path)
    assert "thickness is missing" in str(caught.value)
