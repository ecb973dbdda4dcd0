"""A plate that is given by its springs or by points of its curve: the stages, play and stop that follow from them."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from calmshaft import units
from calmshaft.errors import Fault, LineError
from calmshaft.quantity import Quantity
from calmshaft.workshop.plate_groups import (
    CONDITION_WORDS,
    MOST_GROUPS,
    conditions_of,
    groups_of,
    name_of,
    nested_faults,
)
from calmshaft.workshop.plate_points import Curve, Point, curve, few_faults, point_faults
from calmshaft.workshop.plate_twist import SIDES, STEP, PlateSprings, SpringGroup

Values = Mapping[str, Any]  # path -> SI value, word, whole number or list

DERIVED = "derived"  # source of a value that follows from other values of the file
RATE_UNSURE = 0.15  # [-] of a rate by calipers where no ranges are written: own arithmetic, 0.1 mm of 4 mm wire is 10 %
LENGTH_UNSURE = 0.3e-3  # [m] of a gap by calipers; common practice, no source
POINT_UNSURE = 0.05  # [-] of a slope by torque wrench; common practice, no source
FEW_POINTS_UNSURE = 0.15  # [-] of slope and friction by fewer readings than tell a curve; common practice, no source
_ITEM = re.compile(r"plate\.(springs|points)\[(\d+)\]\.(\w+)")
_POWERS = {
    "wire_diameter": 4.0,
    "coil_outer_diameter": 3.0,
    "active_coils": 1.0,
    "total_coils": 1.0,
    "pitch_radius": 2.0,
}


@dataclass
class Measured:
    """What follows: quantities by path (SI), words by path, faults, and the springs where they were measured."""

    quantities: dict[str, Quantity] = field(default_factory=dict)
    words: dict[str, str] = field(default_factory=dict)
    faults: list[Fault] = field(default_factory=list)
    springs: PlateSprings | None = None

    def values(self) -> dict[str, Any]:
        """Path -> SI value or word of all that follows."""
        return {path: quantity.value for path, quantity in self.quantities.items()} | self.words


def is_measured(values: Values) -> bool:
    """Whether the plate is given by springs or points."""
    return any(path.startswith(("plate.springs[", "plate.points[")) for path in values)


def read_plate(plate: Mapping[str, Any]) -> Measured:
    """The same of the dict of a [plate] alone. Does not raise: faults are in the result."""
    from calmshaft.faults import validated
    from calmshaft.schema_paths import flatten

    section, faults = validated({"plate": dict(plate)})
    found = read(dict(flatten(section)), {fault.path for fault in faults})
    found.faults = [*faults, *found.faults]
    return found


def read(given: Mapping[str, Any], faulty: set[str]) -> Measured:
    """What follows from springs or points. given: path -> Quantity, word or count; faulty: paths told already."""
    found = Measured()
    items = _items(given)
    forms = [
        form for form in ("stages", "springs", "points") if any(path.startswith(f"plate.{form}[") for path in given)
    ]
    if len(forms) > 1:
        rule = f"says the same as plate.{forms[0]}"
        found.faults = [
            Fault(f"plate.{form}", "", rule, "keep one of stages, springs and points") for form in forms[1:]
        ]
        return found
    told = {form for form in ("springs", "points") if any(path.startswith(f"plate.{form}") for path in faulty)}
    if items["springs"]:
        _read_springs(found, items["springs"], given, faulty)
    elif items["points"]:
        _read_points(found, items["points"], given, bool(told))
    if told or any(not fault.warning for fault in found.faults):
        found.quantities, found.words = {}, {}
        found.springs = None
    return found


def _items(given: Mapping[str, Any]) -> dict[str, list[dict[str, Any]]]:
    """The entries of springs and points by key, quantities and words as they are."""
    lists: dict[str, dict[int, dict[str, Any]]] = {"springs": {}, "points": {}}
    for path, value in given.items():
        if match := _ITEM.fullmatch(path):
            lists[match[1]].setdefault(int(match[2]), {})[match[3]] = value
    return {form: [entries.get(i, {}) for i in range(max(entries, default=-1) + 1)] for form, entries in lists.items()}


def _plain(entry: Mapping[str, Any]) -> dict[str, Any]:
    return {key: value.value if isinstance(value, Quantity) else value for key, value in entry.items()}


def _read_springs(found: Measured, items: list[dict[str, Any]], given: Values, faulty: set[str]) -> None:
    entries = [_plain(entry) for entry in items]
    groups: list[SpringGroup] = []
    read = 0
    for index, entry in enumerate(entries):
        if any(path.startswith(f"plate.springs[{index}]") for path in faulty):
            continue
        try:
            groups += groups_of(index, entry)
            read += 1
        except LineError as error:
            found.faults += error.faults
    found.faults += nested_faults(entries)
    if max(len(groups), len(entries)) > MOST_GROUPS:
        rule = f"are more than {MOST_GROUPS} kinds, each condition counted"
        shown = str(max(len(groups), len(entries)))
        found.faults.append(Fault("plate.springs", shown, rule, "put alike springs into one entry"))
    if read < len(entries) or found.faults:
        return
    if not any(group.working for group in groups):
        found.faults.append(Fault("plate.springs", "", "are all missing", 'write kind = "rigid" for a solid drive'))
        return
    found.springs = _with_lash_and_stops(found, PlateSprings(tuple(groups)), given)
    _tell_of_springs(found, found.springs, items, given)


def _with_lash_and_stops(found: Measured, springs: PlateSprings, given: Values) -> PlateSprings:
    """What was measured of the whole plate: free play beyond the windows' is lash of the spline."""
    play, stop = given.get("plate.free_play"), given.get("plate.stop_angle")
    coast = given.get("plate.coast_stop_angle", stop)
    lash = play.value - springs.free_play if play else 0.0
    if play and lash < -1e-9:
        shown, windows = units.show(play.value, "angle"), units.show(springs.free_play, "angle")
        rule = f"is less than the springs' gaps leave, which is {windows}"
        advice = "rock the hub again with a dial gauge, or measure gaps, windows and free lengths again"
        found.faults.append(Fault("plate.free_play", shown, rule, advice))
    stops = tuple(one.value if one else math.inf for one in (stop, coast))
    return PlateSprings(springs.groups, max(lash, 0.0), stops)  # type: ignore[arg-type]


