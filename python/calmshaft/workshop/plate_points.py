"""A plate's curve by a torque wrench: the middle of loading and unloading is elastic, their distance is friction."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from statistics import median

from calmshaft import _core, units
from calmshaft.errors import Fault

STRAIGHT = (
    0.02  # [-] of the largest torque: points nearer to a line than this make no corner; common practice, no source
)
FEWEST = 4  # readings of one side that tell a first stage from a second, and from where the torque begins
_AGAIN = "measure this point again, and the two beside it: always load up to it from zero, unload down to it from above"


@dataclass(frozen=True)
class Point:
    """One reading: angle [rad], torque while loading and unloading [N m]; negative in coast.

    Unloading may end with a torque the other way: near the middle friction is more than the springs.
    """

    index: int
    angle: float
    loading: float
    unloading: float

    @property
    def mean(self) -> float:
        """Elastic torque, away from the middle [N m]."""
        return self._outwards * (self.loading + self.unloading) / 2

    @property
    def width(self) -> float:
        """Loading less unloading [N m]."""
        return self._outwards * (self.loading - self.unloading)

    @property
    def _outwards(self) -> float:
        return math.copysign(1.0, self.angle)


@dataclass(frozen=True)
class Curve:
    """What the readings say: stages of both sides, free_play [rad] and hysteresis_full_width with its range [N m]."""

    drive: tuple[_core.PlateStage, ...]
    coast: tuple[_core.PlateStage, ...]
    free_play: float
    hysteresis: tuple[float, float, float]


def curve(points: Sequence[Point], free_play: float | None = None) -> Curve:
    """Stages through the readings; a side without any is like the other. points: free of faults.

    free_play: whole width where it was measured by itself [rad].
    """
    slack = None if free_play is None else free_play / 2
    sides = {sign: _kept(sorted(_side(points, sign), key=lambda point: abs(point.angle)), slack) for sign in (1, -1)}
    drive, coast = (sides[sign] or sides[-sign] for sign in (1, -1))
    play = drive[0][0] + coast[0][0]
    shift = (drive[0][0] - coast[0][0]) / 2
    widths = [point.width for point in points if point.mean > 0]
    hysteresis = (median(widths), min(widths), max(widths))
    return Curve(_stages(drive, -shift), _stages(coast, shift), play, hysteresis)


def _side(points: Sequence[Point], sign: int) -> list[Point]:
    return [point for point in points if point.angle * sign > 0]


Corner = tuple[float, float]  # angle [rad], torque [N m]


def _kept(points: Sequence[Point], slack: float | None) -> list[Corner]:
    """Corners from the end of the free play to the last reading."""
    if not points:
        return []
    loaded = [(abs(point.angle), point.mean) for point in points if point.mean > 0]
    if slack is None:
        slack = max((abs(point.angle) for point in points if not point.mean > 0), default=None)
    return _straightened([_start(loaded, slack), *loaded], STRAIGHT * loaded[-1][1])


def _start(loaded: Sequence[Corner], slack: float | None) -> Corner:
    """Where torque begins: the last reading without any, or the first line drawn back to zero."""
    if slack is not None or len(loaded) < 2:
        return slack or 0.0, 0.0
    (a, first), (b, second) = loaded[:2]
    return max(a - first * (b - a) / (second - first), 0.0), 0.0


def _straightened(corners: list[Corner], near: float) -> list[Corner]:
    """The fewest of the corners whose lines stay within `near` of all: the farthest one splits, again and again."""
    (a, low), (b, high) = corners[0], corners[-1]
    away = [abs(torque - low - (high - low) * (angle - a) / (b - a)) for angle, torque in corners]
    farthest = max(range(len(corners)), key=away.__getitem__)
    if away[farthest] <= near:
        return [corners[0], corners[-1]]
    return _straightened(corners[: farthest + 1], near)[:-1] + _straightened(corners[farthest:], near)


def _stages(corners: Sequence[Corner], shift: float) -> tuple[_core.PlateStage, ...]:
    lines = list(itertools.pairwise(corners))
    return tuple(
        _core.PlateStage(stiffness=(high - low) / (b - a), until=b + shift if number < len(lines) else math.inf)
        for number, ((a, low), (b, high)) in enumerate(lines, start=1)
    )


def point_faults(points: Sequence[Point]) -> Iterator[Fault]:
    """Readings that no plate can give."""
    for point in points:
        yield from _one(point)
    for sign in (1, -1):
        yield from _row(sorted(_side(points, sign), key=lambda point: abs(point.angle)))
    if not any(point.angle and point.mean > 0 for point in points):
        yield Fault(
            "plate.points", "", "hold no reading with a torque", "read angle and torque at four points at least"
        )


def few_faults(points: Sequence[Point]) -> Iterator[Fault]:
    """A warning for each side that was read, but so seldom that much of its curve is only drawn between readings."""
    for sign, name in ((1, "drive"), (-1, "coast")):
        count = len(_side(points, sign))
        if 0 < count < FEWEST:
            read = "reading" if count == 1 else "readings"
            rule = f"cannot tell a second stage, a preload or how the friction grows: {_drawn(count)}"
            advice = f"read {FEWEST} angles at least, evenly from free play to stop, each going up and coming down"
            yield Fault("plate.points", f"{count} {read} on the {name} side", rule, advice, True)


def _drawn(count: int) -> str:
    if count == 1:
        return "one line is drawn through it from the middle"
    return "the lines between them are all that is known"


def _one(point: Point) -> Iterator[Fault]:
    path = f"plate.points[{point.index}]"
    if point.loading * point.angle < 0:
        rule = f"has another sign than the angle of {units.show(point.angle, 'angle')}"
        yield Fault(f"{path}.torque_loading", units.show(point.loading, "torque"), rule, "in coast write all negative")
    elif point.width < 0:
        rule = f"is more than the {units.show(point.loading, 'torque')} while loading: friction only takes"
        yield Fault(f"{path}.torque_unloading", units.show(point.unloading, "torque"), rule, _AGAIN)


def _row(points: Sequence[Point]) -> Iterator[Fault]:
    for before, after in itertools.pairwise(points):
        path = f"plate.points[{after.index}]"
        if abs(after.angle) - abs(before.angle) < 1e-9:
            shown = units.show(after.angle, "angle")
            yield Fault(f"{path}.angle", shown, "was read twice", "keep the better of the two readings")
        elif after.mean <= before.mean and before.mean > 0:
            rule = (
                f"is, with unloading, no more than at {units.show(before.angle, 'angle')}: "
                "a plate's torque rises with its twist"
            )
            yield Fault(f"{path}.torque_loading", units.show(after.loading, "torque"), rule, _AGAIN)
