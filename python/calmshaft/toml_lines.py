"""On which line of a TOML text each key stands. Needed only once there is something to complain about."""

from __future__ import annotations

import tomllib
from typing import Any

from calmshaft.schema_paths import Steps, join

_LONGEST_STATEMENT = 300  # lines; looking for the end of a longer one would take long


def key_lines(text: str) -> dict[str, int]:
    """Path -> number of the line where its statement starts. The text must be valid TOML.

    Lines are gathered until they parse by themselves: then they are one whole statement.
    """
    lines: dict[str, int] = {}
    table: Steps = ()
    counts: dict[Steps, int] = {}
    gathered: list[str] = []
    for number, line in enumerate(text.splitlines(), start=1):
        gathered.append(line)
        statement = _parsed("\n".join(gathered))
        if statement is None:
            if len(gathered) > _LONGEST_STATEMENT:
                break
            continue
        start, gathered = number - len(gathered) + 1, []
        if statement and line.lstrip().startswith("[") and start == number:
            table = _enter(statement, counts)
            statement = {}
            for length in range(1, len(table) + 1):
                lines.setdefault(join(table[:length]), start)
        _record(statement, table, start, lines)
    return lines


def _parsed(statement: str) -> dict[str, Any] | None:
    try:
        return tomllib.loads(statement)
    except ValueError:
        return None


def _enter(header: dict[str, Any], counts: dict[Steps, int]) -> Steps:
    """The table that a header opens; its arrays of tables carry the index of their latest item."""
    table: Steps = ()
    here: Any = header
    while here:
        name, here = next(iter(here.items()))
        table = (*table, name)
        if isinstance(here, list):
            counts[table] = counts.get(table, 0) + 1
            return (*table, counts[table] - 1)
        if table in counts:
            table = (*table, counts[table] - 1)
    return table


def _record(value: Any, path: Steps, line: int, lines: dict[str, int]) -> None:
    if path:
        lines.setdefault(join(path), line)
    children = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, child in children:
        _record(child, (*path, key), line, lines)


def nearest_line(lines: dict[str, int], path: str) -> int | None:
    """The line of a key, or of the nearest section around it."""
    while path and path not in lines:
        path = path[: max(path.rfind("."), path.rfind("["), 0)]
    return lines.get(path)
