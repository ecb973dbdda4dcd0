"""A table of shop spellings: each is read as its right SI value or refused in plain words, none is silently wrong.

Values are worked here from the exact definitions of inch, pound and standard gravity, not from the package's own table.
"""

import math

import pytest

from calmshaft import units

IN, FT, LB, G = 0.0254, 0.3048, 0.45359237, 9.80665  # [m] [m] [kg] [m/s^2] exact by definition
LBF, DEG = LB * G, math.pi / 180
HP, PS = 550 * FT * LBF, 75 * G  # [W]
ROUNDING = 1e-12  # a few products of doubles

READ = [
    ("torque", "28 lbf ft", 28 * LBF * FT),
    ("torque", "28 lbf-ft", 28 * LBF * FT),
    ("torque", "28 lb ft", 28 * LBF * FT),
    ("torque", "28 lb-ft", 28 * LBF * FT),
    ("torque", "28 lb.ft", 28 * LBF * FT),
    ("torque", "28 lbs ft", 28 * LBF * FT),
    ("torque", "28 ft lbs", 28 * LBF * FT),
    ("torque", "28 ftlbs", 28 * LBF * FT),
    ("torque", "28 ft·lbf", 28 * LBF * FT),
    ("torque", "28 foot pounds", 28 * LBF * FT),
    ("torque", "28 pound-feet", 28 * LBF * FT),
    ("torque", "336 lbf in", 336 * LBF * IN),
    ("torque", "336 in-lbs", 336 * LBF * IN),
    ("torque", "336 in.lb", 336 * LBF * IN),
    ("torque", "12 kgf m", 12 * G),
    ("torque", "12 kgf·m", 12 * G),
    ("torque", "12 kpm", 12 * G),
    ("torque", "12 mkp", 12 * G),
    ("torque", "120 kgf cm", 1.2 * G),
    ("torque", "10 daNm", 100),
    ("torque", "165Nm", 165),
    ("torque", "0.165 kNm", 165),
    ("power", "270 hp", 270 * HP),
    ("power", "270 bhp", 270 * HP),
    ("power", "270 HP", 270 * HP),
    ("power", "270 shp", 270 * HP),
    ("power", "76 PS", 76 * PS),
    ("power", "76 CV", 76 * PS),
    ("power", "76 ch", 76 * PS),
    ("power", "56 KW", 56e3),
    ("inertia", "8 lb ft2", 8 * LB * FT**2),
    ("inertia", "8 lb-ft²", 8 * LB * FT**2),
    ("inertia", "8 lbm ft^2", 8 * LB * FT**2),
    ("inertia", "WK2 = 8 lb ft2", 8 * LB * FT**2),
    ("inertia", "WK² 8 lb ft²", 8 * LB * FT**2),
    ("inertia", "8 lb ft2 (WR2)", 8 * LB * FT**2),
    ("inertia", "WR^2: 8 lbf ft^2", 8 * LB * FT**2),
    ("inertia", "1152 lb in2", 8 * LB * FT**2),
    ("inertia", "3 lb in s2", 3 * LBF * IN),
    ("inertia", "3 lbf in s²", 3 * LBF * IN),
    ("inertia", "3 lb ft s2", 3 * LBF * FT),
    ("inertia", "3 slug ft2", 3 * LBF * FT),
    ("inertia", "0.3 kgf m s2", 0.3 * G),
    ("inertia", "GD2 = 12 kgf*m^2", 3.0),
    ("inertia", "GD² = 12 kgf m²", 3.0),
    ("inertia", "GD2 12 kgm2", 3.0),
    ("inertia", "12 kpm2 (GD2)", 3.0),
    ("inertia", "12 kgf m2 GD2", 3.0),
    ("inertia", "GD2 = 12 N m2", 3.0 / G),
    ("inertia", "PD2 = 12 kgf m2", 3.0),
    ("inertia", "GD2/4 = 3 kg m2", 3.0),
    ("inertia", "GD²/4: 3 kgf m²", 3.0),
    ("inertia", "gd2 = 12 kgf m2", 3.0),
    ("length", "0.065 in", 0.065 * IN),
    ("length", "65 thou", 0.065 * IN),
    ("length", '13 1/8"', 13.125 * IN),
    ("length", "13-1/8 in", 13.125 * IN),
    ("length", "6 ft", 6 * FT),
    ("mass", "58 lb", 58 * LB),
    ("mass", "58 lbs", 58 * LB),
    ("mass", "58 lbm", 58 * LB),
    ("mass", "8 oz", 0.5 * LB),
    ("mass", "0.026 t", 26),
    ("torsional stiffness", "12 lbf ft/deg", 12 * LBF * FT / DEG),
    ("torsional stiffness", "12 lb-ft/degree", 12 * LBF * FT / DEG),
    ("torsional stiffness", "1200 lb in/rad", 1200 * LBF * IN),
    ("torsional stiffness", "2 kpm/°", 2 * G / DEG),
    ("stress", "11.5e3 ksi", 11.5e6 * LBF / IN**2),
    ("stress", "8000 kgf/mm²", 8e9 * G),
    ("stress", "80000 N/mm2", 8e10),
    ("pressure", "30 psi", 30 * LBF / IN**2),
    ("density", "0.284 lb/in3", 0.284 * LB / IN**3),
    ("density", "7.2 kg/dm3", 7200),
    ("speed", "13 rps", 13 * math.tau),
    ("angle", "15 arcmin", 0.25 * DEG),
]


