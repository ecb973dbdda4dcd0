"""`schema`: every key of a line file, with its unit, the rule where it is not known, and how to measure it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Literal, get_args, get_origin

from calmshaft import _core, line_rules, units
from calmshaft.commands.common import say, say_json
from calmshaft.condition import line_fault
from calmshaft.estimates import rules
from calmshaft.schema import LineFile, Section
from calmshaft.schema_fields import Physical
from calmshaft.schema_paths import field_at
from calmshaft.workshop import plate_groups


def schema(key: str, as_json: bool) -> None:
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
    for one in chosen:
        needed = " (must be given)" if one["required"] else ""
        say(f"{one['key']}: {one['takes']}{needed}")
        for rule in one["rules"]:
            say(f"    not known: {rule['rule']}: {rule['formula']}; range {rule['range']}")
        for how in dict.fromkeys(rule["measure"] for rule in one["rules"]):
            say(f"    measure: {how}")


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
            yield {"key": here, "takes": _takes(found), "required": here in required, "rules": _rules(here)}


def _takes(found: Any) -> str:
    """What a key takes, in words with an example."""
    if isinstance(found, Physical):
        kind = units.kind_named(found.kind)
        example = kind.example if kind.bare == "" else f'"{kind.example}"'
        return f"{kind.words}, e.g. {example}"
    if get_origin(found) is Literal:
        return " or ".join(f'"{word}"' for word in get_args(found))
    if get_origin(found) is list:
        return "a list"
    return "a whole number" if found is int or int in get_args(found) else "a text"


def _rules(key: str) -> list[dict[str, str]]:
    return [
        {"rule": one.name, "formula": one.formula, "range": one.spread, "measure": one.how_to_measure,
         "source": one.source}
        for one in rules()
        if one.key == key
    ]  # fmt: skip
