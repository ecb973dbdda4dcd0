"""Units at the edge of the house: what people write becomes SI and radians at once, and back for messages."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from typing import TypeVar

from calmshaft import _core
from calmshaft.unit_grammar import GrammarError, scale, split_value

Number = TypeVar("Number")  # float or array


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of physical value: its name in words, SI unit, the unit shown to people, an example.

    `bare` is the unit of a number written without one; None where a unit must be written.
    """

    name: str
    words: str
    si: str
    shown: str
    example: str
    bare: str | None = None


# fmt: off
KINDS = {kind.name: kind for kind in (
    Kind("pure", "a pure number", "", "", "2.5", bare=""),
    Kind("share", "a share", "", "", "20 %", bare=""),
    Kind("speed", "a speed of rotation", "rad/s", "rpm", "800 rpm", bare="rpm"),
    Kind("length", "a length", "m", "mm", "92 mm"),
    Kind("mass", "a mass", "kg", "kg", "0.95 kg"),
    Kind("inertia", "a moment of inertia", "kg*m^2", "kg*m^2", "0.45 kg*m^2"),
    Kind("force", "a force", "N", "N", "40 N"),
    Kind("torque", "a torque", "N*m", "N*m", "165 N*m"),
    Kind("angle", "an angle", "rad", "deg", "12 deg"),
    Kind("torsional stiffness", "a torque per angle", "N*m/rad", "N*m/deg", "16 N*m/deg"),
    Kind("mesh stiffness", "a torque per angle", "N*m/rad", "N*m/rad", "6e5 N*m/rad"),
    Kind("damping", "a torque per speed", "N*m*s/rad", "N*m*s/rad", "0.5 N*m*s/rad"),
    Kind("slow speed", "a speed of rotation", "rad/s", "rad/s", "0.5 rad/s"),
    Kind("power", "a power", "W", "kW", "45 kW"),
    Kind("energy", "an energy", "J", "J", "12 J"),
    Kind("pressure", "a pressure", "Pa", "bar", "1.0 bar"),
    Kind("stress", "a stress", "Pa", "MPa", "79000 MPa"),
    Kind("density", "a density", "kg/m^3", "kg/m^3", "7850 kg/m^3"),
    Kind("time", "a time", "s", "s", "1.5 s"),
    Kind("frequency", "a frequency", "Hz", "Hz", "18 Hz"),
    Kind("pressure per speed", "a pressure per speed of rotation", "Pa*s/rad", "Pa*s/rad", "458 Pa*s/rad"),
    Kind("pressure per speed squared", "a pressure per squared speed", "Pa*s^2/m^2", "Pa*s^2/m^2", "400 Pa*s^2/m^2"),
)}
# fmt: on

# A weight times the square of a diameter (GD2 = 4 J, also PD2) or of a radius of gyration (WK2 = WR2 = J).
_FLYWHEEL_EFFECT = re.compile(
    r"\(?\s*\b(?P<name>[GP]\s?D|W\s?[RK])\s?(?:\^?2|²)(?P<quarter>\s?/\s?4)?(?![\w.])\s*\)?\s*[=:]?\s*", re.IGNORECASE
)
_STANDARD_GRAVITY = 9.80665  # [m/s^2] of a kilogram-force


class UnitError(_core.LineError):  # type: ignore[misc, name-defined]
    """A text is not a value of the kind wanted; `rule` says what must hold, `advice` what to write."""

    def __init__(self, text: str, rule: str, advice: str):
        super().__init__(f'"{text}": {rule}; {advice}')
        self.text, self.rule, self.advice = text, rule, advice
        self.faults = (_core.Fault("", f'"{text}"', rule, advice),)

    def __reduce__(self) -> tuple[type, tuple[str, str, str]]:
        return type(self), (self.text, self.rule, self.advice)


def kind_named(kind: Kind | str) -> Kind:
    """The kind of that name; raises KeyError for an unknown one."""
    return kind if isinstance(kind, Kind) else KINDS[kind]


