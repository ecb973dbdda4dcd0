"""What a plate has to do for a line: limits, each with the conditions that it is held to."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from calmshaft import _core
from calmshaft.condition import Condition, line_fault
from calmshaft.judgement.entered import ENTERED, Entered, allowed_words, band_words, value_in_sweep
from calmshaft.judgement.over_speed import ABOVE_IDLE
from calmshaft.judgement.rules import SEPARATED_LIMIT
from calmshaft.line import Line
from calmshaft.linear.critical import critical_speeds
from calmshaft.quantity import Quantity
from calmshaft.runs import cylinders
from calmshaft.wording import number

if TYPE_CHECKING:
    import xarray as xr

RPM = math.pi / 30.0  # [rad/s]
FULL_TORQUE = 1.1  # [-] times rated torque, at which the stop is not met
STEPS_UNDER_WAY = 8  # speeds from 1.2 idle to rated speed, evenly in the logarithm
NEUTRAL, IDLE, WAY, STOP = "neutral", "idle", "under way", "stop"
_NOT_OVER_SPEED = ("shaft torque", "shaft stress")  # a sweep does not give them


@dataclass(frozen=True)
class Aim:
    """One limit. value: what a table of one condition gives by plate; limit: the most there may be [SI]."""

    key: str
    words: str
    conditions: tuple[Condition, ...]
    value: Callable[[xr.Dataset], xr.DataArray]
    limit: float


@dataclass(frozen=True)
class Aims:
    """All limits of a line. left_out: what could not be worked to, and why."""

    all: tuple[Aim, ...]
    left_out: tuple[str, ...]

    @property
    def conditions(self) -> tuple[Condition, ...]:
        """Every condition once, in the order of the limits."""
        return tuple(dict.fromkeys(at for aim in self.all for at in aim.conditions))

    def at(self, condition: Condition) -> list[Aim]:
        """What is held to this condition."""
        return [aim for aim in self.all if condition in aim.conditions]


def aims_of(line: Line) -> Aims:
    """No rattle in neutral at idle, no teeth apart ahead at idle and under way, no stop at 1.1 x full torque, [limits].

    Raises LineError where the line has no plate to choose or cannot be asked ahead.
    """
    idle, rated = (line.quantities[f"engine.{key}_rpm"].value / RPM for key in ("idle", "rated"))
    torque = line.quantities["engine.rated_torque"].value
    _refuse(line, Condition(idle))
    ahead, neutral = Condition(round(idle, 3)), Condition(round(idle, 3), "neutral")
    way = tuple(Condition(rpm) for rpm in speeds_under_way(line, idle, rated))
    full = Condition(round(rated, 3), load=f"{FULL_TORQUE * torque!r} N*m")
    share = number(100 * SEPARATED_LIMIT)
    apart, free = _measure("mesh_separated_share"), _measure("unloaded_mesh_separated_share")
    made = [
        Aim(IDLE, f"ahead at idle, {number(idle)} rpm, all cylinders firing: gear teeth apart no more than {share} % "
            "of the time", (ahead,), apart, SEPARATED_LIMIT),
        Aim(WAY, f"ahead from {number(ABOVE_IDLE)} x idle to rated speed, {number(way[0].rpm)} to {number(rated)} rpm: "
            f"gear teeth apart no more than {share} % of the time", way, apart, SEPARATED_LIMIT),
        Aim(STOP, f"at {FULL_TORQUE} x full torque, {number(FULL_TORQUE * torque)} N m at {number(rated)} rpm: the "
            "stop is not met", (full,), _measure("plate_stop_share"), 0.0),
    ]  # fmt: skip
    left = []
    if _rattles(line):
        made.insert(0, Aim(NEUTRAL, f"in neutral at idle, {number(idle)} rpm: unloaded gear pairs apart no more than "
                           f"{share} % of the time", (neutral,), free, SEPARATED_LIMIT))  # fmt: skip
    else:
        left.append("quiet neutral: not judged, no unloaded gear pair turns along in neutral")
    for key, limit in line.limits.items():
        one = ENTERED[key]
        if one.how in _NOT_OVER_SPEED or (one.how == "over rated torque" and _rating_unknown(line)):
            left.append(f"{one.subject}: not judged here, see `calmshaft compare`")
            continue
        own = list(_entered_aims(line, key, limit, (ahead, *way)))
        made += own
        left += [] if own else [f"{one.subject}: not judged here, none of its speeds is looked at"]
    return Aims(tuple(made), tuple(left))


def _entered_aims(line: Line, key: str, limit: Quantity, conditions: tuple[Condition, ...]) -> Iterator[Aim]:
    """One for each range of speed that the limit has, with the conditions in it."""
    one = ENTERED[key]
    for band in limit.everywhere:
        inside = tuple(at for at in conditions if limit.at_speed(at.rpm * RPM) == band)
        words = " ".join(
            filter(None, (f"{one.subject} no more than {allowed_words(one, band.value)}", band_words(band)))
        )
        if inside:
            yield Aim(key, f"{words} ({band.document})", inside, _entered(one, line), band.value)


def speeds_under_way(line: Line, idle: float, rated: float) -> list[float]:
    """Speeds [rpm] from 1.2 idle to rated, with the critical ones of the line as it stands between them."""
    first = ABOVE_IDLE * idle
    if first >= rated:
        return [round(rated, 3)]
    critical = [one.rpm for one in critical_speeds(line) if first < one.rpm < rated]
    return sorted({round(float(rpm), 1) for rpm in [*np.geomspace(first, rated, STEPS_UNDER_WAY), *critical]})


def _measure(name: str) -> Callable[[xr.Dataset], xr.DataArray]:
    return lambda table: table[name]


def _entered(one: Entered, line: Line) -> Callable[[xr.Dataset], xr.DataArray]:
    return lambda table: value_in_sweep(one, line, table)


def _rattles(line: Line) -> bool:
    return any(pair.turns_in_neutral for pair in line.core.gearbox.unloaded)


def _rating_unknown(line: Line) -> bool:
    rated = line.quantities.get("gearbox.rated_torque")
    return rated is None or rated.source == "estimated"


def _refuse(line: Line, at: Condition) -> None:
    if not (line.has_plate or line.core.plate.rigid):
        advice = "leave that connection out of the table, then a plate can stand there"
        raise line_fault("mass_elastic", line.title, "holds a coupling in the plate's place", advice)
    faults = [fault for fault in _core.check(line.core, at.core(cylinders(line))) if not fault.warning]
    if faults:
        from calmshaft.faults import line_error

        raise line_error(faults)


def missed(aims: Sequence[Aim], table: xr.Dataset) -> np.ndarray:
    """(aim, plate): whether the limit is missed; True where there is no steady result or no value."""
    solved = (table["status"].values >= 0) & (table["status"].values <= 2)
    return np.array([~solved | ~(aim.value(table).values <= aim.limit) for aim in aims])
