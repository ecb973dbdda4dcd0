"""`check`: the line as it was understood."""

from __future__ import annotations

import math

from calmshaft import Condition, Line, _core, modes, units
from calmshaft.commands.common import say, say_json
from calmshaft.judgement.entered import limit_rows
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
    if line.limits:
        say("\nLimits entered; `calmshaft run` judges by them")
        say(text_table(limit_rows(line)))
    say("\nEstimated: the widest ranges first; a measured value takes an estimate's place")
    say(text_table(_estimates(line)))
    if _of_source(line, "derived"):
        say("\nDerived from what was measured of the plate; `calmshaft plate` shows it by itself")
        say(text_table(_derived(line)))
    derived, estimated = (len(_of_source(line, source)) for source in ("derived", "estimated"))
    given = f"{len(line.quantities) - derived - estimated} values given" + (f", {derived} derived" if derived else "")
    say(f"\n{given}, {estimated} estimated. `calmshaft schema` says how each is measured.")


def width(quantity: Quantity) -> float:
    """Width of the range over the value [-]."""
    return (quantity.high - quantity.low) / abs(quantity.value) if quantity.value else math.inf


def _of_source(line: Line, source: str) -> list[tuple[str, Quantity]]:
    return [(path, quantity) for path, quantity in line.quantities.items() if quantity.source == source]


def _derived(line: Line) -> list[list[str]]:
    """In the order of the file."""
    return [["key", "value", "from", "to", "rule"], *map(_row, _of_source(line, "derived"))]


def _estimates(line: Line) -> list[list[str]]:
    estimated = sorted(_of_source(line, "estimated"), key=lambda entry: -width(entry[1]))
    return [["key", "value", "from", "to", "rule"], *map(_row, estimated)]


def _row(entry: tuple[str, Quantity]) -> list[str]:
    path, quantity = entry
    shown = [units.show(value, kind_at(path) or "pure") for value in (quantity.value, quantity.low, quantity.high)]
    return [path, *shown, quantity.rule or ""]
