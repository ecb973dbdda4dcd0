"""Changing a document: single keys by path, and the slope of the plate's last stage with its stop."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calmshaft import units
from calmshaft.build_readings import instead_of
from calmshaft.faults import Fault, line_error, unknown_path
from calmshaft.line_rules import is_rigid, stage_indices
from calmshaft.schema_paths import field_at, kind_at, put, remove, split
from calmshaft.workshop.plate_measured import is_measured

PLATE_STIFFNESS = "plate.stiffness"
KEEPS = ("stop torque", "travel")

# A key that is given takes the place of those that say the same.
_SAYS_THE_SAME = {
    "engine.rated_torque": ("engine.rated_power",),
    "engine.rated_power": ("engine.rated_torque",),
    "engine.firing_order": ("engine.firing_angles",),
    "engine.firing_angles": ("engine.firing_order",),
    "flywheel.inertia": ("flywheel.discs",),
    "flywheel.discs": ("flywheel.inertia",),
    "propeller.water_inertia": ("propeller.water_by",),
    "propeller.water_by": ("propeller.water_inertia",),
    "propeller.full_throttle_rpm": ("propeller.absorbs_torque", "propeller.absorbs_rpm"),
}


def changed(document: dict[str, Any], changes: Mapping[str, Any], known: list[str]) -> dict[str, Any]:
    """The document with the changes written into it. known: paths for near matches.

    Raises LineError with a fault for every path that names nothing.
    """
    faults = [fault for path, value in changes.items() if (fault := _write(document, path, value, known))]
    if faults:
        raise line_error(faults)
    return document


def as_stages(document: dict[str, Any], values: Mapping[str, Any]) -> dict[str, Any]:
    """The document with the stages, play and stop that follow from springs or points in the place of these."""
    if not is_measured(values):
        return document
    follows = ["plate.free_play", "plate.stop_angle", "plate.coast_stop_angle"]
    if any(path.startswith("plate.points[") for path in values):
        follows.append("plate.hysteresis_full_width")
    for index in sorted({*stage_indices(values, "drive"), *stage_indices(values, "coast")}):
        follows += [f"plate.stages[{index}].{key}" for key in ("stiffness", "until", "side")]
    for form in ("springs", "points"):
        remove(document, f"plate.{form}")
    for path in follows:
        if path in values:
            kind = kind_at(path)
            put(document, path, units.write(values[path], kind) if kind else values[path])
    return document


def _write(document: dict[str, Any], path: str, value: Any, known: list[str]) -> Fault | None:
    steps = split(path)
    if not steps or field_at(steps) is None:
        return unknown_path(path, known)
    for other in (*_SAYS_THE_SAME.get(path, ()), *instead_of(path)):
        remove(document, other)
    try:
        put(document, path, value)
    except IndexError:
        return Fault(path, "", "has no such item in its list", "number its items from 0")
    return None


def with_slope(document: dict[str, Any], values: Mapping[str, Any], slope: Any, keep: str) -> dict[str, Any]:
    """The document with another last stage before the stop, on all sides given.

    The stop angle stays (keep="travel"), or moves so that the stop torque stays: with the last corner c and its
    torque T_c, (stop' - c) k' = (stop - c) k.
    """
    if keep not in KEEPS:
        raise line_error([Fault("keep", f'"{keep}"', "is not a choice", 'write "stop torque" or "travel"')])
    if is_rigid(values):
        raise line_error([Fault(PLATE_STIFFNESS, "", "does not exist for a rigid plate", "give [[plate.stages]]")])
    if not isinstance(slope, str):
        raise line_error([Fault(PLATE_STIFFNESS, str(slope), "a unit is needed", 'write for instance "16 N*m/deg"')])
    stiffness = _parsed(slope)
    document = as_stages(document, values)
    stops = {side: _moved_stop(values, side, stiffness, keep) for side in ("drive", "coast")}
    for side in ("drive", "coast"):
        last = f"plate.stages[{stage_indices(values, side)[-1]}]"
        put(document, f"{last}.stiffness", slope)
        if keep == "stop torque" and f"{last}.until" in values and stops[side] is not None:
            put(document, f"{last}.until", units.write(stops[side], "angle"))
    if keep == "stop torque" and stops["drive"] is not None:
        put(document, "plate.stop_angle", units.write(stops["drive"], "angle"))
        if stops["coast"] != stops["drive"]:
            put(document, "plate.coast_stop_angle", units.write(stops["coast"], "angle"))
    return document


def _parsed(slope: str) -> float:
    try:
        stiffness = units.parse(slope, "torsional stiffness")
    except units.UnitError as error:
        raise line_error([Fault(PLATE_STIFFNESS, f'"{slope}"', error.rule, error.advice)]) from None
    if not stiffness > 0:
        raise line_error([Fault(PLATE_STIFFNESS, f'"{slope}"', "must be more than zero", 'write e.g. "16 N*m/deg"')])
    return stiffness


def _moved_stop(values: Mapping[str, Any], side: str, stiffness: float, keep: str) -> float | None:
    stop = values.get("plate.stop_angle")
    if side == "coast":
        stop = values.get("plate.coast_stop_angle", stop)
    if stop is None or keep == "travel":
        return stop
    *inner, last = stage_indices(values, side)
    corner = values[f"plate.stages[{inner[-1]}].until"] if inner else 0.5 * values["plate.free_play"]
    return float(corner + (stop - corner) * values[f"plate.stages[{last}].stiffness"] / stiffness)
