"""What a large sweep would take, and the refusal to begin one unasked."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from calmshaft.condition import line_fault
from calmshaft.results import blank_table

MOST_POINTS = 200_000  # begun without being asked twice
PROBED = 128  # points whose time is measured
BYTES_A_POINT = 2 * sum(values.nbytes for values in blank_table(1).values())  # as a chunk and in the result


@dataclass(frozen=True)
class Cost:
    """Points, time on this machine's cores [s], room on the disk [byte]."""

    points: int
    seconds: float
    room: int

    def words(self) -> str:
        """ "about 1.8 hours on this machine (2 cores) and 2.6 GB"."""
        cores = os.cpu_count() or 1
        return f"about {_time(self.seconds)} on this machine ({cores} cores) and {self.room / 1e9:,.1f} GB"


def refuse_unasked(points: int, seconds_of: Callable[[int], float], yes: bool) -> None:
    """Raises LineError for more than MOST_POINTS points without `yes`. seconds_of: time of so many points [s]."""
    if points <= MOST_POINTS or yes:
        return
    cost = Cost(points, seconds_of(PROBED) * points / PROBED, points * BYTES_A_POINT)
    rule = f"more than {MOST_POINTS:,} are begun only when told so; they would take {cost.words()}"
    raise line_fault("the sweep", f"{points:,} points", rule, "take fewer values, or tell it yes=True (--yes)")


def refuse_no_room(points: int, folder: Path) -> None:
    """Raises LineError where `points` more points do not fit on the folder's disk."""
    needed, free = points * BYTES_A_POINT, shutil.disk_usage(folder).free
    if needed > free:
        rule = f"{points:,} points need about {_size(needed)} there, and {_size(free)} are free"
        raise line_fault("out", str(folder), rule, "make room, or write to another disk")


def _size(count: int) -> str:
    return f"{count / 1e9:,.1f} GB" if count >= 1e9 else f"{count / 1e6:,.1f} MB"


def _time(seconds: float) -> str:
    for size, word in ((86400.0, "days"), (3600.0, "hours"), (60.0, "minutes")):
        if seconds >= 2 * size:
            return f"{seconds / size:,.0f} {word}"
    return f"{seconds:.0f} s"
