"""`check`: the line as it was understood."""

from __future__ import annotations

import math

from calmshaft import Condition, Line, _core, modes, units
from calmshaft.commands.common import say, say_json
from calmshaft.quantity import Quantity
from calmshaft.runs import condition_text, cylinders, prepared
from calmshaft.schema_paths import kind_at
from calmshaft.summary import coupling_rows, mode_rows, station_rows
from calmshaft.wording import text_table


def check(line: Line, at: Condition, as_json: bool) -> None:
    """Print stations, couplings, sources and natural frequencies of a line."""
    if as_json:
        say_json(line.resolved(at))
        return
    system = _core.mass_elastic_system(prepared(line), at.core(cylinders(line)))
    found = modes(line, at)
    say(line.title)
    say(f"as understood at {condition_text(at)}")
    say("\nStations (each inertia in its own shaft's frame)")
    say(text_table(station_rows(system)))
    say("\nCouplings")
    say(text_table(coupling_rows(system)))
    say("\nNatural frequencies at the mean torque, teeth in contact")
    say(text_table(mode_rows(found, line)))
    say("\nEstimated: the widest ranges first; a measured value takes an estimate's place")
    say(text_table(_estimates(line)))
    given = sum(quantity.source != "estimated" for quantity in line.quantities.values())
    estimated = len(line.quantities) - given
    say(f"\n{given} values given, {estimated} estimated. `calmshaft schema` says how each is measured.")


def width(quantity: Quantity) -> float:
    """Width of the range over the value [-]."""
    return (quantity.high - quantity.low) / abs(quantity.value) if quantity.value else math.inf


def _estimates(line: Line) -> list[list[str]]:
    estimated = [(path, q) for path, q in line.quantities.items() if q.source == "estimated"]
    rows = [["key", "value", "from", "to", "rule"]]
    for path, quantity in sorted(estimated, key=lambda entry: -width(entry[1])):
        kind = kind_at(path) or "pure"
        shown = [units.show(value, kind) for value in (quantity.value, quantity.low, quantity.high)]
        rows.append([path, *shown, quantity.rule or ""])
    return rows
