"""Sizes that readings of a workshop have: beyond them a reading or its unit is wrong. Common practice, no source."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from calmshaft import units
from calmshaft.errors import Fault
from calmshaft.workshop.ranges import Reading, value_of


@dataclass(frozen=True)
class Size:
    """What a reading is of, least and most [SI] that it can be, and what to measure again."""

    kind: str
    low: float
    high: float
    what: str
    again: str


_LOOK = "look at its unit: mm or in"
_WEIGH = "weigh it again; look at its unit: kg or lb"
_CLOCK = "time it again, in s"
_WIRE_RADIUS = Size("length", 0.02, 2.0, "no distance of a hanging wire from the axis",
                    f"measure from the axis to one wire again; {_LOOK}")  # fmt: skip
_WIRE_LENGTH = Size("length", 0.2, 15.0, "no length of a hanging wire", f"measure one wire again; {_LOOK}")
_CORD = Size("length", 0.005, 0.5, "no radius that a cord is wound on",
             f"measure from the axis to the middle of the cord again; {_LOOK}")  # fmt: skip
_FORCE = Size("force", 0.2, 2000.0, "no steady pull by hand",
              "read the scale again while it turns; a scale in kg is written kgf, one in lb lbf")  # fmt: skip

HANG = {
    "mass": Size("mass", 0.1, 3000.0, "no weight of such a part", _WEIGH),
    "wire_radius": _WIRE_RADIUS,
    "wire_length": _WIRE_LENGTH,
    "time": Size("time", 0.3, 3600.0, "no time of a swing on wires", f"count more swings and {_CLOCK}"),
}
PULL = {"force": _FORCE, "radius": _CORD}
DIAL = {
    "travel": Size("length", 2e-6, 0.03, "no travel of a dial gauge",
                   "rock the shaft from stop to stop and read it again; look at its unit: mm, in or thou"),
    "radius": Size("length", 0.01, 1.5, "no radius that a dial gauge is set to",
                   f"measure from the axis to the tip of the gauge again; {_LOOK}"),
}  # fmt: skip
WEIGHTS = {
    "radius": _CORD,
    "fall": Size("length", 0.1, 10.0, "no height that a weight falls", f"measure the fall again; {_LOOK}, m or ft"),
    **{f"mass_{n}": Size("mass", 0.05, 200.0, "no weight to let fall", _WEIGH) for n in (1, 2)},
    **{f"time_{n}": Size("time", 0.05, 60.0, "no time of such a fall", f"film the fall and {_CLOCK}") for n in (1, 2)},
}
ROD_SCALES = {
    end: Size("mass", 0.01, 100.0, "no reading under an end of such a rod", _WEIGH) for end in ("big_end", "small_end")
}
ROD_SWING = {
    "edge_to_centre": Size("length", 0.01, 1.0, "no distance from the knife edge to a rod's centre of mass",
                           f"find where the rod balances and measure again; {_LOOK}"),
    "time": HANG["time"],
}  # fmt: skip


def size_faults(readings: Mapping[str, Reading], sizes: Mapping[str, Size]) -> Iterator[Fault]:
    """A fault for each reading, by its key, that lies beyond its size."""
    for key, size in sizes.items():
        if key in readings and not size.low <= value_of(readings[key]) <= size.high:
            low, high = units.show(size.low, size.kind), units.show(size.high, size.kind)
            shown = units.show(value_of(readings[key]), size.kind)
            yield Fault(key, shown, f"is {size.what}: {low} to {high} can be", size.again)
