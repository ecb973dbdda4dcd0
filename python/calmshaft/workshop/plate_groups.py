"""From the [[plate.springs]] of a file to groups of springs, and what cannot be true of them."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any

from calmshaft.errors import Fault, LineError
from calmshaft.workshop.plate_twist import Seat, SpringGroup
from calmshaft.workshop.sizes import SEAT, size_faults
from calmshaft.workshop.springs import Spring, mm

Entry = Mapping[str, Any]  # keys of one [[plate.springs]] -> SI values, words, counts

MOST_GROUPS = 6  # two corners each on either side; the compiled plate holds twenty-four
NEEDED = {
    "count": "count these springs",
    "wire_diameter": "measure one wire with calipers or a micrometer",
    "coil_outer_diameter": "measure across the coils, outside to outside",
    "free_length": "take the spring out of its window and measure it lying free",
    "pitch_radius": "measure from the axis of the hub to the axis of the spring",
}
# What a condition does; common practice, no source.
LOOSE_GAP = 1e-3  # [m] more gap where a loose spring's own is not measured
RUSTED = 0.95  # [-] of the wire is left in a corroded spring
BROKEN_COILS = 1.0  # [-] coil lost in a break
CONDITION_WORDS = {
    "loose": f"is loose: no preload is left, and a gap not measured is {mm(LOOSE_GAP)} more than its window leaves",
    "broken": "is broken: one coil less works and its length is missing, so it is stiffer, keeps no "
    "preload that this takes, and is touched later where its gap was not measured",
    "missing": "is missing: it carries nothing, and the plate is out of balance",
    "corroded": "is corroded: the wire is taken a twentieth thinner, which takes a fifth of the rate",
}


def name_of(index: int, entry: Entry) -> str:
    """As its builder calls it, else by number."""
    return str(entry.get("name", f"springs {index + 1}"))


def conditions_of(entry: Entry) -> dict[str, int]:
    """How many springs of an entry are in each condition."""
    if entry.get("condition") == "mixed":
        return dict(Counter(entry["conditions"]))
    return {entry.get("condition", "good"): entry["count"]}


def groups_of(index: int, entry: Entry) -> list[SpringGroup]:
    """One group for each condition. Raises LineError with the faults of its spring, keys of the file in their paths."""
    faults = list(_entry_faults(entry, f"plate.springs[{index}]."))
    if faults:
        error = LineError("")
        error.faults = tuple(faults)
        raise error
    return [_group(index, entry, condition, count) for condition, count in conditions_of(entry).items()]


def _group(index: int, entry: Entry, condition: str, count: int) -> SpringGroup:
    spring = _worn(spring_of(entry), condition)
    drive, coast = (_seat(entry, spring, side, condition) for side in ("drive", "coast"))
    return SpringGroup(
        name=name_of(index, entry),
        count=count,
        spring=spring,
        pitch_radius=entry["pitch_radius"],
        drive=drive,
        coast=coast,
        window_length=entry.get("window_length"),
        condition=condition,
        inside=entry.get("inside"),
    )


def spring_of(entry: Entry) -> Spring:
    """The spring as it was measured. Raises LineError."""
    keys = ("wire_diameter", "coil_outer_diameter", "free_length", "active_coils", "total_coils", "ends", "material")
    return Spring(**{key: entry[key] for key in keys if key in entry})


def _worn(spring: Spring, condition: str) -> Spring:
    if condition == "corroded":
        return replace(spring, wire_diameter=RUSTED * spring.wire_diameter)
    if condition == "broken" and spring.coils > 1 + BROKEN_COILS:
        pitch = spring.wire_diameter + spring.travel / spring.coils  # lead of one coil
        total = spring.coils - BROKEN_COILS + 2.0
        return replace(
            spring, active_coils=spring.coils - BROKEN_COILS, total_coils=total, free_length=spring.free_length - pitch
        )
    return spring


def _seat(entry: Entry, spring: Spring, side: str, condition: str) -> Seat:
    """Gap and squeeze at rest; a window shorter than the spring squeezes it, a longer one leaves a gap."""
    window = entry.get("window_length")
    if side == "coast":
        window = entry.get("coast_window_length", window)
    lost = entry["free_length"] - spring.free_length  # [m] in a break
    spare = window - spring.free_length if window is not None else lost - entry.get("preload", 0.0)
    gap, preload = max(spare, 0.0), max(-spare, 0.0)
    if not lost:
        preload = entry.get("preload", preload)
    if condition == "loose":
        gap, preload = gap + LOOSE_GAP, 0.0
    return Seat(gap=entry.get(f"{side}_gap", gap), preload=preload)


def _entry_faults(entry: Entry, path: str) -> Iterator[Fault]:
    lacking = [key for key in NEEDED if key not in entry]
    for key in lacking:
        yield Fault(path + key, "", "is missing", NEEDED[key])
    for key in ("drive_gap", "coast_gap", "preload"):
        if entry.get(key, 0.0) < 0:
            yield Fault(path + key, mm(entry[key]), "must not be negative", "measure it with a feeler gauge")
    yield from _condition_faults(entry, path)
    if lacking:
        return
    try:
        spring = spring_of(entry)
    except LineError as error:
        for fault in error.faults:
            yield Fault(path + fault.path, fault.value, fault.rule, fault.advice)
        return
    if found := list(size_faults(entry, SEAT, path)):
        yield from found
        return
    yield from _window_faults(entry, spring, path)
    yield from _circle_faults(entry, path)


def _condition_faults(entry: Entry, path: str) -> Iterator[Fault]:
    """Mixed springs are told one by one, others all at once."""
    each, mixed = entry.get("conditions"), entry.get("condition") == "mixed"
    example = 'write for instance conditions = ["good", "good", "loose", "missing"], a word for each spring'
    if mixed and not each:
        yield Fault(f"{path}conditions", "", "is missing for a mixed condition", example)
    elif each and not mixed:
        yield Fault(f"{path}conditions", ", ".join(each), 'is for condition = "mixed" only', "write one of the two")
    elif each and "count" in entry and len(each) != entry["count"]:
        rule = f"are {len(each)} words for {entry['count']} springs"
        yield Fault(f"{path}conditions", ", ".join(each), rule, example)


def _window_faults(entry: Entry, spring: Spring, path: str) -> Iterator[Fault]:
    for key in ("window_length", "coast_window_length"):
        if key in entry and not entry[key] > spring.solid_length:
            rule = f"is no longer than the solid spring of {mm(spring.solid_length)}"
            advice = "measure the window along the spring, and wire and coils again"
            yield Fault(path + key, mm(entry[key]), rule, advice)
    if not entry.get("preload", 0.0) < spring.travel:
        rule = f"squeezes the spring solid: free to solid are {mm(spring.travel)}"
        yield Fault(
            f"{path}preload", mm(entry["preload"]), rule, "write how much shorter it is in its window than free"
        )


def _circle_faults(entry: Entry, path: str) -> Iterator[Fault]:
    radius, outer = entry["pitch_radius"], entry["coil_outer_diameter"]
    if not radius > outer / 2:
        rule = f"is less than half the coil of {mm(outer)}: the spring would lie over the hub's axis"
        yield Fault(f"{path}pitch_radius", mm(radius), rule, "measure from the hub's axis to the spring's")
    elif (
        entry["count"] * min(entry.get("window_length", entry["free_length"]), entry["free_length"]) > math.tau * radius
    ):
        rule = f"do not fit on a circle of radius {mm(radius)}"
        yield Fault(
            f"{path}count",
            str(entry["count"]),
            rule,
            "count again; springs on another circle are an entry of their own",
        )


def nested_faults(entries: Sequence[Entry]) -> Iterator[Fault]:
    """A spring inside another names it and is thinner than the room within its coils."""
    names = {name_of(index, entry): entry for index, entry in enumerate(entries)}
    for index, entry in enumerate(entries):
        if (outer_name := entry.get("inside")) is None:
            continue
        path, outer = f"plate.springs[{index}].", names.get(outer_name)
        if outer is None or outer is entry:
            yield Fault(f"{path}inside", f'"{outer_name}"', "is no other entry", f"write {' or '.join(names)}")
        elif {"wire_diameter", "coil_outer_diameter"} <= set(outer) and "coil_outer_diameter" in entry:
            room = outer["coil_outer_diameter"] - 2 * outer["wire_diameter"]
            if room > 0 and not entry["coil_outer_diameter"] < room:  # else the outer one's own fault says it
                rule = f"does not fit into {outer_name}, which leaves {mm(room)}"
                value = mm(entry["coil_outer_diameter"])
                yield Fault(f"{path}coil_outer_diameter", value, rule, "measure wire and coil of both again")