@lru_cache(maxsize=4096)
def parse(text: str, kind: Kind | str) -> float:
    """The SI value of a text such as "92 mm", "3 5/8 in" or "28 ft-lb". Raises UnitError."""
    kind = kind_named(kind)
    if kind.name == "inertia" and (label := _FLYWHEEL_EFFECT.search(text)):
        return _flywheel_effect(text, label)
    try:
        number, unit = split_value(text)
        if not unit and kind.bare is None:
            raise GrammarError(f"a unit is needed, it is {kind.words}")
        one = scale(unit or kind.bare or "", kind.si)
    except GrammarError as error:
        raise _error(text, kind, error.rule, error.advice) from None
    if one is None:
        raise _error(text, kind, f"{kind.words} is needed", _meant(unit, kind))
    return number * one


def _flywheel_effect(text: str, label: re.Match[str]) -> float:
    """ "GD2 = 12 kgf*m^2" -> 3 kg m^2. The weight may be written as a mass or as a force: G = m g. Raises UnitError."""
    kind, by_diameter = KINDS["inertia"], label["name"][0] in "GPgp"
    name = label[0].strip(" ()=:")
    rest = f"{text[: label.start()]} {text[label.end() :]}".strip()
    if _FLYWHEEL_EFFECT.search(rest) or (label["quarter"] and not by_diameter):
        raise _error(text, kind, "one name and one value are needed", 'write for instance "GD2 = 12 kgf*m^2"')
    try:
        number, unit = split_value(rest)
        mass, weight = scale(unit, "kg*m^2"), scale(unit, "N*m^2")
    except GrammarError as error:
        raise _error(text, kind, error.rule, error.advice) from None
    if mass is None and weight is not None:
        mass = weight / _STANDARD_GRAVITY
    if mass is None:
        raise _error(text, kind, f"{name} is a weight times a squared length", 'write for instance "12 kgf*m^2"')
    return number * mass / (4 if by_diameter and not label["quarter"] else 1)


def _error(text: str, kind: Kind, rule: str, hint: str) -> UnitError:
    example = f'write for instance "{kind.example}"'
    return UnitError(text[:60], rule, f"{hint} {example}" if hint.endswith("?") else hint or example)


def _meant(unit: str, kind: Kind) -> str:
    """The old kg as a force, or a force as a mass, is refused with the spelling that says so."""
    if kind.name == "inertia" and _fits(unit, "N*m^2"):
        return f'a GD2 is four times a WR2: say which, "GD2 = 12 {unit}" or "WR2 = 12 {unit}"'
    if _fits(as_force := re.sub(r"kg(?!f)", "kgf", unit), kind.si):
        return f"kg is a mass; where its weight is meant write {as_force}"
    if _fits(as_mass := re.sub(r"(kg|lb)f|kp", lambda found: found[1] or "kg", unit), kind.si):
        return f"that is a force; where a mass is meant write {as_mass}"
    return ""


def _fits(unit: str, si: str) -> bool:
    try:
        return scale(unit, si) is not None
    except GrammarError:
        return False


@lru_cache(maxsize=256)
def factor(unit: str, kind: Kind | str) -> float:
    """How much one of `unit` is in SI. Raises UnitError where it is not a unit of this kind."""
    kind = kind_named(kind)
    return parse(f"1 {unit}", kind)


def convert(value: Number, unit: str, kind: Kind | str) -> Number:
    """A number or array in `unit` -> SI."""
    return value * factor(unit, kind)  # type: ignore[operator, no-any-return]


def express(value: Number, unit: str, kind: Kind | str) -> Number:
    """A number or array in SI -> `unit`."""
    return value / factor(unit, kind)  # type: ignore[operator, no-any-return]


def show(value: float, kind: Kind | str) -> str:
    """An SI value for people, four digits: show(0.092, "length") is "92 mm", show(79e9, "stress") "79000 MPa"."""
    kind = kind_named(kind)
    number = f"{express(value, kind.shown, kind):.4g}"
    if "e+" in number and abs(float(number)) < 1e6:
        number = f"{float(number):.0f}"
    return f"{number} {kind.shown}".strip()


def write(value: float, kind: Kind | str) -> str:
    """An SI value as a line file takes it, with every digit."""
    kind = kind_named(kind)
    return f"{express(value, kind.shown, kind)!r} {kind.shown}".strip()
