"""`schema`: every key with its rule, range and way of measuring."""

from __future__ import annotations

from calmshaft.commands.common import say, say_json
from calmshaft.estimates import rules


def schema(as_json: bool) -> None:
    """Print what is assumed for each key that is not known, and how to measure it instead."""
    known = [
        {"key": r.key, "rule": r.name, "formula": r.formula, "range": r.spread, "measure": r.how_to_measure}
        for r in rules()
    ]
    if as_json:
        say_json(known)
        return
    for one in known:
        say(f"{one['key']}\n  rule {one['rule']}: {one['formula']}; range {one['range']}\n  {one['measure']}")
