"""`check`: the line as it was understood."""

from __future__ import annotations

import math
from typing import Any

from calmshaft import Condition, Line, Modes, _core, modes, units
from calmshaft.commands.common import rpm_of, say, say_json
from calmshaft.judgement.entered import limit_rows
from calmshaft.quantity import Quantity
from calmshaft.runs import condition_text, cylinders, prepared
from calmshaft.schema_paths import kind_at
from calmshaft.wording import text_table

NEARBY = 1.2  # [-] times rated speed up to which a critical speed is still felt; common practice, no source


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
    say(text_table(_stations(system)))
    say("\nCouplings")
    say(text_table(_couplings(system)))
    say("\nNatural frequencies at the mean torque, teeth in contact")
    say(text_table(_modes(found, line)))
    if line.limits:
        say("\nLimits entered; `calmshaft run` judges by them")
        say(text_table(limit_rows(line)))
    say("\nEstimated: the widest ranges first; a measured value takes an estimate's place")
    say(text_table(_estimates(line)))
    given = sum(quantity.source != "estimated" for quantity in line.quantities.values())
    estimated = len(line.quantities) - given
    say(f"\n{given} values given, {estimated} estimated. `calmshaft schema` says how each is measured.")


def _stations(system: dict[str, Any]) -> list[list[str]]:
    rows = [["station", "inertia [kg m^2]", "own speed over the crank's"]]
    crank = float(system["tables"]["inertia"].mean())
    for index, station in enumerate(system["stations"]):
        inertia = station["inertia"] + (crank if index == 0 else 0.0)
        rows.append([station["name"], f"{inertia:.4g}", f"{station['speed_ratio']:.4g}"])
    return rows


def _couplings(system: dict[str, Any]) -> list[list[str]]:
    names = [station["name"] for station in system["stations"]]
    rows = [["coupling", "from", "to", "what it is"]]
    for one in system["couplings"]:
        rows.append([one["name"], names[one["from"]], names[one["to"]], _what(one)])
    return rows


def _what(one: dict[str, Any]) -> str:
    if one["kind"] == "spring":
        return units.show(one["stiffness"], "torsional stiffness")
    if one["kind"] == "staged damper":
        return _stages(one)
    ratio = f", ratio {one['ratio']:.4g}" if one["kind"] == "loaded mesh" else ""
    return f"backlash {units.show(2 * one['half_backlash'], 'angle')}{ratio}"


def _stages(one: dict[str, Any]) -> str:
    slope, said = 0.0, []
    for ramp in one["ramps"]:
        if ramp["side"] > 0:
            slope += ramp["slope"]
            corner = units.show(ramp["corner"], "angle")
            said.append(f"{units.show(slope, 'torsional stiffness')} from {corner}")
    stop = f"; stop {units.show(one['drive_stop'], 'angle')}" if math.isfinite(one["drive_stop"]) else ""
    return ", ".join(said) + stop + f"; friction +-{units.show(one['friction_torque'], 'torque')}"


def _modes(found: Modes, line: Line) -> list[list[str]]:
    """Rows of modes; a speed that the engine never comes near is said to be above its range."""
    firing = cylinders(line) * 2.0 / line.core.engine.strokes
    orders = sorted({1.0, firing})
    rows = [["what swings", "frequency [Hz]", *(f"rpm where order {order:g} meets it" for order in orders)]]
    for hertz, words in zip(found.frequency_hz, found.words, strict=True):
        if hertz > 0:
            speeds = (60 * hertz / order for order in orders)
            above = NEARBY * rpm_of(line, "engine.rated_rpm")
            rows.append([words, f"{hertz:.1f}", *(f"{rpm:.0f}" if rpm < above else "above range" for rpm in speeds)])
    return rows


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
