"""The plate that stands in the line now: its traits, and which of the limits it misses."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from calmshaft import _core
from calmshaft.line import Line

if TYPE_CHECKING:
    from calmshaft.choosing.search import Search


@dataclass(frozen=True)
class Own:
    """values: traits [SI] in their order, NaN where it has none. missed: keys of the limits that it misses."""

    values: np.ndarray
    missed: tuple[str, ...]


def own_plate(search: Search) -> Own | None:
    """None for a solid drive: it is no plate."""
    line = search.plates.line
    if not line.has_plate:
        return None
    found = search.misses([_core.PreparedLine(line.core)], search.aims.conditions)
    missed = {key for (_, key), row in found.items() if row[0]}
    return Own(_traits(line), tuple(dict.fromkeys(aim.key for aim in search.aims.all if aim.key in missed)))


def _traits(line: Line) -> np.ndarray:
    """By the drive side. A plate of one stage has no second: its stage is both, and has no end before the stop."""
    plate = line.core.plate
    first, last, stop = plate.drive.stages[0], plate.drive.stages[-1], plate.drive.stop_angle
    corner = first.until if len(plate.drive.stages) > 1 else stop
    torque = _core.elastic_torque(plate.drive, plate.free_play, stop) if math.isfinite(stop) else math.nan
    play, friction = plate.free_play, plate.hysteresis_full_width
    return np.array([last.stiffness, first.stiffness, corner, torque, play, friction])
