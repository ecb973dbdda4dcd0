"""On which stage of its curve a plate is for how long, and how often it hits a stop."""

from __future__ import annotations

import math

import numpy as np

from calmshaft.line import Line
from calmshaft.workshop.plate_by_itself import PlateAlone

SIDES = ("drive", "coast")
FREE_PLAY = "free play"


def alone(line: Line) -> PlateAlone:
    """The plate of a line as the calculation has it, with its springs where they were measured."""
    from calmshaft.workshop.plate_measured import read_plate  # the schema takes longer to load than the rest

    plate = line.document.get("plate", {})
    springs = read_plate(plate).springs if plate.get("springs") else None
    return PlateAlone(plate.get("title", "plate"), line.core.plate, {}, springs, ())


def bands(plate: PlateAlone) -> tuple[list[float], list[str]]:
    """Edges [rad], rising from coast to drive, and the name of each band between them, one more than edges."""
    sides = {side: _side(plate, side) for side in SIDES}
    coast, drive = sides["coast"], sides["drive"]
    edges = [-twist for twist, _ in reversed(coast)] + [twist for twist, _ in drive]
    return edges, [*(name for _, name in reversed(coast)), FREE_PLAY, *(name for _, name in drive)]


def _side(plate: PlateAlone, side: str) -> list[tuple[float, str]]:
    """Twist [rad] from which each band of one side begins, from the middle outwards."""
    stop, found = plate.stop(side), []
    for place, corner in enumerate(plate.corners(side), 1):
        twist = abs(corner.twist)
        if twist == stop:
            name = f"{side}, {'springs solid' if corner.words.endswith('solid') else 'on the stop'}"
        elif plate.springs is None:
            name = f"{side}, stage {place}"
        else:
            name = f"{side}, {corner.words.removesuffix(' touched').removesuffix(', squeezed,')}"
        found.append((twist, name))
    return found


def shares(plate: PlateAlone, twist: np.ndarray, time: np.ndarray) -> dict[str, float]:
    """Share of time [-] in each band of a record (samples,) of twist [rad] over time [s]; they add up to 1."""
    edges, names = bands(plate)
    middle, lasted = 0.5 * (twist[1:] + twist[:-1]), np.diff(time)
    spent = np.bincount(np.searchsorted(edges, middle), lasted, minlength=len(names))
    return {name: float(part) for name, part in zip(names, spent / lasted.sum(), strict=True)}


def stop_hits(plate: PlateAlone, twist: np.ndarray) -> dict[str, int]:
    """How often the plate comes upon each stop in a record; one that begins on the stop counts where it ends off it."""
    found = {}
    for side, sign in (("drive", 1.0), ("coast", -1.0)):
        on = sign * twist >= plate.stop(side) if math.isfinite(plate.stop(side)) else np.zeros(twist.shape, bool)
        found[side] = int(np.count_nonzero(on[1:] & ~on[:-1]))
    return found
