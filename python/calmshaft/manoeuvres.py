"""What a line is put through: start, stop, run-up and run-down, clutch, crash reversal, loss of load, throttle, fault.

Each manoeuvre is a small frozen value; `schedule(line, at)` writes it as tracks over time, which is all that the
compiled library knows of it. Times are in seconds from the beginning of the history, speeds in rpm of the crank.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, fields
from typing import TYPE_CHECKING, ClassVar

from calmshaft import _core, units
from calmshaft.condition import GEARS, Condition, cylinder_strengths, line_fault

if TYPE_CHECKING:
    from calmshaft.line import Line

RPM = math.tau / 60.0  # [rad/s]
RELEASE_TIME = 0.1  # [s] in which a clutch lets its pressure go; common practice, no source
CLUTCH = "gearbox.clutch"


def idle_rpm(line: Line) -> float:
    """Idle speed of the line's engine [rpm]."""
    return line.quantities["engine.idle_rpm"].value / RPM


@dataclass(frozen=True, kw_only=True, slots=True)
class Manoeuvre:
    """Something that is done to a line over time. `gear` is the one it begins in where the user does not say."""

    gear_at_start: ClassVar[str] = "ahead"

    def __post_init__(self) -> None:
        for field in fields(self):
            value = getattr(self, field.name)
            if isinstance(value, bool) or not isinstance(value, int | float) or field.name == "cylinder":
                continue
            if not (math.isfinite(value) and value >= 0):
                rule = "must be zero or more, in seconds or rpm"
                raise line_fault(f"manoeuvre.{field.name}", value, rule, "write a number such as 1.0")

    def start_rpm(self, line: Line) -> float:
        """Crank speed at the beginning [rpm]."""
        return idle_rpm(line)

    def begins_at(self, line: Line, at: Condition | None) -> Condition:
        """The condition of the first moment, settled before time 0."""
        if at is None:
            return Condition(self.start_rpm(line), self.gear_at_start)
        return at

    def schedule(self, line: Line, at: Condition) -> _core.Schedule:
        """The manoeuvre as tracks over time."""
        raise NotImplementedError


@dataclass(frozen=True, slots=True)
class Hold(Manoeuvre):
    """The governor keeps the speed for `duration` [s]: nothing is done, the line is looked at."""

    duration: float = 2.0

    def schedule(self, line: Line, at: Condition) -> _core.Schedule:
        return _core.Schedule(duration=self.duration)


@dataclass(frozen=True, slots=True)
class _Ramp(Manoeuvre):
    """From `start` to `stop` [rpm] at `rate` [rpm/s], then `hold` [s]; the lever takes the fuelling with it."""

    start: float
    stop: float
    rate: float = 100.0
    hold: float = 0.0

    def __post_init__(self) -> None:
        super(_Ramp, self).__post_init__()
        up = isinstance(self, RunUp)
        if not self.rate > 0:
            raise line_fault("manoeuvre.rate", self.rate, "must be more than zero", "write rpm per second, e.g. 100")
        if self.start == self.stop or (self.stop > self.start) != up:
            where = "above" if up else "below"
            rule = f"must lie {where} the start of {self.start:g} rpm"
            raise line_fault("manoeuvre.stop", self.stop, rule, "or take the other of RunUp and RunDown")

    def start_rpm(self, line: Line) -> float:
        return self.start

    def begins_at(self, line: Line, at: Condition | None) -> Condition:
        """At the start of the ramp, whatever speed the condition names."""
        return (at or Condition(self.start, self.gear_at_start)).with_(rpm=self.start)

    def schedule(self, line: Line, at: Condition) -> _core.Schedule:
        takes = abs(self.stop - self.start) / self.rate
        ramp = [(0.0, self.start * RPM), (takes, self.stop * RPM)]
        return _core.Schedule(duration=takes + self.hold, speed=ramp)


@dataclass(frozen=True, slots=True)
class RunUp(_Ramp):
    """Mean speed from `start` up to `stop` [rpm] at `rate` [rpm/s], then `hold` [s] there.

    The fuelling gives what the loads and the acceleration ask for on average, and the governor takes out the rest;
    where the fuelling meets its stop, the speed falls behind.
    """


@dataclass(frozen=True, slots=True)
class RunDown(_Ramp):
    """Mean speed from `start` down to `stop` [rpm] at `rate` [rpm/s]; see RunUp."""


@dataclass(frozen=True, slots=True)
class Start(Manoeuvre):
    """The starter turns the crank at `cranking_rpm`, fuel comes at `fires_at` [s], the governor takes it to idle.

    The line turns from the beginning (the first turn from rest is not looked at). The starter lets go at
    `released_at` [s].
    """

    cranking_rpm: float = 200.0
    fires_at: float = 0.5
    released_at: float = 1.5
    duration: float = 4.0
    gear_at_start: ClassVar[str] = "neutral"

    def start_rpm(self, line: Line) -> float:
        return self.cranking_rpm

    def begins_at(self, line: Line, at: Condition | None) -> Condition:
        """At cranking speed, whatever speed the condition names."""
        return (at or Condition(self.cranking_rpm, self.gear_at_start)).with_(rpm=self.cranking_rpm)

    def schedule(self, line: Line, at: Condition) -> _core.Schedule:
        idle = idle_rpm(line) * RPM
        return _core.Schedule(
            duration=self.duration,
            speed=[(0.0, idle)],
            fuel=_step(self.fires_at, 0.0, 1.0),
            starter=_step(self.released_at, 1.0, 0.0),
        )


