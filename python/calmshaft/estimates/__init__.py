"""Start values for what a builder does not know: a named rule, a range and how to measure each.

Four-stroke engines of 70 to 115 mm bore and 15 to 250 kW, aluminium pistons, steel or ductile-iron crank;
outside of that, measure. A measured value always takes the place of an estimate.
"""

# importing registers their rules, in this order
from collections.abc import Callable, Iterator

from calmshaft.estimates import engine, flywheel, gearbox, manoeuvres, plate, propeller, shaft, working_cycle  # noqa: F401
from calmshaft.estimates.rules import Known, Rule, Spread, rules, usable
from calmshaft.quantity import Quantity

__all__ = ["Choice", "Known", "Rule", "Spread", "fill", "fill_values", "rules", "start_value"]

Choice = Callable[[str, Spread], float]  # key and what its rule says -> the value to go on with [SI]

_EACH_UNLOADED = "gearbox.unloaded[]."


def start_value(key: str, spread: Spread) -> float:
    """The rule's own value."""
    return spread[0]


def fill(known: Known, choose: Choice = start_value) -> dict[str, Quantity]:
    """Estimate every missing key that a rule can reach.

    `known` maps dotted keys of the line file ("engine.bore", "plate.stages[0].stiffness", "engine.fuel") to
    SI values (speeds, also of keys that end in _rpm, in rad/s), whole numbers, words or lists. A key that is
    absent is unknown. Where no unloaded gear pair is known, one is assumed that turns in every gear.
    The result holds the missing keys only. Estimates lean on earlier estimates, ranges are the rule's own.
    `choose` may take another value inside the range; the estimates that lean on it follow.
    Nothing is estimated from a value that cannot be (negative, not finite): the line's checks refuse it.
    """
    return {
        key: Quantity(value, "estimated", *spread[1:], rule.name, rule.how_to_measure)
        for key, rule, value, spread in _estimated(known, choose)
    }


def fill_values(known: Known, choose: Choice = start_value) -> dict[str, float]:
    """As `fill`, the values [SI] alone."""
    return {key: value for key, _, value, _ in _estimated(known, choose)}


def _estimated(known: Known, choose: Choice) -> Iterator[tuple[str, Rule, float, Spread]]:
    values: dict[str, object] = {key: value for key, value in known.items() if usable(value)}
    pairs = _unloaded(known)
    for rule in rules():
        for key in _keys_of(rule, pairs):
            if key in known or key in values or not rule.reachable(values):
                continue
            spread = rule.estimate(values)
            value = float(choose(key, spread))
            values[key] = value
            yield key, rule, value, spread


def _unloaded(known: Known) -> list[str]:
    """The numbers of the unloaded gear pairs of which something is known, or of the one that is assumed."""
    stem = _EACH_UNLOADED.removesuffix("].")
    return sorted({key[len(stem) : key.index("]")] for key in known if key.startswith(stem)} or {"0"}, key=int)


def _keys_of(rule: Rule, pairs: list[str]) -> list[str]:
    """The key of a rule, once for each unloaded gear pair where it is about those."""
    if not rule.key.startswith(_EACH_UNLOADED):
        return [rule.key]
    return [rule.key.replace("[]", f"[{index}]") for index in pairs]
