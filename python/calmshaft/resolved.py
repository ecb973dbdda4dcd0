"""Nothing hidden: all that the integration uses at one condition, as plain SI numbers.

Key by key, with the equations: python/docs/resolved.md.
"""

from __future__ import annotations

import math
from dataclasses import asdict
from typing import TYPE_CHECKING, Any

import numpy as np

from calmshaft import _core
from calmshaft.linear.modal import modes
from calmshaft.output import json_ready
from calmshaft.runs import Run, cylinders, prepared, steady

if TYPE_CHECKING:
    from calmshaft.condition import Condition
    from calmshaft.line import Line

NODES = 1440  # a cubic spline through them is within 1e-4 of the torque's peak to peak everywhere between

LAWS = {
    "motion": "J_i dw_i/dt = T_i, and at station 0: (J_0 + J(th)) dw_0/dt = T_0 - 1/2 J'(th) w_0^2",
    "station torque": "T_i = sum of ratio T over couplings to i - sum of T over couplings from i - loads at i; "
    "at station 0 also + gas torque - engine friction",
    "twist": "twist = a_from - ratio a_to, rate = w_from - ratio w_to",
    "spring": "T = stiffness twist + damping rate",
    "staged damper": "T = sum over ramps of side slope max(0, side twist - corner) + damping rate + friction + stops",
    "friction": "T = friction_torque z / presliding_angle; z follows the twist and is held within +-presliding_angle",
    "contact": "T = stiffness g max(0, 1 + damping_factor dg/dt) while the penetration g > 0, else 0",
    "stops": "contact at g = twist - drive_stop, less contact at g = -twist - coast_stop",
    "mesh": "contact at g = twist - half_backlash, less contact at g = -twist - half_backlash",
    "square law": "load = coefficient (w |w| + extra_damping |r mean_speed| (w - r mean_speed))",
    "drag": "load = torque min(1, max(-1, w / (1 rad/s)))",
    "engine friction": "min(1, max(-1, w_0 / (1 rad/s))) (constant + per_speed |w_0| + per_speed_squared w_0^2)",
    "gas torque": "gas_torque = base_torque + fuelling fuelled_torque",
}


def resolved(line: Line, at: Condition) -> dict[str, Any]:
    """The document of `Line.resolved`. Raises LineError where the condition does not fit the line."""
    run = steady(line, at)
    system = _core.mass_elastic_system(prepared(line), at.core(cylinders(line)), NODES)
    fuelling = run.fuelling if run.cycles else math.nan
    cycle_angle = system["tables"]["cycle"]
    mean_speed = _mean_speed(run)
    document = {
        "title": line.title,
        "condition": asdict(at),
        "status": run.status,
        "reason": run.reason,
        "fuelling": fuelling,
        "mean_speed": mean_speed,
        "cycle_angle": cycle_angle,
        "cycle_time": cycle_angle / mean_speed,
        "period_cycles": run.period_cycles,
        "steps_per_cycle": system["steps_per_cycle"],
        "stations": system["stations"],
        "couplings": system["couplings"],
        "watched": _watched(system["couplings"]),
        "loads": system["loads"],
        "engine_friction": system["engine_friction"],
        "crank": _crank(system["tables"], fuelling),
        "start": _start(run, system["couplings"]) if run.cycles else None,
        "laws": LAWS,
        "modes": _modes(line, at),
        "quantities": _quantities(line),
        "warnings": [line.explain(warning) for warning in line.warnings],
    }
    plain: dict[str, Any] = json_ready(document)
    return plain


def _mean_speed(run: Run) -> float:
    """Mean crank speed [rad/s]: the asked one where the fuelling was sought, else the one that was found."""
    rpm = run.measures["mean_rpm"] if run.at.fuelling == "fixed" and run.cycles else run.at.rpm
    return rpm * math.tau / 60.0


def _watched(couplings: list[dict[str, Any]]) -> int | None:
    """The loaded mesh; in neutral the first unloaded one, else the first coupling."""
    for kind in ("loaded mesh", "unloaded mesh"):
        for index, one in enumerate(couplings):
            if one["kind"] == kind:
                return index
    return 0 if couplings else None


def _crank(tables: dict[str, Any], fuelling: float) -> dict[str, Any]:
    nodes = tables["nodes"]
    columns = {name: tables[name] for name in ("inertia", "inertia_slope", "base_torque", "fuelled_torque")}
    gas = tables["base_torque"] + fuelling * tables["fuelled_torque"]
    solved = {"gas_torque": None if math.isnan(fuelling) else gas}
    return {"angle": np.arange(nodes) * (tables["cycle"] / nodes), **columns, **solved}


def _start(run: Run, couplings: list[dict[str, Any]]) -> dict[str, Any]:
    """The compiled library's start, its friction memory by coupling."""
    start = _core.linear_start(prepared(run.line), run.at.core(cylinders(run.line)), run.fuelling)
    sliders = iter(start["slider_twist"])
    by_coupling = [next(sliders) if one["kind"] == "staged damper" else 0.0 for one in couplings]
    return {"angle": start["angle"], "speed": start["speed"], "slider_twist": by_coupling}


def _modes(line: Line, at: Condition) -> dict[str, Any]:
    """Natural frequencies at the mean torque, contacts closed; a row of shapes is one mode."""
    found = modes(line, at)
    return {"frequency_hz": found.frequency_hz, "shapes": found.shapes, "words": found.words}


def _quantities(line: Line) -> dict[str, Any]:
    return {
        path: {"value": one.value, "source": one.source, "low": one.low, "high": one.high, "rule": one.rule}
        for path, one in line.quantities.items()
    }