@dataclass(frozen=True, slots=True)
class Stop(Manoeuvre):
    """Fuel off at `at` [s]; the history ends when every part is at rest, or after `duration` [s]."""

    at: float = 0.5
    duration: float = 20.0
    gear_at_start: ClassVar[str] = "neutral"

    def schedule(self, line: Line, at: Condition) -> _core.Schedule:
        return _core.Schedule(duration=self.duration, fuel=_step(self.at, 1.0, 0.0))


@dataclass(frozen=True, kw_only=True, slots=True)
class _Clutch(Manoeuvre):
    """What the clutch to be engaged does. None: the value of the line file, or its estimate.

    torque: what its plates hold, at the gearbox input, e.g. "400 N*m". fill_time [s]: until they touch.
    ramp_time [s]: until the pressure is full.
    """

    torque: str | None = None
    fill_time: float | None = None
    ramp_time: float | None = None

    def _capacity(self, line: Line) -> float:
        if self.torque is None:
            return line.quantities[f"{CLUTCH}.torque"].value
        try:
            return units.parse(self.torque, "torque")
        except units.UnitError as error:
            raise line_fault("manoeuvre.torque", self.torque, error.rule, error.advice) from None

    def _engagement(self, line: Line, at: float) -> list[tuple[float, float]]:
        fill = line.quantities[f"{CLUTCH}.fill_time"].value if self.fill_time is None else self.fill_time
        ramp = line.quantities[f"{CLUTCH}.ramp_time"].value if self.ramp_time is None else self.ramp_time
        return [(at + fill, 0.0), (at + fill + ramp, self._capacity(line))]


@dataclass(frozen=True, slots=True)
class Engage(_Clutch):
    """From neutral into `gear` ("ahead" or "astern"), the lever moved at `at` [s]; shaft and propeller stand."""

    gear: str = "ahead"
    at: float = 0.5
    duration: float = 4.0
    gear_at_start: ClassVar[str] = "neutral"

    def schedule(self, line: Line, at: Condition) -> _core.Schedule:
        if at.gear != "neutral":
            raise line_fault("gear", at.gear, "an engagement begins in neutral", 'write at=Condition(..., "neutral")')
        engage = self._engagement(line, self.at)
        return _core.Schedule(duration=self.duration, engages=_gear(self.gear), engage=engage)


@dataclass(frozen=True, slots=True)
class CrashReversal(_Clutch):
    """Out of the gear that the line is in at `at` [s], `pause` [s] between the gears, then into the other one.

    The boat is not part of the line: the propeller is held back by its own torque law only, as in still water.
    """

    at: float = 0.5
    pause: float = 0.5
    duration: float = 5.0

    def schedule(self, line: Line, at: Condition) -> _core.Schedule:
        if at.gear == "neutral":
            raise line_fault("gear", at.gear, "a crash reversal begins in gear", 'write at=Condition(..., "ahead")')
        full = line.quantities[f"{CLUTCH}.torque"].value
        return _core.Schedule(
            duration=self.duration,
            engages=_gear("astern" if at.gear == "ahead" else "ahead"),
            release=[(self.at, full), (self.at + RELEASE_TIME, 0.0)],
            engage=self._engagement(line, self.at + self.pause),
        )


@dataclass(frozen=True, slots=True)
class LoadLoss(Manoeuvre):
    """The propeller carries `left` [-] of its torque from `at` [s] for `duration` [s], then all; `after` [s] more."""

    at: float = 0.5
    duration: float = 2.0
    left: float = 0.0
    after: float = 2.0

    def schedule(self, line: Line, at: Condition) -> _core.Schedule:
        back = self.at + self.duration
        load = [*_step(self.at, 1.0, self.left), *_step(back, self.left, 1.0)]
        return _core.Schedule(duration=back + self.after, load=load)


@dataclass(frozen=True, slots=True)
class ThrottleStep(Manoeuvre):
    """The lever goes to `rpm` at `at` [s], within `over` [s]; `after` [s] more."""

    rpm: float
    at: float = 0.5
    over: float = 0.2
    after: float = 4.0

    def schedule(self, line: Line, at: Condition) -> _core.Schedule:
        end = self.at + self.over
        speed = [(self.at, at.rpm * RPM), (end, self.rpm * RPM)]
        return _core.Schedule(duration=end + self.after, speed=speed)


@dataclass(frozen=True, slots=True)
class CylinderFault(Manoeuvre):
    """A cylinder fires with `strength` [-] (0: dead) from `dies_at` [s], until `comes_back_at` [s] where given."""

    cylinder: int
    strength: float = 0.0
    dies_at: float = 0.5
    comes_back_at: float | None = None
    duration: float = 4.0

    def schedule(self, line: Line, at: Condition) -> _core.Schedule:
        weak = {**cylinder_strengths(at.misfiring), self.cylinder: self.strength}
        count = len(line.core.engine.firing_angles)
        fault = _step(self.dies_at, 0.0, 1.0)
        if self.comes_back_at is not None:
            fault += _step(self.comes_back_at, 1.0, 0.0)
        strengths = at.with_(misfiring=weak).strengths(count)
        return _core.Schedule(duration=self.duration, fault=fault, faulty_strengths=strengths)


def _step(at: float, before: float, after: float) -> list[tuple[float, float]]:
    return [(at, before), (at, after)]


def _gear(name: str) -> _core.Gear:
    if name not in ("ahead", "astern"):
        raise line_fault("manoeuvre.gear", name, "must be ahead or astern", 'write "ahead" or "astern"')
    return GEARS[name]
