"""The mass-elastic system and its modes as rows of a table, for `check` and the report."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from calmshaft import units
from calmshaft.line import Line
from calmshaft.linear.modal import Modes
from calmshaft.runs import cylinders

NEARBY = 1.2  # [-] times rated speed up to which a critical speed is still felt; common practice, no source


def station_rows(system: dict[str, Any]) -> list[list[str]]:
    """Name, inertia and speed of each station, under a heading."""
    rows = [["station", "inertia [kg m^2]", "own speed over the crank's"]]
    crank = float(system["tables"]["inertia"].mean())
    for index, station in enumerate(system["stations"]):
        inertia = station["inertia"] + (crank if index == 0 else 0.0)
        rows.append([station["name"], f"{inertia:.4g}", f"{station['speed_ratio']:.4g}"])
    return rows


def coupling_rows(system: dict[str, Any]) -> list[list[str]]:
    """What joins which stations, under a heading."""
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
    """Both sides where they differ, else one for both."""
    drive, coast = _side(one, 1, one["drive_stop"]), _side(one, -1, one["coast_stop"])
    said = drive if drive == coast else f"drive {drive}; coast {coast}"
    return f"{said}; friction +-{units.show(one['friction_torque'], 'torque')}"


def _side(one: dict[str, Any], sign: int, stop: float) -> str:
    slope, said = 0.0, []
    for ramp in one["ramps"]:
        if ramp["side"] * sign > 0:
            slope += ramp["slope"]
            said.append(f"{units.show(slope, 'torsional stiffness')} from {units.show(ramp['corner'], 'angle')}")
    return ", ".join(said) + (f"; stop {units.show(stop, 'angle')}" if math.isfinite(stop) else "")


def mode_rows(found: Modes, line: Line, bands: np.ndarray | None = None) -> list[list[str]]:
    """Rows of modes; a speed that the engine never comes near is said to be above its range.

    bands: of the frequencies, (mode, 3) [Hz], see calmshaft.uncertainties.frequencies.
    """
    spread = bands is not None and len(bands) == len(found.frequency_hz)
    firing = cylinders(line) * 2.0 / line.core.engine.strokes
    orders = sorted({1.0, firing})
    heads = ["frequency [Hz]", *(["5 % are below", "5 % are above"] if spread else [])]
    rows = [["what swings", *heads, *(f"rpm where order {order:g} meets it" for order in orders)]]
    for mode, (hertz, words) in enumerate(zip(found.frequency_hz, found.words, strict=True)):
        if hertz > 0:
            speeds = (60 * hertz / order for order in orders)
            above = NEARBY * line.quantities["engine.rated_rpm"].value * 30.0 / math.pi
            told = [hertz, *(bands[mode, ::2] if spread else ())]  # type: ignore[index]
            meets = [f"{rpm:.0f}" if rpm < above else "above range" for rpm in speeds]
            rows.append([words, *(f"{one:.1f}" for one in told), *meets])
    return rows
