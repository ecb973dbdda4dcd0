"""Numbers and units as a workshop writes them, in front of a unit registry of our own definitions.

The registry knows no prefixes and no symbols but those below, so that nothing can be read as something else
(76 PS is a power, not petasiemens). Angle is a dimension of its own: N*m/rad is not N*m, and rpm is not Hz.
"""

from __future__ import annotations

import math
import re
from functools import lru_cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import pint

# fmt: off
_DEFINITIONS = (
    "kg = [mass]", "g = 1e-3 * kg", "tonne = 1000 * kg", "pound = 0.45359237 * kg", "ounce = pound / 16",
    "m = [length]", "mm = 1e-3 * m", "cm = 1e-2 * m", "dm = 0.1 * m",
    "inch = 0.0254 * m", "foot = 0.3048 * m", "thou = 1e-3 * inch",
    "s = [time]", "ms = 1e-3 * s", "minute = 60 * s", "hour = 3600 * s",
    "rad = [angle]", "mrad = 1e-3 * rad", f"deg = {math.pi / 180!r} * rad", "arcmin = deg / 60",
    f"turn = {math.tau!r} * rad",
    "rpm = turn / minute", "rps = turn / s", "Hz = 1 / s", "percent = 0.01",
    "N = kg * m / s ** 2", "daN = 10 * N", "kN = 1000 * N", "kgf = 9.80665 * N", "pound_force = 4.4482216152605 * N",
    "Pa = N / m ** 2", "kPa = 1e3 * Pa", "MPa = 1e6 * Pa", "GPa = 1e9 * Pa", "bar = 1e5 * Pa", "mbar = 100 * Pa",
    "psi = pound_force / inch ** 2", "ksi = 1000 * psi", "slug = pound_force * s ** 2 / foot",
    "J = N * m", "kJ = 1000 * J",
    "W = N * m / s", "kW = 1000 * W", "hp = 550 * foot * pound_force / s", "metric_hp = 75 * kgf * m / s",
)
# fmt: on

POUND = "lb"  # mass in kg's place, force in N's: the kind of value decides
_POUNDS = ("pound", "pound_force")