@pytest.mark.parametrize(("kind", "text", "expected"), READ, ids=[text for _, text, _ in READ])
def test_a_spelling_is_read_as_its_value(kind, text, expected):
    assert units.parse(text, kind) == pytest.approx(expected, rel=ROUNDING)


REFUSED = [
    ("inertia", "12 kgf m2", "GD2 = 12 kgf m2"),  # 3 or 12 kg m^2
    ("inertia", "8 lbf ft2", "WR2 = 12 lbf ft2"),
    ("inertia", "GD2 = 12 J", "weight times a squared length"),
    ("inertia", "GD2 = 12", "weight times a squared length"),
    ("inertia", "GD2 = 12 kgf m", "weight times a squared length"),
    ("inertia", "GD2 = 12 kgf m2 WR2", "one name and one value"),
    ("inertia", "WR2/4 = 12 kgf m2", "one name and one value"),
    ("inertia", "GD2", "number"),
    ("inertia", "12 J", "moment of inertia"),
    ("inertia", "12 kg m s2", "kgf m s2"),
    ("inertia", "8 lb ft", "moment of inertia"),
    ("torque", "GD2 = 12 kgf m", "number"),
    ("torque", "12 kg m", "kgf m"),
    ("torque", "12 kgm", "kgfm"),
    ("torque", "12 mkg", "mkgf"),
    ("torque", "28 ft/lbs", "ft lbf"),
    ("torque", "28 lb", "torque is needed"),
    ("torque", "28 ft", "torque is needed"),
    ("torque", "10 mNm", "not a known unit"),
    ("mass", "5 lbf", "write lb"),
    ("mass", "5 kgf", "write kg"),
    ("mass", "5 kp", "write kg"),
    ("mass", "850 gr", "grain"),
    ("mass", "26 N", "mass is needed"),
    ("power", "270 lb ft", "power is needed"),
    ("power", "45 mW", "not a known unit"),
    ("length", "65 mil", "thou"),
    ("length", "6'", "ft"),
    ("angle", "15'", "arcmin"),
    ("length", "0,065 in", "comma"),
    ("pressure", "1 kg/cm2", "kgf/cm2"),
    ("pressure", "1 at", "kgf/cm^2"),
    ("torsional stiffness", "12 lb ft", "torque per angle"),
    ("torsional stiffness", "12 kgm/rad", "kgfm/rad"),
    ("torsional stiffness", "90 lb/in", "torque per angle"),
]


@pytest.mark.parametrize(("kind", "text", "words"), REFUSED, ids=[f"{kind} {text}" for kind, text, _ in REFUSED])
def test_what_could_be_two_values_or_another_kind_is_refused(kind, text, words):
    with pytest.raises(units.UnitError) as caught:
        units.parse(text, kind)
    assert words in str(caught.value)


@pytest.mark.parametrize(
    ("kind", "unit", "in_si"),
    [
        ("length", "in", IN),
        ("torque", "lbf ft", LBF * FT),
        ("torque", "lbf in", LBF * IN),
        ("torque", "kgf m", G),
        ("power", "hp", HP),
        ("power", "PS", PS),
        ("inertia", "lb ft2", LB * FT**2),
        ("inertia", "WK2 lb ft2", LB * FT**2),
        ("inertia", "GD2 kgf m2", 0.25),
        ("mass", "lb", LB),
    ],
)
def test_units_of_the_trade_go_both_ways(kind, unit, in_si):
    assert units.convert(7.0, unit, kind) == pytest.approx(7.0 * in_si, rel=ROUNDING)
    assert units.express(7.0 * in_si, unit, kind) == pytest.approx(7.0, rel=ROUNDING)


def test_a_pound_is_a_mass_or_a_force_by_the_kind_wanted_and_never_both():
    assert units.parse("1 lb", "mass") == LB
    assert units.parse("1 lb ft", "torque") == pytest.approx(LBF * FT)
    with pytest.raises(units.UnitError):
        units.parse("1 lbm ft", "torque")


def test_sixty_distinct_spellings_and_more_are_tried():
    """As many as the table promises, each once of its kind; what is read and what is refused do not overlap."""
    read, refused = ([(kind, text) for kind, text, _ in table] for table in (READ, REFUSED))
    assert len({text for _, text in read}) >= 60
    assert len(set(read)) == len(read)
    assert len(set(refused)) == len(refused)
    assert not set(read) & set(refused)


@pytest.mark.parametrize("kind", sorted({kind for kind, _, _ in READ}))
def test_a_spelling_is_no_silently_wrong_number_of_any_other_kind(kind):
    """A value written at the wrong key is refused; pressure and stress are one kind of value."""
    for other, text, _ in READ:
        if other == kind or {kind, other} == {"pressure", "stress"}:
            continue
        with pytest.raises(units.UnitError):
            units.parse(text, kind)