def _tell_of_springs(found: Measured, springs: PlateSprings, items: list[dict[str, Any]], given: Values) -> None:
    unsure = max(_rate_range(entry) for entry in items)
    angle = LENGTH_UNSURE / min(group.pitch_radius for group in springs.groups)
    rule = "springs by calipers: N G d^4 R^2/(8 D^3 n)"
    stages = {side: springs.stages(side) for side in SIDES}
    for side in SIDES:
        if not stages[side]:
            _no_stage(found, springs, side)
            return
    _put_stages(found, stages, unsure, angle, rule)
    _tell(found, "plate.free_play", springs.free_play, angle, "gaps of the springs", given)
    _tell_stops(found, springs, given, angle)
    found.faults += _notes([_plain(entry) for entry in items])


def _no_stage(found: Measured, springs: PlateSprings, side: str) -> None:
    path = "plate.coast_stop_angle" if side == "coast" and springs.stops[0] != springs.stops[1] else "plate.stop_angle"
    shown, first = units.show(springs.stop(side), "angle"), units.show(springs.free_play / 2, "angle")
    rule = f"must lie outside the first spring, which is touched at {first}"
    found.faults.append(
        Fault(path, shown, rule, "count twist from the middle of the free play; measure the gaps again")
    )


def _tell_stops(found: Measured, springs: PlateSprings, given: Values, unsure: float) -> None:
    """Solid springs stop a plate that the hub has not stopped before."""
    for side, key in zip(SIDES, ("plate.stop_angle", "plate.coast_stop_angle"), strict=True):
        bind, hub = springs.bind_angle(side), springs.stops[SIDES.index(side)]
        alike = side == "coast" and springs.stop("drive") == springs.stop("coast")
        if bind < hub and not alike:
            found.quantities[key] = Quantity(bind, DERIVED, bind - unsure, bind + unsure, "solid springs")
        elif side == "coast" and not alike and key not in given:
            found.quantities[key] = Quantity(hub, DERIVED, hub, hub, "stop of the hub, alike on both sides")
        if bind < hub < math.inf and not alike:
            name = springs.first_solid(side).label
            rule = f"lies beyond where the coils of {name} touch on the {side} side, at {units.show(bind, 'angle')}"
            advice = "the plate is taken to stop there; measure free length, wire and coils again"
            found.faults.append(
                Fault(key if key in given else "plate.stop_angle", units.show(hub, "angle"), rule, advice, True)
            )


