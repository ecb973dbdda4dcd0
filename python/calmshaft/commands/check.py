"""`check`: the line as it was understood."""

from __future__ import annotations

import math
from typing import Any

from calmshaft import Condition, Line, _core, modes, units
from calmshaft.commands.common import rpm_of, say, say_json
from calmshaft.quantity import Quantity
from calmshaft.runs import condition_text, cylinders, prepared
from calmshaft.schema_paths import kind_at
from calmshaft.wording import text_table

FOLLOWS = 0.1  # of the largest amplitude in a mode


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
    say(text_table(_modes(found, system, line)))
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


def _modes(found: dict[str, Any], system: dict[str, Any], line: Line) -> list[list[str]]:
    """Rows of modes; a speed far above rated is left out, nothing runs there."""
    firing = cylinders(line) * 2.0 / line.core.engine.strokes
    orders = sorted({1.0, firing})
    rows = [["frequency [Hz]", *(f"rpm where order {order:g} meets it" for order in orders), "what moves most"]]
    for omega, shape in zip(found["angular_frequency"], found["shapes"].T, strict=True):
        if omega > 0:
            speeds = (60 * omega / math.tau / order for order in orders)
            near = [f"{rpm:.0f}" if rpm < 2 * rpm_of(line, "engine.rated_rpm") else "-" for rpm in speeds]
            rows.append([f"{omega / math.tau:.1f}", *near, _moving(shape, system)])
    return rows


def _moving(shape: Any, system: dict[str, Any]) -> str:
    """The station that moves most, and the one that moves most against it, angles seen from the crank.

    A free gear that only follows its mate is left out.
    """
    stations = system["stations"]
    follows = {
        one["to"]
        for one in system["couplings"]
        if one["kind"] == "unloaded mesh" and abs(shape[one["to"]] - shape[one["from"]]) < FOLLOWS
    }
    seen = {i: shape[i] / one["speed_ratio"] for i, one in enumerate(stations) if i not in follows}
    most = max(seen, key=lambda i: abs(seen[i]))
    against = min(seen, key=lambda i: seen[i] * seen[most])
    return f"{stations[most]['name']} against {stations[against]['name']}"


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
