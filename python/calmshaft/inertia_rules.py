"""Moments of inertia that cannot be, or that look four times off: GD2 is 4 J, and half a swing is half the time."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Any

from calmshaft import _core, units
from calmshaft.build_readings import WAYS
from calmshaft.estimates import Rule, rules
from calmshaft.quantity import Quantity

Fault = _core.Fault
Values = Mapping[str, Any]  # path -> SI value, word, whole number or list

_AT_THE_RIM = 1.05  # [-] a ring gear reaches a little beyond the diameter of the casting
_NEAR = 1.2  # [-] beyond a rule's own range; common practice, no source
_TOLD = ("flywheel.inertia", "engine.crank_inertia", "propeller.inertia", "gearbox.input_inertia")  # rules are near
_ROUND_PARTS = {  # inertia -> mass, outer diameter
    "flywheel.inertia": (("flywheel.mass", "flywheel.hang.mass"), "flywheel.outer_diameter"),
    "propeller.inertia": (("propeller.mass",), "propeller.diameter"),
}
_BY_TORQUE = "share of torque"  # a guess: who measured a flywheel knows better
_FEW_CYLINDERS = 3  # engines of fewer carry more flywheel for their torque than its rule knows
_LABEL = re.compile(r"[GPW]\s?[DRK]\s?(\^?2|²)", re.IGNORECASE)


def impossible(values: Values) -> Iterator[Fault]:
    """Inertias that a part of this mass and diameter cannot have: J <= m d^2 / 4, all of it at the rim."""
    for path, (masses, outer) in _ROUND_PARTS.items():
        mass = next((values[key] for key in masses if key in values), None)
        if mass is None or outer not in values or path not in values:
            continue
        most = mass * values[outer] ** 2 / 4
        if values[path] > _AT_THE_RIM**2 * most:
            weight, across = units.show(mass, "mass"), units.show(values[outer], "length")
            rule = f"cannot be: all of {weight} at the rim of {across} would have {units.show(most, 'inertia')}"
            as_gd2 = _as_gd2(values[path])
            advice = f"look at its unit; a GD2 is four times as much, write {as_gd2}; weigh and measure again"
            yield Fault(path, units.show(values[path], "inertia"), rule, advice)


def four_times(values: Values, quantities: Mapping[str, Quantity]) -> Iterator[Fault]:
    """Warnings for inertias that a quarter or four times of would fit the rule that else estimates them."""
    hung = {key for way in WAYS if way.section.endswith("hang") for key in way.gives}
    for path, quantity in quantities.items():
        by_hand = quantity.rule is not None and path in hung
        written = quantity.rule is None and quantity.source in ("given", "maker", "measured")
        if path not in _TOLD or not (written or by_hand):
            continue
        rule = _rule(path, values)
        if rule is None or (rule.name == _BY_TORQUE and quantity.source == "measured"):
            continue
        value, low, high = rule.estimate(values)
        large = quantity.value > high and low / _NEAR <= quantity.value / 4 <= high * _NEAR
        small = quantity.value < low and low / _NEAR <= quantity.value * 4 <= high * _NEAR
        if large or small:
            usual = units.show(value, "inertia")
            times = f"is {quantity.value / value:.2g} times the {usual} that is usual for such a part"
            advice = _half_swings(large) if by_hand else _labelled(quantity, large)
            if advice:
                yield Fault(path, units.show(quantity.value, "inertia"), times, advice, True)


def _rule(path: str, values: Values) -> Rule | None:
    """The first rule for it that reaches; None where that does not know such engines."""
    rule = next((one for one in rules() if one.key == path and one.reachable(values)), None)
    few = values.get("engine.cylinders", 0) < _FEW_CYLINDERS
    return None if rule is not None and rule.name == _BY_TORQUE and few else rule


def _labelled(quantity: Quantity, large: bool) -> str:
    """What to write; nothing where the text says already that it is the larger or the smaller of the two."""
    written = quantity.as_written or ""
    label = _LABEL.search(written)
    by_diameter = label is not None and label[0][0] in "GPgp"
    if large and not by_diameter:
        as_gd2 = _as_gd2(quantity.value)
        return f"where the sheet calls it GD2 or PD2, which is four times as much, write {as_gd2}; else leave it"
    if not large and by_diameter:
        return f'a WR2 or WK2 is not divided by four: write "{quantity.value * 4:.4g} kg*m^2" where it is one'
    return ""


def _as_gd2(value: float) -> str:
    return f'"GD2 = {value:.4g} kgf*m^2"'


def _half_swings(large: bool) -> str:
    if large:
        return "count every swing, there and back as one; time again and look at the number of swings"
    return "there and back is one swing: where each way was counted, write half the number of swings"
