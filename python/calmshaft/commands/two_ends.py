"""An answer of the guided entry that leaves a value open: "14 to 22 N*m/deg" is its two ends."""

from __future__ import annotations

import re

from calmshaft import units
from calmshaft.unit_grammar import GrammarError, split_value
from calmshaft.written_ranges import value_error

_TO = re.compile(r"\s+to\s+", re.IGNORECASE)


def value_and_ends(written: str, kind: str) -> dict[str, str] | str:
    """The middle and the two ends as a line file takes them; a text without " to " as it stands.

    The unit may stand at the high end only. Raises PydanticCustomError for two ends that are none, UnitError inside it.
    """
    parts = _TO.split(written)
    if len(parts) == 1:
        return written
    if len(parts) > 2:
        raise value_error("has more than two ends", f'write for instance "{_example(kind)}"')
    low, high = parts
    unit = _unit(high) or units.kind_named(kind).bare or ""
    low, high = (text if _unit(text) else f"{text} {unit}".strip() for text in (low, high))
    try:
        below, above, one = (units.parse(text, kind) for text in (low, high, f"1 {unit}".strip()))
    except units.UnitError as error:
        raise value_error(error.rule, error.advice) from None
    if not below < above:
        raise value_error("its low end must lie below its high end", "write the lowest first, or one value alone")
    middle = f"{(below + above) / 2 / one:.6g} {unit}".strip()
    return {"value": middle, "low": low, "high": high}


def _unit(text: str) -> str:
    try:
        return split_value(text)[1]
    except GrammarError:
        return ""  # told when it is parsed


def _example(kind: str) -> str:
    number, unit = split_value(units.kind_named(kind).example)
    return f"{0.9 * number:.3g} to {1.1 * number:.3g} {unit}".strip()
