"""What an estimating rule is, and the list of all of them."""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass

Known = Mapping[str, object]  # dotted key of the line file -> SI value, whole number, word or list
Spread = tuple[float, float, float]  # value, low, high [SI]

CAUTIONS = {
    "lift": "Rated lifting tackle; never stand under the part; test hanging wires with twice its weight.",
    "turn": "Isolate the battery, hold the fuel stop, lock the shaft against tide and tow; bar by hand only.",
    "run": "Guards on, clothes and hands clear, boat tied up, a second person at the stop.",
    "fuel": "No flame or hot exhaust near; closed can; never open a common rail; skin away from fuel jets.",
    "exhaust": "Exhaust gas kills and its pipes burn: air the room, keep the gas out of it.",
    "spring": "Guarded vice and eye protection.",
    "weight": "Stand aside of the falling weight and let the cord run off free.",
}


@dataclass(frozen=True, slots=True)
class Rule:
    """One named way to a start value, with its range and how to replace it by a measurement.

    `key` is the dotted key it fills; `[]` stands for each index. `formula`, `spread` and `how_to_measure` are
    words for people. `estimate` takes the known SI values and gives (value, low, high) in SI. The rule can
    be used where all of `needs` are known and `applies` holds.
    """

    key: str
    name: str
    formula: str
    spread: str
    how_to_measure: str
    source: str
    needs: tuple[str, ...]
    applies: Callable[[Known], bool]
    estimate: Callable[[Known], Spread]

    def reachable(self, known: Known) -> bool:
        """Whether all that the rule needs is known and more than zero, and the rule applies."""
        return all(float(known.get(need, 0.0)) > 0 for need in self.needs) and self.applies(known)  # type: ignore[arg-type]


def on_sheet(name: str) -> str:
    """Words that name the worksheet of a measurement."""
    return f"Sheet to print: `calmshaft worksheet {name}`."


_RULES: list[Rule] = []


def always(known: Known) -> bool:
    """Holds for every line."""
    return True


def rule(
    key: str,
    name: str,
    *,
    formula: str,
    spread: str,
    measure: str,
    source: str,
    needs: tuple[str, ...] = (),
    applies: Callable[[Known], bool] = always,
    sheet: str = "",
    cautions: tuple[str, ...] = (),
) -> Callable[[Callable[[Known], Spread]], Callable[[Known], Spread]]:
    """Register the decorated function as the rule for a key.

    Rules are tried in the order in which they are registered: what a rule needs comes before it, and the
    better of two rules for one key comes first. sheet: the worksheet of that measurement.
    """
    printed = [on_sheet(sheet)] if sheet else []
    how = " ".join([measure, *printed, *(CAUTIONS[caution] for caution in cautions)])

    def register(estimate: Callable[[Known], Spread]) -> Callable[[Known], Spread]:
        _RULES.append(Rule(key, name, formula, spread, how, source, needs, applies, estimate))
        return estimate

    return register


def rules() -> list[Rule]:
    """All rules in the order in which they are tried."""
    return list(_RULES)


def usable(value: object) -> bool:
    """False for numbers that no rule can start from: negative or not finite."""
    return not isinstance(value, int | float) or (math.isfinite(value) and value >= 0)


def number(known: Known, key: str) -> float:
    """The SI value of a key that is known to be a number."""
    return float(known[key])  # type: ignore[arg-type]


def percent(value: float, below: float, above: float | None = None) -> Spread:
    """A range of `below` per cent down and `above` (else the same) per cent up."""
    ends = value * (1 - below / 100), value * (1 + (below if above is None else above) / 100)
    return value, min(ends), max(ends)


def factor(value: float, by: float) -> Spread:
    """A range from value / by to value x by."""
    return value, value / by, value * by


def exact(value: float) -> Spread:
    """No range: a definition or a limit."""
    return value, value, value
