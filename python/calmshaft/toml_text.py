"""A document as the text of a line file."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from typing import Any

_ORDER = ("value", "source", "range", "low", "high")  # of a value on one line


def leaf(value: Any) -> str:
    """A value, a list of values, or a value with its source and range on one line."""
    if isinstance(value, Mapping):
        ordered = sorted(value.items(), key=lambda item: _ORDER.index(item[0]) if item[0] in _ORDER else len(_ORDER))
        return "{ " + ", ".join(f"{key} = {leaf(inner)}" for key, inner in ordered) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(map(leaf, value)) + "]"
    if isinstance(value, float) and float(f"{value:g}") == value:
        return f"{value:g}"
    return json.dumps(value, ensure_ascii=False)


def is_table(value: Any) -> bool:
    """A section or a list of them, not a value with its range nor a list of numbers."""
    if isinstance(value, list):
        return any(is_table(item) for item in value)
    return isinstance(value, dict) and "value" not in value


def text_of(document: Mapping[str, Any]) -> str:
    """The whole document: each section with its values, then what stands below it."""
    return "\n".join(_section(document, "")) + "\n"


def _section(section: Mapping[str, Any], path: str) -> Iterator[str]:
    for key, value in section.items():
        if not is_table(value):
            yield f"{key} = {leaf(value)}"
    for key, value in section.items():
        if not is_table(value):
            continue
        below = f"{path}.{key}".lstrip(".")
        for table in value if isinstance(value, list) else [value]:
            yield f"\n[[{below}]]" if isinstance(value, list) else f"\n[{below}]"
            yield from _section(table, below)