# Spelling -> registry names; a power after the spelling belongs to the last of them (kgm2 = kg m^2).
_SPELLINGS = {
    **{name: name for name in re.findall(r"(?:^|\n)(\w+) =", "\n".join(_DEFINITIONS))},
    **dict.fromkeys(("lb", "lbs", "Lb", "LB", "pound", "pounds"), POUND),
    "lbm": "pound",
    **dict.fromkeys(("lbf", "Lbf", "LBF"), "pound_force"),
    **dict.fromkeys(("kilogram", "kilograms", "Kg", "KG", "kgs"), "kg"),
    **dict.fromkeys(("gram", "grams"), "g"),
    **dict.fromkeys(("t", "tonnes"), "tonne"),
    **dict.fromkeys(("oz", "ounces"), "ounce"),
    **dict.fromkeys(("slugs",), "slug"),
    **dict.fromkeys(("metre", "meter", "metres", "meters"), "m"),
    **dict.fromkeys(("millimetre", "millimeter", "millimetres", "millimeters", "MM"), "mm"),
    **dict.fromkeys(("centimetre", "centimeter"), "cm"),
    **dict.fromkeys(("in", "inches", "In", "IN", '"', "″"), "inch"),
    **dict.fromkeys(("ft", "feet", "Ft", "FT"), "foot"),
    **dict.fromkeys(("sec", "second", "seconds"), "s"),
    **dict.fromkeys(("min", "minutes"), "minute"),
    **dict.fromkeys(("h", "hours"), "hour"),
    **dict.fromkeys(("radian", "radians"), "rad"),
    **dict.fromkeys(("°", "º", "degree", "degrees", "Deg", "DEG"), "deg"),
    **dict.fromkeys(("rev", "revs", "revolution", "turns"), "turn"),
    **dict.fromkeys(("RPM", "Rpm", "min⁻¹"), "rpm"),
    **dict.fromkeys(("%", "per_cent"), "percent"),
    **dict.fromkeys(("kp", "kilopond"), "kgf"),
    **dict.fromkeys(("Nm", "NM", "nm"), "N m"),
    **dict.fromkeys(("Ncm",), "N cm"),
    **dict.fromkeys(("Nmm",), "N mm"),
    **dict.fromkeys(("kNm",), "kN m"),
    **dict.fromkeys(("Nms",), "N m s"),
    **dict.fromkeys(("daNm",), "daN m"),
    **dict.fromkeys(("kgfm", "kpm", "mkgf", "mkp"), "kgf m"),
    **dict.fromkeys(("kgm", "mkg"), "kg m"),
    **dict.fromkeys(("kgcm",), "kg cm"),
    **dict.fromkeys(("gcm",), "g cm"),
    **dict.fromkeys(("lbft",), "lb foot"),
    **dict.fromkeys(("ftlb", "ftlbs"), "foot lb"),
    **dict.fromkeys(("lbin",), "lb inch"),
    **dict.fromkeys(("inlb", "inlbs"), "inch lb"),
    **dict.fromkeys(("lbfft",), "pound_force foot"),
    **dict.fromkeys(("ftlbf",), "foot pound_force"),
    **dict.fromkeys(("kw", "KW", "Kw"), "kW"),
    **dict.fromkeys(("HP", "Hp", "bhp", "BHP", "shp", "SHP"), "hp"),
    **dict.fromkeys(("PS", "ps", "CV", "cv", "ch"), "metric_hp"),
}
# What two trades read differently, or is written wrongly so often that its meaning is plain: what to write.
_HINTS = {
    "gr": "a gram is written g, a grain is not read",
    "mil": "a thousandth of an inch is written thou",
    "mils": "a thousandth of an inch is written thou",
    "'": "a foot is written ft, a minute of arc arcmin",
    "′": "a foot is written ft, a minute of arc arcmin",
    "at": "a technical atmosphere is written kgf/cm^2",
    "ft/lb": "a foot times a pound is written ft lbf",
    "ft/lbs": "a foot times a pound is written ft lbf",
    "in/lb": "an inch times a pound is written in lbf",
    "in/lbs": "an inch times a pound is written in lbf",
    ":1": "a ratio of 2:1 is written 2",
}
_WHOLE = {"1/min": "rpm", "min-1": "rpm", "min^-1": "rpm", "r/min": "rpm", "U/min": "rpm"}
_SIGNS = str.maketrans({"·": "*", "⋅": "*", "−": "-", "²": "^2", "³": "^3", "⁴": "^4"})

_FRACTION = re.compile(r"([+-]?)(?:(\d+)[ -])?(\d+)/(\d+)(?![\d.])", re.ASCII)
_NUMBER = re.compile(r"[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?", re.ASCII)
_FACTOR = re.compile(r"([^\W\d]+|[°º%\"″])(?:\^?(-?[1-9]))?")
_BETWEEN = re.compile(r"\s*[*.]\s*|\s+|-(?=[^\W\d])")
_BRACKET = re.compile(r"([^()]+)/\s*\(([^()]+)\)")
_LONGEST = 60  # characters; nobody writes a longer value

Factors = list[tuple[str, int]]


class GrammarError(Exception):
    """Not one number and one unit; `rule` says what must hold, `advice` what to write."""

    def __init__(self, rule: str, advice: str = ""):
        super().__init__(rule)
        self.rule, self.advice = rule, advice


