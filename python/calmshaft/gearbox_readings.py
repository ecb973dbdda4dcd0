"""A gearbox by readings of a line file: drag by a cord, backlash by a dial gauge, inertia by two weights."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from typing import Any

from calmshaft import _core, units
from calmshaft.build_measured import indices
from calmshaft.quantity import Quantity
from calmshaft.workshop import backlash, drag, inertia_by_two_weights, measured, percent
from calmshaft.workshop.gearbox import without_pairs
from calmshaft.workshop.ranges import Reading, need

Fault = _core.Fault
Given = Mapping[str, Any]  # path -> Quantity, word, whole number or list

# Of readings without a range and without a division; common practice, no source.
PULL_UNSURE = 20.0  # [%] warm oil drags more at idle speed than at a slow turn
DIAL_UNSURE = 2e-5  # [m] a hundredth of a millimetre at either stop
RATIO_MAY_DIFFER = 0.02  # [-] teeth counted twice give the same
MOST_BACKLASH = math.radians(5.0)  # [rad] at the input; common practice, no source
TIMES_OFF = 12.0  # [-] five times what the rule of the box may miss; common practice, no source
MOST_DRAG, LEAST_DRAG = 0.25, 0.002  # [-] of the box's torque; common practice, no source


def input_pull(one: Mapping[str, Any], given: Given, part: str) -> tuple[Quantity, ...]:
    """Drag at the input [N m] of a cord round the input, or the output with a gear engaged. Raises LineError."""
    if one.get("shaft", "input") == "input":
        need("ratio" not in one, "ratio", _shown(one, "ratio"), "is for the output only", 'write shaft = "output"')
        return (drag(_unsure(one, "force"), one["radius"]),)
    ratio = one.get("ratio", given.get("gearbox.ahead.ratio"))
    need(ratio is not None, "ratio", "", "is missing for the output", "count input turns for one output turn")
    return (drag(_unsure(one, "force"), one["radius"], ratio),)


def gear_pull(one: Mapping[str, Any], given: Given, part: str) -> tuple[Quantity, ...]:
    """Drag of a free gear at the input [N m] of a cord round that gear. Raises LineError."""
    need("ratio" in one, "ratio", "", "is missing", "count input turns for one turn of the gear that the cord is on")
    return (drag(_unsure(one, "force"), one["radius"], one["ratio"]),)


def dial(one: Mapping[str, Any], given: Given, part: str) -> tuple[Quantity, ...]:
    """Backlash at the input [rad] of a dial gauge on the shaft that is not held. Raises LineError."""
    ratio: Reading = 1.0 if one.get("held", "input") == "output" else _ratio(one, given.get(f"{part}.ratio"))
    found = backlash(_unsure(one, "travel"), one["radius"], ratio)
    rule = f"makes {units.show(found.value, 'angle')} at the input, where teeth leave 0.1 deg to 1 deg"
    advice = "see that the clutch is locked and the other shaft held, rock it gently and read again; look at both units"
    need(found.value < MOST_BACKLASH, "travel", units.show(one["travel"].value, "length"), rule, advice)
    return (found,)


def _ratio(one: Mapping[str, Any], of_pair: Quantity | None) -> Quantity:
    """Input turns for one turn of the shaft with the dial: its own, or that of the pair."""
    own: Quantity | None = one.get("ratio", of_pair)
    if own is None:
        rule = "is missing: the dial is on another shaft than the input"
        need(False, "ratio", "", rule, "count input turns for one turn of that shaft")
    elif of_pair is not None:
        alike = abs(own.value - of_pair.value) <= RATIO_MAY_DIFFER * of_pair.value
        need(alike, "ratio", f"{own.value:.4g}", f"is not the pair's own of {of_pair.value:.4g}", "count both again")
    return own  # type: ignore[return-value]


def two_weights(one: Mapping[str, Any], given: Given, part: str) -> tuple[Quantity, ...]:
    """What always turns with the input [kg m^2], less the pairs that turn along in neutral. Raises LineError."""
    every = inertia_by_two_weights(*(one[key] for key in ("radius", "fall", "mass_1", "time_1", "mass_2", "time_2")))
    refused = given.get("gearbox.unloaded") == []
    pairs = [] if refused else indices(given, "gearbox.unloaded") or [0]  # one is assumed where none is written
    turning = [i for i in pairs if "neutral" in given.get(f"gearbox.unloaded[{i}].turns_in", ("neutral",))]
    inertias = [given.get(f"gearbox.unloaded[{i}].inertia") for i in turning]
    known = [inertia for inertia in inertias if inertia is not None]
    return (without_pairs(every, known, len(inertias) - len(known)),)


def _unsure(one: Mapping[str, Any], key: str) -> Quantity:
    """A reading with its range: as written, else one division of the scale, else what such a tool is usually off."""
    reading: Quantity = one[key]
    if reading.low < reading.high:
        return reading
    if "division" in one:
        return measured(reading.value, one["division"].value)
    return percent(reading.value, PULL_UNSURE) if key == "force" else measured(reading.value, DIAL_UNSURE)


def _shown(one: Mapping[str, Any], key: str) -> str:
    return f"{one[key].value:.4g}" if key in one else ""


def against_the_box(given: Given, made: Mapping[str, Quantity]) -> Iterator[Fault]:
    """Readings that no gearbox of this torque gives, and a pull that looks like kg read as N."""
    carries = _torque(given)
    if carries is None:
        return
    for path, found in made.items():
        if path.rpartition(".")[2] in ("input_drag", "drag"):
            yield from _drag_faults(given, path, found, carries)
        elif path == "gearbox.input_inertia":
            yield from _inertia_faults(given, found, carries)


def _drag_faults(given: Given, path: str, found: Quantity, carries: float) -> Iterator[Fault]:
    key, share = f"{found.as_written}.force", found.value / carries
    rule = f"makes {units.show(found.value, 'torque')} of drag, {100 * share:.2g} % of the box's torque, "
    rule += "where 0.5 to 5 % is usual"
    if share > MOST_DRAG:
        advice = "see that it is in neutral and no brake holds, then read the steady pull again; look at its unit"
        yield Fault(key, units.show(given[key].value, "force"), rule, advice)
    elif share < LEAST_DRAG and path == "gearbox.input_drag":
        advice = "a scale that shows kg is written kgf, one that shows lb lbf; else leave it"
        yield Fault(key, units.show(given[key].value, "force"), rule, advice, True)


def _inertia_faults(given: Given, found: Quantity, carries: float) -> Iterator[Fault]:
    """Far from 0.025 kg m^2 x (torque / 200 N m)^1.5, the rule where it is not known: weights or times are wrong."""
    usual = 0.025 * (carries / 200) ** 1.5
    if not usual / TIMES_OFF <= found.value <= usual * TIMES_OFF:
        rule = f"makes {units.show(found.value, 'inertia')}, where such a box has about {units.show(usual, 'inertia')}"
        advice = "time both falls again from rest, on slow video; look at weights, radius and their units"
        yield Fault("gearbox.two_weights.time_2", units.show(given["gearbox.two_weights.time_2"].value, "time"), rule,
                    advice)  # fmt: skip


def _torque(given: Given) -> float | None:
    """What the box carries [N m]: its own rating, else 1.3 times the engine's."""
    if box := given.get("gearbox.rated_torque"):
        return float(box.value)
    if engine := given.get("engine.rated_torque"):
        return 1.3 * float(engine.value)
    power, speed = given.get("engine.rated_power"), given.get("engine.rated_rpm")
    return 1.3 * float(power.value / speed.value) if power and speed and speed.value > 0 else None
