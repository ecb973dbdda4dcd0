"""A report in pounds, feet and inches says the same as the one in metric units."""

import re

import pytest

import calmshaft as cs
from calmshaft import units
from calmshaft.plots.style import new_figure
from calmshaft.reports import imperial
from calmshaft.reports.parts import Section, Table, Text, reworded, tidy, tidy_rows

LAUNCH = cs.sample_line("harbour-launch")


@pytest.mark.parametrize(
    ("metric", "other", "kind"),
    [
        ("N m", "lbf ft", "torque"),
        ("mm", "in", "length"),
        ("m", "ft", "length"),
        ("kg", "lb", "mass"),
        ("kg m²", "lb ft^2", "inertia"),
        ("kW", "hp", "power"),
        ("bar", "psi", "pressure"),
        ("N m/deg", "lbf ft/deg", "torsional stiffness"),
    ],
)
def test_each_factor_is_that_of_the_line_files_units(metric, other, kind):
    shown, factor = imperial.UNITS[metric]
    assert shown.replace("²", "^2") == other
    line_file = units.factor(metric.replace("²", "^2").replace(" ", "*"), kind) / units.factor(other, kind)
    assert factor == pytest.approx(line_file, rel=1e-6)


@pytest.mark.parametrize(
    ("metric", "other"),
    [
        ("least -505 N m, mean 17 N m", "least -372 lbf ft, mean 12.5 lbf ft"),
        ("4.59 of 260 N m, 800 rpm", "3.39 of 192 lbf ft, 800 rpm"),
        ("bore 92 mm, 2.2 m long", "bore 3.62 in, 7.22 ft long"),
        ("92 x 98 mm", "3.62 x 3.86 in"),
        ("9 then 16 N m/deg", "6.64 then 11.8 lbf ft/deg"),
        ("order 2 grew most, 12 to 15 N m", "order 2 grew most, 8.85 to 11.1 lbf ft"),
        ("±167 N m", "±123 lbf ft"),
        ("0.5185 kg m²", "12.3 lb ft²"),
        ("12 mature 3 men, M10 bolts, 8 deg at 26.7 Hz", "12 mature 3 men, M10 bolts, 8 deg at 26.7 Hz"),
        ("0 N m", "0 lbf ft"),
        ("1,234 N m", "910.2 lbf ft"),
        ("torque [N m]", "torque [lbf ft]"),
    ],
)
def test_numbers_before_a_unit_change_with_it_and_others_stay(metric, other):
    assert imperial.words(metric) == other


def test_a_column_under_a_unit_is_scaled_and_others_are_not():
    table = Table("", tidy_rows([["rpm", "mean [N*m]", "share [%]", "what"], ["800", "-12 to 15", "30", "17 N*m"]]))
    one = imperial.section(Section("x", (table,)))
    assert one.parts[0].rows == [
        ["rpm", "mean [lbf ft]", "share [%]", "what"],
        ["800", "-8.85 to 11.1", "30", "12.5 lbf ft"],
    ]


def test_an_axis_gets_round_numbers_in_its_new_unit():
    figure = new_figure((4, 3))
    ax = figure.subplots()
    ax.plot([0, 1], [0, 400])
    ax.set_ylabel("torque [N m]")
    ax.set_xlabel("crank angle [deg]")
    imperial.picture(figure)
    assert ax.get_ylabel() == "torque [lbf ft]"
    assert ax.get_xlabel() == "crank angle [deg]"
    shown = [ax.yaxis.get_major_formatter()(tick) for tick in ax.yaxis.get_major_locator()()]
    assert {"0", "60", "120"} <= set(shown)


def test_units_and_large_numbers_are_printed_as_people_write_them():
    text = "6e+05 N*m/rad, 0.5 kg*m^2, 7850 kg/m^3, +-5 N*m, 2*3"
    assert tidy(text) == "600,000 N m/rad, 0.5 kg m², 7850 kg/m³, ±5 N m, 2*3"
    section = reworded(Section("a", (Text("17 N*m"),)), tidy, tidy_rows)
    assert section.parts == (Text("17 N m"),)


def test_no_metric_torque_or_length_is_left_in_an_imperial_report():
    made = cs.report(LAUNCH, units="imperial", full=True)
    left = re.findall(r"\d (?:N m|N\*m|mm|kg|kW|W|bar|MPa|K)\b|\[(?:N m|kg m²|W)|N\*m", made.html)
    assert not left
    assert "lbf ft" in made.html
    metric = cs.report(LAUNCH, full=True).html
    for kept in ("mean", "alternating", "becomes"):  # each number has its own unit, or it would stay behind
        assert not set(re.findall(rf"{kept} (±?[\d.]+)(?=[, ;.])", made.html)) & set(
            re.findall(rf"{kept} (±?[\d.]+) N m", metric)
        )
    assert "<svg" in made.html
    assert made.result["values"]["shaft.diameter"]["value"] == 0.035  # plain data stay in SI


def test_units_of_another_kind_are_refused():
    with pytest.raises(cs.LineError, match="write metric or imperial"):
        cs.report(LAUNCH, units="furlongs")
