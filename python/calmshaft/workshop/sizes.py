"""Sizes that parts and readings of a workshop have, wide: beyond them a reading or its unit is wrong.

Common practice, no source.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from calmshaft import units
from calmshaft.errors import Fault
from calmshaft.quantity import Quantity
from calmshaft.workshop.ranges import Reading, ends, value_of


@dataclass(frozen=True)
class Size:
    """What a reading is of, least and most [SI] that it can be, and what to measure again."""

    kind: str
    low: float
    high: float
    what: str
    again: str

    def holds(self, value: float) -> bool:
        """Whether a value [SI] can be."""
        return self.low <= value <= self.high


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


_CALIPERS = f"measure it with calipers again; {_LOOK}"
SPRING = {
    "wire_diameter": Size("length", 0.5e-3, 16e-3, "no wire of a damper spring",
                          f"measure one wire, not the coil; {_LOOK}"),
    "coil_outer_diameter": Size("length", 3e-3, 0.1, "no coil of a damper spring",
                                f"measure across the coils, outside to outside; {_LOOK}"),
    "free_length": Size("length", 4e-3, 0.3, "no length of a damper spring",
                        f"measure the spring lying free, out of its window; {_LOOK}"),
}  # fmt: skip
_WINDOW = Size("length", 4e-3, 0.3, "no window of a damper spring", f"measure the window along the spring; {_LOOK}")
_GAP = Size("length", 0.0, 0.03, "no gap at a damper spring", f"measure it with a feeler gauge again; {_LOOK}")
SEAT = {
    "pitch_radius": Size("length", 0.015, 0.4, "none of a damper plate",
                         f"measure from the hub's axis to the spring's; {_LOOK}"),
    **dict.fromkeys(("window_length", "coast_window_length"), _WINDOW),
    **dict.fromkeys(("drive_gap", "coast_gap"), _GAP),
    "preload": Size("length", 0.0, 0.03, "no squeeze of a damper spring",
                    f"measure how much shorter it is in its window than free; {_LOOK}"),
}  # fmt: skip
_SHAFT = Size("length", 0.004, 0.5, "no diameter of such a shaft", f"measure it with a micrometer again; {_LOOK}")
_SHAFT_LENGTH = Size(
    "length", 0.02, 50.0, "no length of such a shaft", "measure it with a tape again; look at its unit"
)
LINE = {
    "engine.bore": Size("length", 0.015, 0.7, "no bore of such an engine", _CALIPERS),
    "engine.stroke": Size("length", 0.015, 1.2, "no stroke of such an engine",
                          f"measure how far a piston moves, end to end; {_LOOK}"),
    "engine.rod_length": Size("length", 0.03, 3.0, "no rod of such an engine",
                              f"measure between the middles of its bores; {_LOOK}"),
    "flywheel.outer_diameter": Size("length", 0.05, 2.5, "no diameter of such a flywheel",
                                    f"measure across it again; {_LOOK}"),
    "shaft.diameter": _SHAFT,
    "shaft.length": _SHAFT_LENGTH,
    "shaft.pieces[].diameter": _SHAFT,
    "shaft.pieces[].length": _SHAFT_LENGTH,
    "propeller.diameter": Size("length", 0.08, 6.0, "no diameter of such a propeller",
                               "measure from the axis to a tip, twice that; look at its unit: mm, m or in"),
    "propeller.pitch": Size("length", 0.03, 9.0, "no pitch of such a propeller",
                            "read the stamp again; look at its unit: mm, m or in"),
}  # fmt: skip
_INCH = 25.4  # [mm]


def size_faults(readings: Mapping[str, Reading], sizes: Mapping[str, Size], prefix: str = "") -> Iterator[Fault]:
    """A fault for each reading that lies beyond its size, by itself or by an end of its range.

    A range alike to both sides has no ends that anybody wrote. `prefix` stands before its key. `[]` is any index.
    """
    for key, reading in readings.items():
        if size := sizes.get(re.sub(r"\[\d+\]", "[]", key)):
            found = [_fault(prefix + key, size, *one) for one in _asked(reading)]
            yield from [fault for fault in found if fault][:1]


def _asked(reading: Reading) -> Iterator[tuple[str, float, str | None]]:
    """Words, value [SI] and text of a reading and of its ends."""
    value, (low, high) = value_of(reading), ends(reading)
    yield "", value, reading.as_written if isinstance(reading, Quantity) else None
    if not math.isclose(value - low, high - value, rel_tol=1e-6):
        yield "the low end of its range ", low, None
        yield "the high end of its range ", high, None


def _fault(path: str, size: Size, which: str, value: float, text: str | None) -> Fault | None:
    """What is wrong with a value or an end; what is not more than zero is told where that matters."""
    if value <= 0 or size.holds(value):
        return None
    low, high, shown = (units.show(one, size.kind) for one in (size.low, size.high, value))
    advice = size.again + (_other_unit(value, text, size) if size.kind == "length" else "")
    return Fault(path, shown, f"{which}is {size.what}: {low} to {high} is usual", advice)


def _other_unit(value: float, text: str | None, size: Size) -> str:
    """What it would be where inches stand for millimetres, or the other way round; nothing where neither fits."""
    for found, meant, written in ((value / _INCH, "mm", "in"), (value * _INCH, "in", "mm")):
        stands = text is None or re.search(rf'(?<![a-z]){written}|"' if written == "in" else written, text)
        if stands and size.low < found < size.high:
            return f"; were {meant} meant where {written} stands, it is {units.show(found, 'length')}"
    return ""
