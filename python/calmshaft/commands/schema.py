"""`schema`: every key of a line file, with its unit, the rule where it is not known, and how to measure it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from typing import Any, Literal, get_args, get_origin

import typer

from calmshaft import _core, line_rules, sample_line, units
from calmshaft.commands.common import say, say_json
from calmshaft.commands.schema_page import page
from calmshaft.commands.schema_words import MEANINGS
from calmshaft.condition import line_fault
from calmshaft.estimates import rules
from calmshaft.schema import LineFile, Section
from calmshaft.schema_examples import EXAMPLES, example_at
from calmshaft.schema_fields import Limit, Physical
from calmshaft.schema_paths import field_at
from calmshaft.workshop import plate_groups

WITH_RANGE = """\
    A value, "16 N*m/deg", may have a range: { value = "16 N*m/deg", source = "measured", range = "5 %" },
    or its two ends: { value = "16 N*m/deg", source = "estimated", low = "14 N*m/deg", high = "22 N*m/deg" }."""


def schema(key: str, as_json: bool, as_page: bool) -> None:
    """Print every key, or those of one section or key. Raises LineError where there is none of that name."""
    every = list(_keys(LineFile))
    wanted = key.replace("[]", "").rstrip(".")
    chosen = [one for one in every if not key or f"{one['key'].replace('[]', '')}.".startswith(f"{wanted}.")]
    if not chosen:
        names = [one["key"] for one in every]
        near = _core.near_matches(key, [*names, *LineFile.model_fields])
        raise line_fault("KEY", key, "is not a key", f"did you mean {near[0]}?" if near else "see `calmshaft schema`")
    if as_json:
        say_json(chosen)
        return
    if as_page:
        typer.echo(page(chosen).rstrip())  # a file's lines, not the screen's
        return
    for one in chosen:
        needed = " (must be given)" if one["required"] else ""
        say(f"{one['key']}: {one['takes']}{needed}")
        if one["meaning"]:
            say(f"    {one['meaning']}")
        for rule in one["rules"]:
            say(f"    not known: {rule['rule']}: {rule['formula']}; range {rule['range']}")
        for how in dict.fromkeys(rule["measure"] for rule in one["rules"]):
            say(f"    measure: {how}")
    say(WITH_RANGE)


def _keys(model: type[Section], prefix: str = "") -> Iterator[dict[str, Any]]:
    required = {fault.path for fault in line_rules.missing({"engine.fuel": "diesel"})} | {"plate.stages[].stiffness"}
    required |= {f"plate.springs[].{key}" for key in plate_groups.NEEDED}
    for name in model.model_fields:
        found, here = field_at((name,), model), prefix + name
        item = get_args(found)[0] if get_origin(found) is list else None
        if isinstance(found, type) and issubclass(found, Section):
            yield from _keys(found, f"{here}.")
        elif isinstance(item, type) and issubclass(item, Section):
            yield from _keys(item, f"{here}[].")
        else:
            yield {
                "key": here,
                "takes": _takes(found, here),
                "required": here in required,
                "meaning": MEANINGS.get(here, ""),
                "rules": _rules(here),
            }


@cache
def _examples() -> dict[str, str]:
    """What the shipped lines write for a key, by the key without indices; the launch's own word comes first."""
    found: dict[str, str] = {}
    for name in ("harbour-launch", "harbour-launch-tables", "harbour-launch-measured"):
        for path, value in sorted(_leaves(sample_line(name).document, "")):
            found.setdefault(re.sub(r"\[\d+\]", "[]", path), f'"{value}"' if isinstance(value, str) else f"{value}")
    return found


def _leaves(node: Any, path: str) -> Iterator[tuple[str, Any]]:
    if isinstance(node, dict) and "value" not in node:
        for key, inner in node.items():
            yield from _leaves(inner, f"{path}.{key}" if path else key)
    elif isinstance(node, list) and node and isinstance(node[0], dict):
        for index, inner in enumerate(node):
            yield from _leaves(inner, f"{path}[{index}]")
    else:
        yield path, node["value"] if isinstance(node, dict) else node


def _takes(found: Any, key: str) -> str:
    """What a key takes, in words with an example: of a shipped line, or else of its kind."""
    example = _examples().get(key)
    if isinstance(found, Limit):
        kind = units.kind_named(found.kind)
        example = f'{{ value = "{example_at(key, found.kind)}", document = "name, clause, edition" }}'
        return f"{kind.words} with its document, e.g. {example}"
    if isinstance(found, Physical):
        kind = units.kind_named(found.kind)
        example = example or (f'"{example_at(key, found.kind)}"' if kind.bare != "" or key in EXAMPLES else "")
        return f"{kind.words}, e.g. {example}" if example else kind.words
    if get_origin(found) is Literal:
        return " or ".join(f'"{word}"' if isinstance(word, str) else f"{word}" for word in get_args(found))
    if get_origin(found) is list:
        return f"a list, e.g. {example}" if example else "a list"
    if bool in get_args(found) or found is bool:
        return "true or false"
    return "a whole number" if found is int or int in get_args(found) else "a text"


def _rules(key: str) -> list[dict[str, str]]:
    return [
        {"rule": one.name, "formula": one.formula, "range": one.spread, "measure": one.how_to_measure,
         "source": one.source}
        for one in rules()
        if one.key == key
    ]  # fmt: skip
