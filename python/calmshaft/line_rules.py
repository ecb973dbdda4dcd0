"""What must stand in a line file, and how its keys go together. Rules about values live in the compiled check()."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from typing import Any

from calmshaft import _core, units
from calmshaft.estimates.propeller import AREA, BY, ways_of
from calmshaft.schema_paths import split
from calmshaft.workshop.propellers import AREA_RATIO, FORMULAS
from calmshaft.workshop.sizes import LINE

Fault = _core.Fault
Values = Mapping[str, Any]  # path -> SI value, word, whole number or list

_REQUIRED = {
    "engine.cylinders": "write their number, e.g. 4",
    "engine.strokes": "write 2 or 4",
    "engine.bore": 'write e.g. "92 mm"',
    "engine.stroke": 'write e.g. "98 mm"',
    "engine.idle_rpm": "write e.g. 800",
    "engine.rated_rpm": "write the data plate's, e.g. 2600",
}
_FOR_GEARS = {
    "gearbox.ahead.ratio": "count input turns for one output turn",
    "shaft.diameter": "measure it with a micrometer",
    "shaft.length": "measure the clear length and a third of each hub",
    "propeller.diameter": "measure from the axis to a tip, twice that",
}
_ONE_OF = (("engine.firing_order", "engine.firing_angles"), ("propeller.full_throttle_rpm", "propeller.absorbs_rpm"))
_MISSING = "is missing"
BORE_OVER_STROKE = (0.3, 3.0)  # [-] common practice, no source
_USUAL_PROPELLER = (0.15, 4.0)  # [m] common practice, no source
_TORQUE_OF_POWER_MAY_DIFFER = 0.03  # a data plate rounds both


def is_rigid(values: Values) -> bool:
    """A solid drive in place of a plate."""
    return bool(values.get("plate.kind") == "rigid")


def stage_indices(values: Values, side: str) -> list[int]:
    """The stages of the file that belong to one side ("drive" or "coast"), from the middle outwards."""
    found = {split(path)[2] for path in values if path.startswith("plate.stages[")}
    return sorted(i for i in found if values.get(f"plate.stages[{i}].side", side) == side)  # type: ignore[type-var, misc]


def missing(values: Values) -> Iterator[Fault]:
    """A fault for each key without which nothing can be answered."""
    if not any(path.startswith("engine.") for path in values):
        yield Fault("engine", "", _MISSING, "write a section [engine]; its data plate and a pair of calipers will do")
        return
    for path, advice in _REQUIRED.items():
        if path not in values:
            yield Fault(path, "", _MISSING, advice)
    if not {"engine.rated_torque", "engine.rated_power"} & set(values):
        yield Fault("engine.rated_torque", "", _MISSING, "write rated_torque or rated_power from the data plate")


def missing_of_plate(values: Values, in_table: bool = False) -> Iterator[Fault]:
    """Stages have no honest estimate; a mass-elastic table may hold a coupling in place of the plate."""
    if is_rigid(values) or in_table:
        return
    stages = sorted({*stage_indices(values, "drive"), *stage_indices(values, "coast")})
    if not stages:
        advice = 'write [[plate.stages]], [[plate.springs]] or [[plate.points]]; kind = "rigid" for a solid drive'
        yield Fault("plate.stages", "", _MISSING, advice)
    for index in stages:
        if f"plate.stages[{index}].stiffness" not in values:
            yield Fault(f"plate.stages[{index}].stiffness", "", _MISSING, 'write e.g. "16 N*m/deg"')
    inner = {index for side in ("drive", "coast") for index in stage_indices(values, side)[:-1]}
    for index in sorted(inner):
        if f"plate.stages[{index}].until" not in values:
            yield Fault(f"plate.stages[{index}].until", "", _MISSING, "say where the next stage begins, in deg")


def together(values: Values) -> Iterator[Fault]:
    """Keys that exclude or need each other."""
    for one, other in _ONE_OF:
        if one in values and other in values:
            yield Fault(other, "", f"says the same as {one}", "keep one of the two")
    pair = ("propeller.absorbs_torque", "propeller.absorbs_rpm")
    for here, there in (pair, pair[::-1]):
        if here in values and there not in values:
            yield Fault(there, "", f"is missing beside {here.split('.')[1]}", "give torque and rpm of one point")
    yield from _water_by(values)
    yield from _bore_and_stroke(values)
    idle, rated = values.get("engine.idle_rpm", 0.0), values.get("engine.rated_rpm", 0.0)
    if idle >= rated > 0:
        yield Fault("engine.idle_rpm", "", "must be below rated_rpm", "look at both")


def _bore_and_stroke(values: Values) -> Iterator[Fault]:
    """One of the two in another unit."""
    bore, stroke = values.get("engine.bore", 0.0), values.get("engine.stroke", 0.0)
    low, high = BORE_OVER_STROKE
    if LINE["engine.bore"].holds(bore) and LINE["engine.stroke"].holds(stroke) and not low <= bore / stroke <= high:
        rule = f"is {bore / stroke:.2g} times the stroke of {units.show(stroke, 'length')}: 0.6 to 1.5 times is usual"
        advice = "measure both with calipers again; look at their units: mm or in"
        yield Fault("engine.bore", units.show(bore, "length"), rule, advice)


def cylinder_count(values: Values) -> Iterator[Fault]:
    """Firing order and angles name every cylinder."""
    cylinders = values.get("engine.cylinders")
    for key in ("engine.firing_order", "engine.firing_angles"):
        listed = values.get(key)
        if listed is not None and cylinders is not None and len(listed) != cylinders:
            shown = str(listed) if key.endswith("order") else f"{len(listed)} angles"
            yield Fault(key, shown, f"must name each of the {cylinders} cylinders once", "look at cylinders too")


def warnings(values: Values, in_table: Collection[str] = ()) -> Iterator[Fault]:
    """What can be run but should be known. in_table: parts ("plate", "propeller") that a mass-elastic table gives."""
    for path, advice in _FOR_GEARS.items():
        if path.split(".")[0] in in_table:
            continue
        section = path.rsplit(".", 1)[0] + "."
        if path not in values and any(key.startswith(section) for key in values):
            yield Fault(path, "", "is missing: only neutral can be answered", advice, True)
    if not is_rigid(values) and "plate" not in in_table and "plate.stop_angle" not in values:
        advice = "measure it on the bench: how far the plate turns before it is solid"
        yield Fault("plate.stop_angle", "", "is missing: the springs are taken to have no stop", advice, True)
    yield from _propeller_size(values)
    yield from _water(values)
    yield from _uneven_vee(values)
    yield from _power_and_torque(values)


def _propeller_size(values: Values) -> Iterator[Fault]:
    """Before its mass and water follow from a diameter in another unit, which the compiled check does not see."""
    low, high = _USUAL_PROPELLER
    diameter = values.get("propeller.diameter")
    if diameter is not None and not low <= diameter <= high:
        rule = f"such parts have {low:g} m to {high:g} m"
        yield Fault("propeller.diameter", f"{diameter:.4g} m", rule, "look at its unit: mm, m or in", True)


def _water_by(values: Values) -> Iterator[Fault]:
    """Which way of reckoning the water the data can reach."""
    way, ratio = values.get(BY), values.get(AREA)
    low, high = AREA_RATIO
    if ratio is not None and not low < ratio < high:
        advice = "write the area of all blades over that of the disc, e.g. 0.55"
        yield Fault(AREA, f"{ratio:.4g}", f"must lie between {low:g} and {high:g}", advice)
    if way is not None and "propeller.water_inertia" in values:
        yield Fault(BY, f'"{way}"', "says another than propeller.water_inertia", "keep one of the two")
    elif way in FORMULAS and ratio is None:
        advice = "write the area of all blades over that of the disc, e.g. 0.55; the pitch rule does without"
        yield Fault(AREA, "", f'is missing for water_by = "{way}"', advice)


def _water(values: Values) -> Iterator[Fault]:
    way = values.get(BY)
    if way in FORMULAS and way not in ways_of(values):
        rule = "gives no water for such a propeller: 3 to 5 blades, enough area and pitch are its field"
        yield Fault(BY, f'"{way}"', rule, 'the pitch rule is taken; write "all ways" for what the others say', True)


def _uneven_vee(values: Values) -> Iterator[Fault]:
    """A vee on common crank pins fires evenly only where the bank angle is a whole number of firing intervals."""
    if values.get("engine.layout") != "vee" or "engine.firing_angles" in values:
        return
    bank, interval = (
        values.get("engine.bank_angle"),
        3.141592653589793 * values["engine.strokes"] / values["engine.cylinders"],
    )
    if bank is None or abs(bank / interval - round(bank / interval)) > 1e-6:
        advice = "leave it where the crank pins are offset for that; else give firing_angles"
        yield Fault("engine.firing_order", "", "is taken to fire at even intervals", advice, True)


def _power_and_torque(values: Values) -> Iterator[Fault]:
    """T = P / w; the torque is used."""
    power, torque = values.get("engine.rated_power"), values.get("engine.rated_torque")
    if power is None or torque is None:
        return
    of_power = power / values["engine.rated_rpm"]
    if abs(of_power - torque) > _TORQUE_OF_POWER_MAY_DIFFER * abs(torque):
        rule = f"does not fit rated_torque: at rated_rpm it is {of_power:.4g} N*m"
        yield Fault("engine.rated_power", "", rule, "the torque is used; look at all three", True)