def _notes(entries: list[dict[str, Any]]) -> Iterator[Fault]:
    advice = 'the answers are about the plate as it is now; a sound one needs condition = "good"'
    for index, entry in enumerate(entries):
        for condition, count in conditions_of(entry).items():
            if words := CONDITION_WORDS.get(condition):
                some = f", {count} of {entry['count']}" if count < entry["count"] else ""
                yield Fault(f"plate.springs[{index}]", "", f"({name_of(index, entry)}{some}) {words}", advice, True)


def _read_points(found: Measured, items: list[dict[str, Any]], given: Values, told: bool) -> None:
    points = []
    for index, entry in enumerate(items):
        lacking = [key for key in ("angle", "torque_loading", "torque_unloading") if key not in entry]
        if not told:
            advice = "read angle and torque going up and coming back down"
            found.faults += [Fault(f"plate.points[{index}].{key}", "", "is missing", advice) for key in lacking]
        if not lacking:
            plain = _plain(entry)
            points.append(Point(index, plain["angle"], plain["torque_loading"], plain["torque_unloading"]))
    if not found.faults:
        found.faults += point_faults(points)
    if not found.faults and not told:
        play = given.get("plate.free_play")
        few = list(few_faults(points))
        unsure = FEW_POINTS_UNSURE if few else POINT_UNSURE
        _tell_of_points(found, curve(points, play.value if play else None), given, unsure)
        found.faults += few


def _tell_of_points(found: Measured, made: Curve, given: Values, unsure: float) -> None:
    rule = "torque wrench: middle of loading and unloading"
    _put_stages(found, {"drive": made.drive, "coast": made.coast}, unsure, 0.0, rule)
    _tell(found, "plate.free_play", made.free_play, unsure * made.free_play, "where the torque begins", given)
    if "plate.hysteresis_full_width" not in given:
        value, low, high = made.hysteresis
        if unsure > POINT_UNSURE:
            low, high = low * (1 - unsure), high * (1 + unsure)
        rule = "torque wrench: loading less unloading, the middle one of all points"
        found.quantities["plate.hysteresis_full_width"] = Quantity(value, DERIVED, low, high, rule)


def _tell(found: Measured, path: str, value: float, away: float, rule: str, given: Values) -> None:
    if path not in given:
        found.quantities[path] = Quantity(value, DERIVED, max(value - away, 0.0), value + away, rule)


def _put_stages(found: Measured, sides: Mapping[str, Any], unsure: float, angle: float, rule: str) -> None:
    """Stages as a file has them; side only where the two differ."""
    both = [[(stage.stiffness, stage.until) for stage in sides[side]] for side in SIDES]
    rows = [(None, row) for row in both[0]] if both[0] == both[1] else [
        (side, row) for side, rows in zip(SIDES, both, strict=True) for row in rows
    ]  # fmt: skip
    for index, (side, (stiffness, until)) in enumerate(rows):
        path = f"plate.stages[{index}]"
        away = unsure * stiffness
        found.quantities[f"{path}.stiffness"] = Quantity(stiffness, DERIVED, stiffness - away, stiffness + away, rule)
        if math.isfinite(until):
            found.quantities[f"{path}.until"] = Quantity(until, DERIVED, until - angle, until + angle, rule)
        if side:
            found.words[f"{path}.side"] = side


def _rate_range(entry: Mapping[str, Any]) -> float:
    """Half range of a rate over its value [-], from the ranges written, each by its wider side; squares are added."""
    shares = [power * max(q.high - q.value, q.value - q.low) / q.value for key, power in _POWERS.items()
              if isinstance(q := entry.get(key), Quantity) and q.value]  # fmt: skip
    return math.sqrt(sum(share**2 for share in shares)) or RATE_UNSURE


def preload_words(group: SpringGroup) -> list[str]:
    """What the model makes of a preload, in words."""
    return [
        f"{group.name} sit squeezed by {1e3 * seat.preload:.3g} mm on the {side} side: their torque of "
        f"{group.stiffness * seat.preload / group.pitch_radius:.3g} N m at once is taken as a steep step over "
        f"{math.degrees(STEP * seat.preload / group.pitch_radius):.2g} deg"
        for side in SIDES
        if (seat := group.seat(side)).preload > 0 and group.working
    ]
