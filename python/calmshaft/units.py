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
    Kind("speed", "a speed of rotation", "rad/s", "rpm", "800 rpm", bare="rpm"),
    Kind("length", "a length", "m", "mm", "92 mm"),
    Kind("mass", "a mass", "kg", "kg", "0.95 kg"),
    Kind("inertia", "a moment of inertia", "kg*m^2", "kg*m^2", "0.45 kg*m^2"),
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

_FLYWHEEL_EFFECT = re.compile(r"\b([GP]\s?D|W\s?[RK])\s?(\^?2|²)", re.IGNORECASE)


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
    try:
        number, unit = split_value(text)
        if not unit and kind.bare is None:
            raise GrammarError(f"a unit is needed, it is {kind.words}")
        one = scale(unit or kind.bare or "", kind.si)
    except GrammarError as error:
        raise _error(text, kind, error.rule, error.advice) from None
    if one is None:
        raise _error(text, kind, f"{kind.words} is needed", _force_meant(unit, kind))
    return number * one


def _error(text: str, kind: Kind, rule: str, hint: str) -> UnitError:
    if _FLYWHEEL_EFFECT.search(text):
        rule = "GD2 and WR2 are not read"
        hint = 'a GD2 in kgf*m^2 divided by 4 is the inertia in kg*m^2; a WR2 is written "8 lb ft^2"'
    example = f'write for instance "{kind.example}"'
    return UnitError(text[:60], rule, f"{hint} {example}" if hint.endswith("?") else hint or example)


def _force_meant(unit: str, kind: Kind) -> str:
    """The old kg as a force is refused, with the spelling that says so."""
    try:
        as_force = re.sub(r"kg(?!f)", "kgf", unit)
        matches = as_force != unit and scale(as_force, kind.si) is not None
    except GrammarError:
        return ""
    return f"kg is a mass; where its weight is meant write {as_force}" if matches else ""


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
    """An SI value for people, four digits: show(0.092, "length") is "92 mm"."""
    kind = kind_named(kind)
    return f"{express(value, kind.shown, kind):.4g} {kind.shown}".strip()


def write(value: float, kind: Kind | str) -> str:
    """An SI value as a line file takes it, with every digit."""
    kind = kind_named(kind)
    return f"{express(value, kind.shown, kind)!r} {kind.shown}".strip()
