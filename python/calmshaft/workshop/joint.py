"""A plate bolted to its flywheel, and its spring pockets: what [plate.joint] and [plate.pockets] hold."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from calmshaft import LineError, units
from calmshaft.errors import Fault
from calmshaft.quantity import Quantity
from calmshaft.workshop.bolts import FACE_FRICTION, FRICTIONS, Bolt, Friction, preload, proof_load, slip_torque
from calmshaft.workshop.ranges import Reading
from calmshaft.workshop.threads import thread_named

JOINT, POCKETS = "plate.joint.", "plate.pockets."
# Neither changes what the line does, so their values are no values of the line.
ASIDE = (JOINT, POCKETS)
_NEEDED = {
    "count": "count the bolts that hold the plate on the flywheel",
    "bolt": 'write for instance "M10", "M8 x 1.25" or "3/8-16"',
    "tightening_torque": "write what the wrench was set to; plate bolts of 3/8 in or M10 commonly get 28 to 30 lbf ft "
    "with thread-lock (common practice, no source), the maker's figure comes first",
    "bolt_circle": "measure from bolt to opposite bolt, middle to middle",
}
LEAST_CIRCLE, MOST_CIRCLE = 0.06, 1.0  # [m] common practice, no source
BETWEEN = 2.0  # [-] bolts stand at least so many diameters apart, or no socket goes on; common practice, no source
LEAST_SHEET, MOST_SHEET = 0.5e-3, 12e-3  # [m] common practice, no source


@dataclass(frozen=True)
class Joint:
    """The bolts of a plate. tightening_torque [N m], diameter of the bolt circle [m], face_friction [-].

    grade_known: whether the bolt's grade was given; without it nothing is said about its proof load.
    """

    count: int
    bolt: Bolt
    name: str
    tightening_torque: Reading
    circle: Reading
    friction: Friction
    threads: str
    face_friction: Reading = FACE_FRICTION
    grade_known: bool = True

    @cached_property
    def pull(self) -> Quantity:
        """Of one bolt [N], and its range."""
        return preload(self.bolt, self.tightening_torque, self.friction)

    @cached_property
    def slip(self) -> Quantity:
        """Torque at which the plate slips on the flywheel [N m]; its low end is what the joint holds at least."""
        return slip_torque(self.count, self.pull, self.circle, self.face_friction)

    @property
    def proof(self) -> float:
        """Pull up to which one bolt does not stay longer [N]."""
        return proof_load(self.bolt)


@dataclass(frozen=True)
class Pockets:
    """The sheet that the springs push against: thickness [m], and how many sheets share the push."""

    thickness: Reading
    sheets: int


def joint_of(plate: Mapping[str, Any]) -> Joint | None:
    """The joint of the dict of a [plate] that has been checked; None where it has none. Raises LineError."""
    return joint_from(_flat(plate))


def pockets_of(plate: Mapping[str, Any]) -> Pockets | None:
    """The pockets of the dict of a [plate] that has been checked; None where their sheet is not given."""
    given = _flat(plate)
    if "plate.pockets.sheet_thickness" not in given:
        return None
    return Pockets(given["plate.pockets.sheet_thickness"], given.get("plate.pockets.sheets", 1))


def _flat(plate: Mapping[str, Any]) -> dict[str, Any]:
    from calmshaft.faults import validated
    from calmshaft.schema_paths import flatten

    kept = {key: plate[key] for key in ("joint", "pockets") if key in plate}
    return dict(flatten(validated({"plate": kept})[0]))


def joint_from(given: Mapping[str, Any]) -> Joint | None:
    """The joint from path -> Quantity, word or count. Raises LineError with every fault."""
    entry = {path.removeprefix(JOINT): value for path, value in given.items() if path.startswith(JOINT)}
    if not entry:
        return None
    if faults := [*_missing(entry), *_impossible(entry)]:
        from calmshaft.faults import line_error

        raise line_error(faults)
    diameter, pitch = thread_named(entry["bolt"])
    threads = entry.get("threads")
    return Joint(
        count=entry["count"],
        bolt=Bolt(diameter, pitch, entry.get("grade", "8.8")),
        name=entry["bolt"],
        tightening_torque=entry["tightening_torque"],
        circle=entry["bolt_circle"],
        friction=FRICTIONS[threads] if threads else any_state(),
        threads=threads or "threads dry, oiled or with thread-lock",
        face_friction=entry.get("face_friction", FACE_FRICTION),
        grade_known="grade" in entry,
    )


def faults(given: Mapping[str, Any]) -> list[Fault]:
    """What is missing or cannot be of joint and pockets."""
    found: list[Fault] = []
    try:
        joint_from(given)
    except LineError as error:
        found = [Fault(_in_file(fault.path), fault.value, fault.rule, fault.advice) for fault in error.faults]
    return [*found, *_pocket_faults(given)]


def any_state() -> Friction:
    """Where nobody knows whether the threads were dry, oiled or locked: from the slipperiest to the roughest."""
    states = list(FRICTIONS.values())

    def whole(key: str) -> Quantity:
        ranges = [getattr(state, key) for state in states]
        middle = getattr(FRICTIONS["thread-lock"], key).value
        return Quantity(middle, "estimated", min(one.low for one in ranges), max(one.high for one in ranges))

    return Friction(whole("thread"), whole("head"))


def _in_file(path: str) -> str:
    return path if path.startswith(JOINT) else JOINT + path


def _missing(entry: Mapping[str, Any]) -> Iterator[Fault]:
    for key, advice in _NEEDED.items():
        if key not in entry:
            yield Fault(JOINT + key, "", "is missing", advice)


def _impossible(entry: Mapping[str, Any]) -> Iterator[Fault]:
    diameter = math.nan
    if "bolt" in entry:
        try:
            diameter = thread_named(entry["bolt"])[0]
        except LineError as error:
            yield from (Fault(JOINT + one.path, one.value, one.rule, one.advice) for one in error.faults)
    if "bolt_circle" not in entry:
        return
    circle = entry["bolt_circle"].value
    shown = units.show(circle, "length")
    if not LEAST_CIRCLE <= circle <= MOST_CIRCLE:
        usual = f"{units.show(LEAST_CIRCLE, 'length')} to {units.show(MOST_CIRCLE, 'length')}"
        advice = "measure from bolt to opposite bolt; look at its unit: mm or in"
        yield Fault(f"{JOINT}bolt_circle", shown, f"is no bolt circle of a plate: {usual} is usual", advice)
    elif entry.get("count", 0) * BETWEEN * diameter > math.pi * circle:
        rule = f"of {entry['bolt']} do not fit on a circle of {shown}"
        yield Fault(f"{JOINT}count", str(entry["count"]), rule, "count again; the circle is a diameter, not a radius")


def _pocket_faults(given: Mapping[str, Any]) -> Iterator[Fault]:
    path = f"{POCKETS}sheet_thickness"
    sheet = given.get(path)
    if f"{POCKETS}sheets" in given and sheet is None:
        yield Fault(path, "", "is missing", "measure the sheet beside a spring pocket with a micrometer")
    if sheet is not None and not LEAST_SHEET <= sheet.value <= MOST_SHEET:
        usual = f"{units.show(LEAST_SHEET, 'length')} to {units.show(MOST_SHEET, 'length')}"
        advice = "measure one sheet with a micrometer; look at its unit: mm or in"
        yield Fault(path, units.show(sheet.value, "length"), f"is no sheet of a damper plate: {usual} is usual", advice)
