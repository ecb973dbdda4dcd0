"""The parts of a line as the compiled library takes them, from SI values by path."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from calmshaft import _core, build_measured
from calmshaft.faults import Fault
from calmshaft.line_rules import is_rigid, stage_indices
from calmshaft.schema_paths import split
from calmshaft.workshop import shaft_inertia, shaft_stiffness

Values = Mapping[str, Any]

# Usual orders; a rigid crank that fires evenly answers alike for all of them (common practice).
_USUAL_ORDERS = {4: [1, 3, 4, 2], 5: [1, 2, 4, 5, 3], 6: [1, 5, 3, 6, 2, 4], 8: [1, 6, 2, 5, 8, 3, 7, 4]}
_USUAL_VEES = {4: [1, 3, 4, 2], 8: [1, 8, 4, 3, 6, 5, 7, 2]}  # numbered from bank to bank; a six fires as numbered
_COMBUSTION = (
    "burn_start",
    "burn_duration",
    "burn_coefficient",
    "burn_exponent",
    "polytropic_exponent",
    "inlet_pressure",
    "exhaust_pressure",
    "inlet_closes",
    "exhaust_opens",
)
_FRICTION = ("constant", "per_speed", "per_piston_speed_squared")
_ENGINE = (
    "bore",
    "stroke",
    "rod_length",
    "compression_ratio",
    "piston_mass",
    "rod_mass",
    "rod_centre_from_big_end",
    "rod_inertia",
    "crank_inertia",
    "rated_torque",
)
_GEARS = ("ahead", "astern", "neutral")
STOP_RESTITUTION = 0.8  # [-] common practice, no source
RESTITUTION_SPEED = 0.5  # [rad/s] approach speed at which a restitution is stated; a convention


def line(values: Values, table: _core.MassElasticTable) -> _core.Line | list[Fault]:
    """The whole line; a list of faults where the firing order is none. Values that are unknown become NaN."""
    try:
        firing_angles = _firing_angles(values)
    except _core.LineError as error:
        return list(error.faults)
    return _core.Line(
        title=values.get("title", ""),
        engine=_engine(values, firing_angles),
        flywheel_inertia=_number(values, "flywheel.inertia"),
        plate=plate(values),
        gearbox=_gearbox(values),
        shaft=_shaft(values),
        propeller=_propeller(values, any(mass.part == _core.PartStation.propeller for mass in table.masses)),
        table=table,
    )


def _number(values: Values, path: str, default: float = math.nan) -> float:
    return float(values.get(path, default))


def _numbers(values: Values, section: str, keys: tuple[str, ...]) -> dict[str, float]:
    return {key: _number(values, f"{section}.{key}") for key in keys}


def usual_order(cylinders: int, layout: str = "inline") -> list[int]:
    """Cylinder numbers in the order in which such engines usually fire."""
    known = _USUAL_VEES if layout == "vee" else _USUAL_ORDERS
    return known.get(cylinders, list(range(1, cylinders + 1)))


def _firing_angles(values: Values) -> list[float]:
    """By cylinder number [rad]. Raises LineError."""
    if "engine.firing_angles" in values:
        return list(values["engine.firing_angles"])
    cylinders = values["engine.cylinders"]
    usual = usual_order(cylinders, values.get("engine.layout", "inline"))
    return list(_core.firing_angles(values.get("engine.firing_order", usual), values["engine.strokes"]))


def _engine(values: Values, firing_angles: list[float]) -> _core.Engine:
    return _core.Engine(
        strokes=values["engine.strokes"],
        fuel=_core.Fuel[values.get("engine.fuel", "diesel")],
        firing_angles=firing_angles,
        rated_speed=_number(values, "engine.rated_rpm"),
        combustion=_core.Combustion(**_numbers(values, "engine.combustion", _COMBUSTION)),
        friction=_core.EngineFriction(**_numbers(values, "engine.friction", _FRICTION)),
        **_numbers(values, "engine", _ENGINE),
    )


def plate(values: Values) -> _core.Plate:
    """The plate; what is unknown is NaN."""
    hub = _number(values, "plate.hub_inertia")
    stated = values.get("plate.rated_torque")
    if is_rigid(values):
        return _core.Plate(rigid=True, hub_inertia=hub, rated_torque=stated)
    keys = ("free_play", "hysteresis_full_width", "presliding_angle", "viscous_damping", "stop_stiffness")
    return _core.Plate(
        hub_inertia=hub,
        rated_torque=stated,
        stop_restitution=_number(values, "plate.stop_restitution", STOP_RESTITUTION),
        drive=_side(values, "drive"),
        coast=_side(values, "coast"),
        **_numbers(values, "plate", keys),
    )


def _side(values: Values, side: str) -> _core.PlateSide:
    stop = _number(values, "plate.stop_angle", math.inf)
    if side == "coast":
        stop = _number(values, "plate.coast_stop_angle", stop)
    stages = [
        _core.PlateStage(
            stiffness=_number(values, f"plate.stages[{index}].stiffness"),
            until=_number(values, f"plate.stages[{index}].until", math.inf),
        )
        for index in stage_indices(values, side)
    ]
    return _core.PlateSide(stages=stages, stop_angle=stop)


def _contact(values: Values, pair: str) -> _core.ToothContact:
    return _core.ToothContact(
        backlash=_number(values, f"{pair}.backlash"),
        stiffness=_number(values, f"{pair}.mesh_stiffness"),
        restitution=_number(values, f"{pair}.restitution"),
        restitution_speed=_number(values, f"{pair}.restitution_speed", RESTITUTION_SPEED),
    )


def _loaded(values: Values, gear: str) -> _core.LoadedPair | None:
    pair = f"gearbox.{gear}"
    if f"{pair}.ratio" not in values:
        return None
    numbers = _numbers(values, pair, ("ratio", "output_inertia"))
    return _core.LoadedPair(contact=_contact(values, pair), **numbers)


def _unloaded(values: Values, index: int) -> _core.UnloadedPair:
    pair = f"gearbox.unloaded[{index}]"
    turns_in = values.get(f"{pair}.turns_in", _GEARS)
    return _core.UnloadedPair(
        name=values.get(f"{pair}.name", f"free pair {index + 1}"),
        contact=_contact(values, pair),
        **{f"turns_in_{gear}": gear in turns_in for gear in _GEARS},
        **_numbers(values, pair, ("inertia", "drag")),
    )


def _gearbox(values: Values) -> _core.Gearbox:
    indices = sorted({split(path)[2] for path in values if path.startswith("gearbox.unloaded[")})
    return _core.Gearbox(
        ahead=_loaded(values, "ahead"),
        astern=_loaded(values, "astern"),
        unloaded=[_unloaded(values, index) for index in indices],  # type: ignore[arg-type]
        **_numbers(values, "gearbox", ("rated_torque", "input_inertia", "input_drag")),
    )


def _shaft(values: Values) -> _core.Shaft | None:
    """Round, solid or in pieces: 1/k = sum of L / (G I), J = sum of rho I L, I = pi (d^4 - bore^4) / 32."""
    if "shaft.diameter" not in values or "shaft.length" not in values:
        return None
    pieces = build_measured.pieces(values)
    length = values["shaft.length"]
    polar = math.pi / 32 * values["shaft.diameter"] ** 4
    stiffness, inertia = (values.get(f"shaft.{key}", math.nan) * polar for key in ("shear_modulus", "density"))
    return _core.Shaft(
        stiffness=shaft_stiffness(pieces).value if pieces else stiffness / length,
        inertia=shaft_inertia(pieces).value if pieces else inertia * length,
        damping_ratio=_number(values, "shaft.damping_ratio"),
        divisions=values.get("shaft.divisions", 1),
    )


def _propeller(values: Values, in_table: bool) -> _core.Propeller | None:
    """The law passes through the rated torque at the speed that the line reaches at full throttle."""
    if "propeller.diameter" not in values and not in_table:
        return None
    torque, speed = _number(values, "engine.rated_torque"), _number(values, "propeller.full_throttle_rpm")
    return _core.Propeller(
        absorbs_torque=_number(values, "propeller.absorbs_torque", torque),
        absorbs_speed=_number(values, "propeller.absorbs_rpm", speed),
        **_numbers(values, "propeller", ("inertia", "water_inertia", "tied_up_factor", "extra_damping")),
    )


def in_file(fault: Fault, values: Values) -> Fault:
    """A fault of the compiled checks on the key of the file that it is about."""
    path = fault.path
    side = "coast" if path.startswith("plate.coast.") else "drive"
    path = path.replace("plate.coast.", "plate.")
    steps = split(path)
    if steps[:2] == ("plate", "stages") and len(steps) > 2:
        index = stage_indices(values, side)[steps[2]]  # type: ignore[index]
        path = path.replace(f"[{steps[2]}]", f"[{index}]", 1)
    if path == "plate.stop_angle" and side == "coast" and "plate.coast_stop_angle" in values:
        path = "plate.coast_stop_angle"
    if path == "engine.firing_order" and "engine.firing_angles" in values:
        path = "engine.firing_angles"
    return Fault(path, fault.value, fault.rule, fault.advice, fault.warning)
