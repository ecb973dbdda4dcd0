"""One linear view of both: a chain as it stands, a line at the mean torque of a condition."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from calmshaft import _core
from calmshaft.condition import Condition, line_fault
from calmshaft.line import Line
from calmshaft.linear.chains import Chain, core_line
from calmshaft.runs import cylinders, prepared


@dataclass(frozen=True, eq=False)
class LinearView:
    """Stations and joints of a linear line, with their names.

    speed_ratios: own speed over the first station's [-] (station,). kinds of the joints: "spring", "gear pair",
    "plate", "loaded mesh" or "unloaded mesh". mean_torque [N m] and mean_twist [rad] (joint,) about which it is
    linearised, at the joint's first station; zero for a chain.
    """

    core: _core.LinearLine
    stations: tuple[str, ...]
    speed_ratios: np.ndarray
    joints: tuple[str, ...]
    kinds: tuple[str, ...]
    mean_torque: np.ndarray
    mean_twist: np.ndarray

    @cached_property
    def ends(self) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        """First and second station of every joint, and its ratio: twist = angle(first) - ratio * angle(second)."""
        return self.core.from_station, self.core.to_station, self.core.ratio

    def twist(self, angle: np.ndarray) -> np.ndarray:
        """Twist of every joint (..., joint) [rad] from angles (..., station) [rad]."""
        first, second, ratio = self.ends
        return angle[..., first] - ratio * angle[..., second]

    def station(self, name: int | str) -> int:
        """Number of a station given by number or name. Raises LineError."""
        if isinstance(name, str) and name in self.stations:
            return self.stations.index(name)
        if not isinstance(name, str) and 0 <= int(name) < len(self.stations):
            return int(name)
        near = _core.near_matches(str(name), list(self.stations)) or list(self.stations)
        raise line_fault("station", name, "is not a station", f"write {' or '.join(near)}, or its number from 0")


def linear_view(subject: Chain | Line, at: Condition | None) -> LinearView:
    """The view of a chain (`at` must be None) or of a line at a condition. Raises LineError."""
    if isinstance(subject, Chain):
        return _of_chain(subject, at)
    if not isinstance(subject, Line):
        raise TypeError(f"a Chain or a Line is needed, not {type(subject).__name__}")
    if at is None:
        raise line_fault("at", None, "a line is linearised at a condition", "write at=cs.Condition(800)")
    found = _core.linearised(prepared(subject), at.core(cylinders(subject)))
    return LinearView(
        core=found["line"],
        stations=tuple(found["stations"]),
        speed_ratios=np.array(found["speed_ratios"]),
        joints=tuple(found["joints"]),
        kinds=tuple(found["kinds"]),
        mean_torque=np.array(found["mean_torque"]),
        mean_twist=np.array(found["mean_twist"]),
    )


def _of_chain(one: Chain, at: Condition | None) -> LinearView:
    if at is not None:
        raise line_fault("at", at, "a chain is linear at any speed", "leave it out")
    joints = [_joint_name(one, index) for index in range(len(one.stiffnesses))]
    nothing = np.zeros(len(joints))
    return LinearView(
        core=core_line(one),
        stations=one.names,
        speed_ratios=np.array(one.speed_ratios or (1.0,) * len(one.inertias)),
        joints=tuple(joints),
        kinds=tuple("gear pair" if stiffness is None else "spring" for stiffness in one.stiffnesses),
        mean_torque=nothing,
        mean_twist=nothing,
    )


def _joint_name(one: Chain, index: int) -> str:
    """ "0-1" of unnamed stations, "crank-flywheel" of named ones."""
    first, second = (name.removeprefix("station ") for name in one.names[index : index + 2])
    return f"{first}-{second}"
