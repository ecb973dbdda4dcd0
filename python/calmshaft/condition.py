"""The condition that a line is asked about: speed, gear, load, fuelling and which cylinders misfire."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from numbers import Integral, Real

from calmshaft import _core, units

GEARS = {"ahead": _core.Gear.ahead, "neutral": _core.Gear.neutral, "astern": _core.Gear.astern}
LOADS = {
    "under way": _core.LoadCase.under_way,
    "tied up": _core.LoadCase.tied_up,
    "none": _core.LoadCase.none,
}
FUELLINGS = {"governed": _core.Fuelling.governed, "fixed": _core.Fuelling.fixed}
HEALTHY = "none"

Misfiring = str | int | Iterable[int] | Mapping[int, float]

_ONE_CYLINDER = re.compile(r"\s*(\d+)\s*(?:@\s*(\d+(?:\.\d+)?(?:e[-+]?\d+)?)\s*%)?\s*")


def line_fault(path: str, value: object, rule: str, advice: str) -> _core.LineError:
    error = _core.LineError(f"{path} is {value!r}: {rule}; {advice}")
    error.faults = (_core.Fault(path, repr(value), rule, advice),)
    return error


def _choice(path: str, value: object, known: Mapping[str, object]) -> object:
    if isinstance(value, str) and value in known:
        return known[value]
    near = _core.near_matches(str(value), list(known))
    hint = f'did you mean "{near[0]}"?' if near else f"write one of {', '.join(known)}"
    raise line_fault(path, value, f"must be one of {', '.join(known)}", hint)


def cylinder_strengths(misfiring: Misfiring) -> dict[int, float]:
    """Strength 0..1 by cylinder number of the cylinders that do not fire fully.

    Takes "none", "3", "3+4", "3@50%", a number, a list of numbers, or {number: strength}.
    Raises LineError on anything else, or on a strength outside 0..1.
    """
    if isinstance(misfiring, Mapping):
        weak = {_number(cylinder, misfiring): _strength(strength) for cylinder, strength in misfiring.items()}
    elif isinstance(misfiring, str):
        weak = _parse_label(misfiring)
    elif isinstance(misfiring, Iterable):
        weak = {_number(cylinder, misfiring): 0.0 for cylinder in misfiring}
    else:
        weak = {_number(misfiring, misfiring): 0.0}
    for strength in weak.values():
        if not 0.0 <= strength <= 1.0:
            raise line_fault(
                "misfiring",
                misfiring,
                "a strength lies between 0 and 1",
                'write for instance "3@50%", in Python also {3: 0.5}',
            )
    return {cylinder: strength for cylinder, strength in sorted(weak.items()) if strength < 1.0}


def _number(cylinder: object, misfiring: Misfiring) -> int:
    if isinstance(cylinder, bool) or not isinstance(cylinder, Integral):
        raise line_fault("misfiring", misfiring, "names cylinders by whole numbers", "write e.g. [3] or {3: 0.5}")
    return int(cylinder)


def _strength(strength: object) -> float:
    return float(strength) if isinstance(strength, Real) else math.nan  # which lies nowhere


def _parse_label(label: str) -> dict[int, float]:
    if label.strip().lower() in (HEALTHY, ""):
        return {}
    weak = {}
    for part in label.split("+"):
        found = _ONE_CYLINDER.fullmatch(part)
        if not found:
            raise line_fault("misfiring", label, "must name cylinders", 'write "none", "3", "3+4" or "3@50%"')
        weak[int(found[1])] = float(found[2] or 0.0) / 100.0
    return weak


def misfiring_label(misfiring: Misfiring) -> str:
    """The label that a result carries: "none", "3", "3+4", "3@50%"."""
    weak = cylinder_strengths(misfiring)
    parts = [str(n) if strength == 0 else f"{n}@{100 * strength:g}%" for n, strength in weak.items()]
    return "+".join(parts) or HEALTHY


@dataclass(frozen=True, slots=True)
class Condition:
    """What the line is doing.

    rpm: mean crank speed [1/min]. gear: "ahead", "neutral" or "astern". misfiring: see cylinder_strengths.
    load: "under way", "tied up", "none", or the propeller's torque at the gearbox input with its unit.
    fuelling: "governed" keeps the speed and finds the fuelling; "fixed" keeps the healthy engine's fuelling
    at this speed and finds the speed.
    """

    rpm: float
    gear: str = "ahead"
    misfiring: Misfiring = HEALTHY
    load: str = "under way"
    fuelling: str = "governed"

    def __post_init__(self) -> None:
        object.__setattr__(self, "misfiring", misfiring_label(self.misfiring))
        if isinstance(self.rpm, bool) or not (isinstance(self.rpm, Real) and math.isfinite(self.rpm)):
            raise line_fault("rpm", self.rpm, "must be a number", "write the mean crank speed, for instance 750")
        object.__setattr__(self, "rpm", float(self.rpm))
        _choice("gear", self.gear, GEARS)
        _choice("fuelling", self.fuelling, FUELLINGS)
        if not (isinstance(self.load, str) and self.load in LOADS):
            self._load_torque()

    def _load_torque(self) -> float:
        if not isinstance(self.load, str) or not any(character.isdigit() for character in str(self.load)):
            _choice("load", self.load, LOADS)
        try:
            return units.parse(self.load, "torque")
        except units.UnitError as error:
            raise line_fault("load", self.load, error.rule, error.advice) from None

    def with_(self, **changes: object) -> Condition:
        """The same condition with some fields changed."""
        return replace(self, **changes)

    def strengths(self, cylinders: int) -> list[float]:
        """Strength [-] of every cylinder by number; raises LineError for a cylinder that does not exist."""
        weak = cylinder_strengths(self.misfiring)
        for number in weak:
            if not 1 <= number <= cylinders:
                rule = f"the engine has cylinders 1 to {cylinders}"
                raise line_fault("misfiring", self.misfiring, rule, "name one of them")
        return [weak.get(number, 1.0) for number in range(1, cylinders + 1)] if weak else []

    def core(self, cylinders: int) -> _core.Condition:
        """The condition as the compiled library takes it (SI)."""
        core = _core.Condition()
        core.speed = self.rpm * math.tau / 60.0
        core.gear = GEARS[self.gear]
        core.strengths = self.strengths(cylinders)
        core.fuelling = FUELLINGS[self.fuelling]
        core.load = LOADS.get(self.load, _core.LoadCase.torque)
        if core.load == _core.LoadCase.torque:
            core.load_torque = self._load_torque()
        return core