def split_value(text: str) -> tuple[float, str]:
    """ "3 5/8 in" -> (3.625, "in"). Raises GrammarError."""
    text = text.strip().translate(_SIGNS).replace("**", "^")
    if len(text) > _LONGEST:
        raise GrammarError("one number with its unit is needed")
    if found := _FRACTION.match(text):
        number = _fraction(*found.groups())
    elif found := _NUMBER.match(text):
        number = float(found[0])
    else:
        raise GrammarError("must begin with a number")
    unit = text[found.end() :]
    _refuse_second_number(text, unit)
    if not math.isfinite(number):
        raise GrammarError("the number is too large")
    return number, unit.strip()


def _fraction(sign: str, whole: str | None, above: str, below: str) -> float:
    if int(below) == 0:
        raise GrammarError("a fraction must not have zero below")
    value = int(whole or 0) + int(above) / int(below)
    return -value if sign == "-" else value


def _refuse_second_number(text: str, unit: str) -> None:
    if unit.startswith(","):
        readings = [text.replace(",", ".", 1)]
        if re.match(r",\d{3}(?!\d)", unit):
            readings.append(text.replace(",", "", 1))
        advice = " or ".join(f'"{reading}"' for reading in readings)
        raise GrammarError("a comma in a number is not read", f"write {advice}")
    rest = "" if unit.strip() in _WHOLE else unit
    if re.match(r"\s*[\d.,^_(]|\s*[*/+-]\s*[\d.^*]", rest) or re.search(r"[\s,]\d", rest):
        raise GrammarError("one number and one unit are needed, no sums")


def factors(unit: str) -> Factors:
    """ "lb in s2" -> [("lb", 1), ("inch", 1), ("s", 2)]. Raises GrammarError."""
    if unit in _WHOLE:
        return [(_WHOLE[unit], 1)]
    if unit in _HINTS:
        raise GrammarError(f'"{unit}" is not read', _HINTS[unit])
    if bracket := _BRACKET.fullmatch(unit):
        above, below = _product(bracket[1]), factors(bracket[2])
    else:
        above, *parts = (_product(part) for part in unit.split("/"))
        if any(len(part) > 1 for part in parts):
            raise GrammarError("it is not clear what is below the line", "put brackets there: N*m/(rad/s) is N*m*s/rad")
        below = [factor for part in parts for factor in part]
    return above + [(name, -power) for name, power in below]


def _product(text: str) -> Factors:
    found: Factors = []
    for part in _BETWEEN.split(text.strip()):
        match = _FACTOR.fullmatch(part)
        if not match or match[1] not in _SPELLINGS:
            raise GrammarError(f'"{part}" is not a known unit', _near(match[1] if match else part))
        *before, last = _SPELLINGS[match[1]].split()
        found += [(name, 1) for name in before] + [(last, int(match[2] or 1))]
    return found


def _near(name: str) -> str:
    if name in _HINTS:
        return _HINTS[name]
    from calmshaft import _core

    near = _core.near_matches(name, [known for known in _SPELLINGS if known.islower() and "_" not in known], 1)
    return f'did you mean "{near[0]}"?' if near else ""


@lru_cache(maxsize=1)
def _registry() -> pint.UnitRegistry:
    import pint  # takes longer than all the rest of the package, so only when a unit is read

    registry: pint.UnitRegistry = pint.UnitRegistry(None)
    for definition in _DEFINITIONS:
        registry.define(definition)
    return registry


def _compound(parts: Factors, pound: str) -> pint.Unit:
    unit = _registry().Unit("")
    for name, power in parts:
        unit *= _registry().Unit(pound if name == POUND else name) ** power
    return unit


def scale(unit: str, si: str) -> float | None:
    """How many of the SI unit are one of `unit`; None where the two are of different kinds."""
    parts = factors(unit) if unit else []
    target = _compound(factors(si) if si else [], "pound")
    for pound in _POUNDS:
        candidate = _compound(parts, pound)
        if candidate.dimensionality == target.dimensionality:
            registry = _registry()
            return float(registry.get_base_units(candidate)[0] / registry.get_base_units(target)[0])
    return None
