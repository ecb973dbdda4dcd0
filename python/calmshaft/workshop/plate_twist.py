"""The springs of a damper plate: what each carries at a twist, and the stages that all of them make together.

A spring sits at its pitch radius R in a window. Once the hub has taken up its gap it is squeezed by R times the
further twist, so that N alike springs of rate k turn back with N R F and stiffen the plate by N k R^2. A spring that
is held squeezed by p in its window carries k p at once; that jump is made a steep step over a tenth of p.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Any

from calmshaft import _core
from calmshaft.workshop.springs import Spring

if TYPE_CHECKING:
    from calmshaft.line import Line

STEP = 0.1  # [-] share of the preload's squeeze over which it comes in: eleven times the slope behind it
_SAME = 1e-7  # [rad] corners nearer than this are one
SIDES = ("drive", "coast")


@dataclass(frozen=True)
class Seat:
    """How a spring sits on one side: gap to take up and squeeze when at rest [m], both along the pitch circle."""

    gap: float
    preload: float


@dataclass(frozen=True)
class SpringGroup:
    """Alike springs on one pitch circle. pitch_radius [m]; window_length [m] where measured; condition in a word."""

    name: str
    count: int
    spring: Spring
    pitch_radius: float
    drive: Seat
    coast: Seat
    window_length: float | None = None
    condition: str = "good"
    inside: str | None = None

    @property
    def label(self) -> str:
        """Its name, with its condition where it is not good."""
        return self.name if self.condition == "good" else f"{self.condition} {self.name}"

    @property
    def working(self) -> int:
        """Springs that carry something."""
        return 0 if self.condition == "missing" else self.count

    @property
    def stiffness(self) -> float:
        """Of all of them about the shaft [N m/rad]: N k R^2."""
        return self.working * self.spring.rate * self.pitch_radius**2

    def seat(self, side: str) -> Seat:
        """Its seat on "drive" or "coast"."""
        return self.drive if side == "drive" else self.coast

    def squeeze(self, side: str, beyond: float) -> float:
        """Compression [m] that its force stands for, `beyond` [rad] after its gap is taken up; solid at most."""
        if beyond <= 0:
            return 0.0
        moved, preload = self.pitch_radius * beyond, self.seat(side).preload
        step = STEP * preload
        squeezed = preload + moved if moved >= step else (preload + step) * moved / step
        return min(squeezed, self.spring.travel)

    def ramps(self, side: str, contact: float) -> Iterator[tuple[float, float]]:
        """Twist [rad] and change of stiffness [N m/rad] at each of its corners; `contact`: twist at its first."""
        preload = self.seat(side).preload
        if preload <= 0:
            yield contact, self.stiffness
            return
        yield contact, self.stiffness * (1 + 1 / STEP)
        yield contact + STEP * preload / self.pitch_radius, -self.stiffness / STEP


@dataclass(frozen=True)
class SpringLoad:
    """One spring of a group at a twist: force [N], compression from free [m], largest shear stress [Pa].

    `torque` [N m] is of the whole group; `solid` where its coils touch: more torque goes past the spring then.
    """

    name: str
    count: int
    force: float
    compression: float
    shear_stress: float
    torque: float
    solid: bool


@dataclass(frozen=True)
class PlateSprings:
    """All springs of a plate; twist [rad] from the middle of the free play, positive in drive.

    lash: play of the spline on top of the windows' own [rad], whole width. stops: twist of the hub's stops [rad].
    """

    groups: tuple[SpringGroup, ...]
    lash: float = 0.0
    stops: tuple[float, float] = (math.inf, math.inf)

    @property
    def free_play(self) -> float:
        """Whole width without any spring [rad]."""
        return sum(self._first_touch) + self.lash

    @cached_property
    def _first_touch(self) -> tuple[float, float]:
        """Twist from where the gaps were measured to the first spring, drive and coast [rad]."""
        drive, coast = (
            min((one.seat(side).gap / one.pitch_radius for one in self.groups if one.working), default=0.0)
            for side in SIDES
        )
        return drive, coast

    def contact_angle(self, group: SpringGroup, side: str) -> float:
        """Twist at which a group is first touched on one side [rad]."""
        first = self._first_touch[SIDES.index(side)]
        return group.seat(side).gap / group.pitch_radius - first + self.free_play / 2

    def solid_angle(self, group: SpringGroup, side: str) -> float:
        """Twist at which a group goes solid on one side [rad]; infinite for missing springs."""
        if not group.working:
            return math.inf
        left = group.spring.travel - group.seat(side).preload
        return self.contact_angle(group, side) + left / group.pitch_radius

    def bind_angle(self, side: str) -> float:
        """Twist at which the first group goes solid [rad]: nothing turns further."""
        return min(self.solid_angle(group, side) for group in self.groups)

    def first_solid(self, side: str) -> SpringGroup:
        """The group that goes solid first."""
        return min(self.groups, key=lambda group: self.solid_angle(group, side))

    def stop(self, side: str) -> float:
        """Where the plate is stopped [rad]: by the hub or by solid springs, whichever comes first."""
        return min(self.stops[SIDES.index(side)], self.bind_angle(side))

    def at(self, twist: float) -> list[SpringLoad]:
        """What one spring of each group carries at a twist [rad]; beyond the stop as at the stop."""
        side = "drive" if twist >= 0 else "coast"
        angle = min(abs(twist), self.stop(side))
        return [self._load(group, side, angle) for group in self.groups]

    def _load(self, group: SpringGroup, side: str, angle: float) -> SpringLoad:
        squeezed = group.squeeze(side, angle - self.contact_angle(group, side)) if group.working else 0.0
        force = group.spring.rate * squeezed
        return SpringLoad(
            name=group.name,
            count=group.working,
            force=force,
            compression=squeezed,
            shear_stress=group.spring.shear_stress(force),
            torque=group.working * group.pitch_radius * force,
            solid=group.working > 0 and angle >= self.solid_angle(group, side) - _SAME,
        )

    def torque(self, twist: float) -> float:
        """Of all springs at a twist [rad], friction aside [N m]; positive in drive."""
        return math.copysign(sum(load.torque for load in self.at(twist)), twist)

    def stages(self, side: str) -> list[_core.PlateStage]:
        """The curve of one side as stages from the middle outwards, up to where it is stopped."""
        ramps = sorted(
            ramp
            for group in self.groups
            if group.working
            for ramp in group.ramps(side, self.contact_angle(group, side))
        )
        within = [ramp for ramp in ramps if ramp[0] < self.stop(side) - _SAME]
        slope, stages = 0.0, []
        for index, (_, change) in enumerate(within):
            slope += change
            end = within[index + 1][0] if index + 1 < len(within) else math.inf
            if end - within[index][0] > _SAME:
                stages.append(_core.PlateStage(stiffness=slope, until=end))
        return stages


def plate_springs(of: Line | Mapping[str, Any] | str | Path) -> PlateSprings:
    """The springs of a line's plate, of the dict of a [plate], or of a plate file or its sample's name.

    Raises LineError with every fault, or where the plate is not measured by its springs.
    """
    from calmshaft.faults import Fault, line_error
    from calmshaft.line import load_plate
    from calmshaft.workshop.plate_measured import read_plate

    if isinstance(of, str | Path):
        plate: Any = load_plate(of)
    else:
        plate = of if isinstance(of, Mapping) else of.document.get("plate", {})
    found = read_plate(plate)
    errors = [fault for fault in found.faults if not fault.warning]
    if errors:
        raise line_error(errors)
    if found.springs is None:
        rule = "are not measured: this plate is given by its stages or points"
        raise line_error(
            [Fault("plate.springs", "", rule, "write [[plate.springs]] with what calipers say of each spring")]
        )
    return found.springs
