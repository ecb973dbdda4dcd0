"""The range of a written value: range = "10 %" to either side, or its two ends, low = "14 N*m", high = "25 N*m"."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping
from typing import Any

from pydantic_core import PydanticCustomError

_PERCENT = re.compile(r"\s*(\d+(?:\.\d*)?)\s*%\s*", re.ASCII)
KEYS = {"range", "low", "high"}
GIVE_ONE = (
    'say what it could be: measure it and write source = "measured", or give it a range, range = "20 %", or both '
    'ends, low = "..." and high = "..."'
)


def value_error(rule: str, advice: str) -> PydanticCustomError:
    """A fault of one value, in the words that the builder will read."""
    return PydanticCustomError("line_value", "{rule}; {advice}", {"rule": rule, "advice": advice})


def ends(
    table: Mapping[str, Any], value: float, parsed: Callable[[Any], float], positive: bool, example: str
) -> tuple[float, float]:  # fmt: skip
    """The lowest and the highest that a value may be [SI]; the value itself twice where the table says neither.

    parsed: text or number -> SI. Raises PydanticCustomError for a range that is none, ends that do not hold the value,
    an estimate that nothing is left open of, and an end at or below zero of a value that must be more than that.
    """
    if "range" in table and KEYS & set(table) != {"range"}:
        raise value_error("says its range twice", "keep range alone, or low and high")
    low, high = _both(table, value, parsed) if {"low", "high"} & set(table) else _alike(table, value, parsed, example)
    if table.get("source") == "estimated" and not low < high:
        raise value_error("is an estimate with a range of zero", GIVE_ONE)
    if positive and not low > 0:
        raise value_error(
            "must be more than zero over its whole range", 'write a narrower one, or both ends: low = "..."'
        )
    return low, high


def _both(table: Mapping[str, Any], value: float, parsed: Callable[[Any], float]) -> tuple[float, float]:
    for there, lacking in (("low", "high"), ("high", "low")):
        if lacking not in table:
            advice = "write both ends; where it cannot lie on that side, write the value itself"
            raise value_error(f"{lacking} is missing beside {there}", advice)
    low, high = (_end(key, table[key], parsed) for key in ("low", "high"))
    if low > high:
        raise value_error("its low end lies above its high end", "write the lowest as low, the highest as high")
    if not low <= value <= high:
        side = "below its low end" if value < low else "above its high end"
        raise value_error(f"the value lies {side}", "write low, value and high so that the value lies between")
    return low, high


def _end(key: str, written: Any, parsed: Callable[[Any], float]) -> float:
    try:
        return parsed(written)
    except PydanticCustomError as error:
        said = error.context or {}
        raise value_error(f"its {key} {written!r}: {said.get('rule')}", str(said.get("advice"))) from None


def _alike(
    table: Mapping[str, Any], value: float, parsed: Callable[[Any], float], example: str
) -> tuple[float, float]:  # fmt: skip
    if "range" not in table:
        return value, value
    written = table["range"]
    percent = _PERCENT.fullmatch(written) if isinstance(written, str) else None
    try:
        away = abs(value) * float(percent[1]) / 100 if percent else parsed(written)
    except PydanticCustomError:
        away = math.nan
    if not 0 <= away < math.inf:
        advice = f'write how much it may be off to either side, for instance "10 %" or "{example}"; or low and high'
        raise value_error(f"the range {written!r} is not one", advice)
    return value - away, value + away
