"""The water that swings along with the propeller: every way from the line file, their spread, and what check says.

Both published formulas are values from memory: Schwanecke 1963; MacPherson, Puleo and Packard 2007. The figures of the
large propeller are worked from them by hand. The pitch rule is our own.
"""

import math

import pytest
from typer.testing import CliRunner

import calmshaft as cs
from calmshaft import estimates, workshop
from calmshaft.app import app

LAUNCH = cs.sample_line("harbour-launch")
WATER = "propeller.water_inertia"
LARGE = {"propeller.diameter": 1.5, "propeller.pitch": 1.2, "propeller.inertia": 60.0, "propeller.area_ratio": 0.6}
WRITTEN = 1e-5  # figures are written with seven digits


def water(blades, way=None):
    known = {**LARGE, "propeller.blades": blades} | ({"propeller.water_by": way} if way else {})
    return estimates.fill(known)[WATER]


@pytest.mark.parametrize(
    ("blades", "way", "figure"),
    [
        (3, "Schwanecke 1963", 13.37663),
        (4, "Schwanecke 1963", 10.03248),
        (5, "Schwanecke 1963", 8.02598),
        (3, "regression 2007", 10.58257),
        (4, "regression 2007", 7.94861),
        (5, "regression 2007", 7.18581),
        (4, "pitch rule", 0.35 * 0.8**1.5 * 60.0),
    ],
)
def test_a_way_that_is_asked_for_is_its_formula_and_as_unsure_as_any(blades, way, figure):
    found = water(blades, way)
    assert found.value == pytest.approx(figure, rel=WRITTEN)
    assert (found.low, found.high) == pytest.approx((found.value / 1.6, found.value * 1.6))
    assert (found.source, found.rule) == ("estimated", way)


@pytest.mark.parametrize("blades", [3, 4, 5])
def test_without_a_word_the_value_lies_between_all_ways_and_its_range_holds_them(blades):
    ways = workshop.water_ways(1.5, 1.2, blades, 60.0, 0.6)
    found = water(blades)
    assert len(ways) == 3
    assert found.rule == "all ways"
    assert found.value == pytest.approx(math.sqrt(min(ways.values()) * max(ways.values())))
    assert found.low <= min(ways.values()) < max(ways.values()) <= found.high
    assert found.high / found.value >= 1.6 - 1e-9  # never surer than one way


def test_ways_far_apart_widen_the_range_beyond_that_of_one():
    ways = workshop.water_ways(1.5, 1.2, 6, 20.0, 1.0)  # a light propeller of much area
    assert max(ways.values()) / min(ways.values()) > 1.6**2
    found = workshop.entrained_water(1.5, 1.2, 6, 20.0, 1.0)
    assert (found.low, found.high) == pytest.approx((min(ways.values()), max(ways.values())))


def test_without_area_ratio_there_is_the_pitch_rule_alone():
    found = LAUNCH.quantities[WATER]
    assert found.rule == "pitch rule"
    assert found.value == pytest.approx(0.35 * (0.33 / 0.46) ** 1.5 * LAUNCH.quantities["propeller.inertia"].value)


def test_the_line_that_runs_has_the_water_of_the_way():
    by_formula = LAUNCH.replace({"propeller.area_ratio": 0.5, "propeller.water_by": "Schwanecke 1963"})
    expected = workshop.water_ways(0.46, 0.33, 3, LAUNCH.core.propeller.inertia, 0.5)["Schwanecke 1963"]
    assert by_formula.core.propeller.water_inertia == pytest.approx(expected)
    measured = by_formula.replace({WATER: "0.03 kg*m^2"})  # takes the place of the way
    assert measured.core.propeller.water_inertia == 0.03


def test_the_range_of_the_area_ratio_moves_the_water_of_a_plausible_case():
    from calmshaft.uncertainties.cases import Family

    ratio = {"value": 0.5, "source": "measured", "range": 0.05}
    family = Family(LAUNCH.replace({"propeller.area_ratio": ratio, "propeller.water_by": "Schwanecke 1963"}))
    low, high = (family.member({"propeller.area_ratio": end})[0].propeller.water_inertia for end in (0.0, 1.0))
    assert high / low == pytest.approx((0.55 / 0.45) ** 2)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"propeller.area_ratio": 55}, "propeller.area_ratio is 55: must lie between 0.2 and 1.3"),
        ({"propeller.water_by": "regression 2007"}, "propeller.area_ratio is missing for water_by"),
        ({"propeller.water_by": "schwanecke"}, "not one of the choices"),
    ],
)
def test_a_way_that_the_data_do_not_reach_is_refused_with_what_to_write(change, words):
    with pytest.raises(cs.LineError, match=words):
        LAUNCH.replace(change)


def test_water_given_twice_is_refused():
    document = LAUNCH.document
    document["propeller"] |= {"water_inertia": "0.03 kg*m^2", "water_by": "pitch rule"}
    with pytest.raises(cs.LineError, match=r"says another than propeller\.water_inertia"):
        cs.line_from_document(document)


def test_a_propeller_outside_of_the_regression_is_told_and_has_the_pitch_rule():
    line = LAUNCH.replace({"propeller.area_ratio": 0.5, "propeller.blades": 6, "propeller.water_by": "regression 2007"})
    assert line.quantities[WATER].rule == "pitch rule"
    assert any("gives no water for such a propeller" in line.explain(fault) for fault in line.warnings)


def checked(line, tmp_path):
    from calmshaft.toml_text import text_of

    (tmp_path / "mine.toml").write_text(text_of(line.document))
    result = CliRunner().invoke(app, ["check", str(tmp_path / "mine.toml"), "--rpm", "800"])
    assert result.exit_code == 0, result.output
    return " ".join(result.stdout.split())


def test_check_shows_each_way_how_far_they_lie_apart_and_what_is_taken(tmp_path):
    said = checked(LAUNCH.replace({"propeller.area_ratio": 0.5}), tmp_path)
    ways = workshop.water_ways(0.46, 0.33, 3, LAUNCH.core.propeller.inertia, 0.5)
    for way, value in ways.items():
        assert f"{way} {value:.4g} kg*m^2" in said
    apart = max(ways.values()) / min(ways.values())
    assert f"{apart:.3g} times apart" in said
    assert "(all ways)" in said


def test_check_says_what_the_other_ways_need(tmp_path):
    said = checked(LAUNCH, tmp_path)
    assert "Schwanecke 1963 and regression 2007 need area_ratio" in said
