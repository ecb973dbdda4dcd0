"""`schema --page`: the reference page of all keys, which python/docs/keys.md holds."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import groupby
from typing import Any

HEAD = """# Keys of a line file

What each key takes, what is assumed where it is left out or `"unknown"`, with the range of the assumption, and how it
is measured instead. This page is printed by `calmshaft schema --page`.

A value is a number with its unit in quotes, or `{ value = "0.45 kg*m^2", source = "measured", range = "4 %" }` with
source `measured`, `maker` or `estimated`. The range is what the value may be off by to either side, `"4 %"` or
`"0.02 kg*m^2"`; where the two sides differ, its ends stand there instead:
`{ value = "16 N*m/deg", source = "estimated", low = "14 N*m/deg", high = "22 N*m/deg" }`. The value lies between them,
and half of the plausible cases to either side of it, whatever the widths; where it is an end itself, all lie to the
other side. A range ends where its key ends: one of 20 % about a restitution of 0.9 goes from 0.72 to 1; one that
reaches zero, where a value must be more than that, is refused. An estimate always has a range: without one it is
refused, for what is known exactly is measured.

`[]` stands for each entry of a list. A limit names its document; with `from`
and `to` it belongs to a range of crank speed, and a list holds one for each range:
`[{ value = "60 N*m", document = "...", to = "1200 rpm" }, { value = "90 N*m", document = "...", from = "1200 rpm" }]`.
"""


def page(keys: Iterable[dict[str, Any]]) -> str:
    """The page in Markdown, a section a part of the line."""
    parts = [HEAD]
    for section, members in groupby(keys, lambda one: one["key"].rpartition(".")[0]):
        parts.append(f"## {section or 'top of the file'}\n")
        parts += [_entry(one) for one in members]
    return "\n".join(parts)


def _sentence(words: str) -> str:
    return f" {words[0].upper()}{words[1:]}." if words else ""


def _entry(one: dict[str, Any]) -> str:
    name = one["key"].rpartition(".")[2]
    needed = ", must be given" if one["required"] else ""
    lines = [f"**{name}**: {one['takes']}{needed}." + _sentence(one["meaning"])]
    lines += [
        f"- not known: *{rule['rule']}*, {rule['formula']}; range {rule['range']} (source: {rule['source']})"
        for rule in one["rules"]
    ]
    lines += [f"- measure: {how}" for how in dict.fromkeys(rule["measure"] for rule in one["rules"])]
    return "\n".join(lines) + "\n"
