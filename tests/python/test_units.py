"""Units as a workshop writes them. Factors: SI brochure and NIST SP 811 (from memory), else arithmetic shown here."""

import math
import pickle

import numpy as np
import pytest

from calmshaft import LineError, units

POUND = 0.45359237  # [kg] exact by definition of the avoirdupois pound
GRAVITY = 9.80665  # [m/s^2] standard gravity, exact
INCH = 0.0254  # [m] exact
ROUNDING = 1e-12  # a few products of doubles

READ = {
    "length": {"92 mm": 0.092, "3 5/8 in": 3.625 * INCH, "3-5/8 in": 3.625 * INCH, '5/8"': 0.625 * INCH, ".5m": 0.5},
    "torque": {
        "210 Nm": 210,
        "210 N m": 210,
        "210 N·m": 210,
        "8 kpm": 8 * GRAVITY,
        "28 ft-lb": 28 * 12 * INCH * POUND * GRAVITY,
        "28 lbf ft": 28 * 12 * INCH * POUND * GRAVITY,
        "336 inlb": 336 * INCH * POUND * GRAVITY,
    },
    "inertia": {
        "1.5 kgm2": 1.5,
        "1.5 kg*m**2": 1.5,
        "15000 kg cm²": 1.5,
        "2 lb ft2": 2 * POUND * (12 * INCH) ** 2,
        "2 lb in s2": 2 * POUND * GRAVITY * INCH,
        "2 lbf*in*s^2": 2 * POUND * GRAVITY * INCH,
    },
    "angle": {"12°": math.radians(12), "12 deg": math.radians(12), "-2 deg": math.radians(-2), "1 turn": math.tau},
    "torsional stiffness": {"8 N*m/deg": 8 * 180 / math.pi, "8 Nm/°": 8 * 180 / math.pi, "6e5 N*m/rad": 6e5},
    "damping": {"0.5 N*m*s/rad": 0.5, "0.5 Nms/rad": 0.5, "0.5 N*m/(rad/s)": 0.5},
    "power": {"76 PS": 76 * 75 * GRAVITY, "1 hp": 550 * 12 * INCH * POUND * GRAVITY, "45 kW": 45e3},
    "speed": {"800": 800 * math.pi / 30, "800 rpm": 800 * math.pi / 30, "800 1/min": 800 * math.pi / 30},
    "pressure": {"1.05 bar": 1.05e5, "30 lb/in2": 30 * POUND * GRAVITY / INCH**2},
    "pure": {"2.5": 2.5, "4 %": 0.04},
}


@pytest.mark.parametrize(("kind", "text"), [(kind, text) for kind in READ for text in READ[kind]])
def test_shop_spellings_are_read(kind, text):
    assert units.parse(text, kind) == pytest.approx(READ[kind][text], rel=ROUNDING)


REFUSED = [
    ("92 kg", "length", "a length is needed", '"92 mm"'),
    ("92", "length", "a unit is needed", '"92 mm"'),
    ("12,5 mm", "length", "comma", '"12.5 mm"'),
    ("1,250 rpm", "speed", "comma", '"1250 rpm"'),
    ("10 m 5", "length", "one number and one unit", '"92 mm"'),
    ("5 ft 8 in", "length", "one number and one unit", '"92 mm"'),
    ("9**9**9", "pure", "one number and one unit", '"2.5"'),
    ("1e999 mm", "length", "too large", '"92 mm"'),
    ("nan mm", "length", "begin with a number", '"92 mm"'),
    ("3/0 in", "length", "zero below", '"92 mm"'),
    ("92 milimeter", "length", "not a known unit", '"millimeter"'),
    ("1 Mm", "length", "not a known unit", '"mm"'),
    ("1 mW", "power", "not a known unit", '"45 kW"'),
    ("30 tex", "density", "not a known unit", '"7850 kg/m^3"'),
    ("8 N*m", "torsional stiffness", "a torque per angle", '"16 N*m/deg"'),
    ("8 N*m/rad", "torque", "a torque is needed", '"165 N*m"'),
    ("13 Hz", "speed", "a speed of rotation", '"800 rpm"'),
    ("750 rpm", "frequency", "a frequency", '"18 Hz"'),
    ("5 kg cm", "torque", "a torque is needed", "kgf cm"),
    ("1.8 kgf m2", "inertia", "a moment of inertia", "GD2 is four times a WR2"),
    ("16 N*m/rad*s", "damping", "below the line", "brackets"),
    ("1_000 mm", "length", "one number", '"92 mm"'),
    ("2:1", "pure", "is not read", "a ratio of 2:1 is written 2"),
    ("1" + " mm" * 40, "length", "one number", '"92 mm"'),
]


@pytest.mark.parametrize(("text", "kind", "rule", "advice"), REFUSED, ids=[entry[0][:20] for entry in REFUSED])
def test_what_is_not_one_value_of_the_kind_is_refused_with_what_to_write(text, kind, rule, advice):
    with pytest.raises(units.UnitError) as caught:
        units.parse(text, kind)
    assert rule in caught.value.rule
    assert advice in caught.value.advice
    assert isinstance(caught.value, LineError)


@pytest.mark.parametrize("kind", units.KINDS)
def test_every_kind_reads_its_own_example_and_what_it_shows_and_writes(kind):
    value = units.parse(units.KINDS[kind].example, kind)
    four_digits = 1e-3
    assert units.parse(units.show(value, kind), kind) == pytest.approx(value, rel=four_digits)
    assert units.parse(units.write(value, kind), kind) == pytest.approx(value, rel=ROUNDING)


def test_numbers_and_arrays_are_converted_both_ways():
    in_rpm = np.array([0.0, 750.0])
    in_si = units.convert(in_rpm, "rpm", "speed")
    assert in_si == pytest.approx([0, 25 * math.pi])
    assert units.express(in_si, "rpm", "speed") == pytest.approx(in_rpm)
    with pytest.raises(units.UnitError):
        units.convert(1.0, "mm", "speed")


def test_a_unit_error_survives_pickling():
    with pytest.raises(units.UnitError) as caught:
        units.parse("92 kg", "length")
    again = pickle.loads(pickle.dumps(caught.value))
    assert (str(again), again.rule) == (str(caught.value), caught.value.rule)


def test_large_values_are_shown_in_digits():
    assert units.show(79e9, "stress") == "79000 MPa"
    assert units.show(859437.2, "mesh stiffness") == "859400 N*m/rad"
    assert units.show(6.02e7, "mesh stiffness") == "6.02e+07 N*m/rad"
