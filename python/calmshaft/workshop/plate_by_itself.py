"""A plate without the line around it: its curve, its springs, and the corners of the curve by name."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from calmshaft import _core, build_parts
from calmshaft.build_line import build
from calmshaft.faults import Fault, line_error
from calmshaft.quantity import Quantity
from calmshaft.workshop.joint import Joint, Pockets, joint_of, pockets_of
from calmshaft.workshop.plate_measured import read_plate
from calmshaft.workshop.plate_twist import PlateSprings


@dataclass(frozen=True)
class Corner:
    """Where the curve bends: twist from the middle of the free play [rad], positive in drive; torque [N m]; why."""

    twist: float
    torque: float
    words: str


@dataclass(frozen=True)
class PlateAlone:
    """A plate as the calculation takes it. quantities: path -> Quantity of what follows from springs or points.

    springs: where it was measured by them. warnings: Faults that do not stop it. joint and pockets: where given.
    """

    title: str
    core: _core.Plate
    quantities: Mapping[str, Quantity]
    springs: PlateSprings | None
    warnings: tuple[Fault, ...]
    joint: Joint | None = None
    pockets: Pockets | None = None

    def torque(self, twist: float) -> float:
        """Of the springs at a twist [rad], friction aside [N m]."""
        side = self.core.drive if twist >= 0 else self.core.coast
        return math.copysign(_core.elastic_torque(side, self.core.free_play, abs(twist)), twist)

    def stop(self, side: str) -> float:
        """Where it is stopped [rad], infinite where that was not measured."""
        return float(getattr(self.core, side).stop_angle)

    def corners(self, side: str) -> list[Corner]:
        """From the middle outwards, the stop last."""
        sign = 1.0 if side == "drive" else -1.0
        named = [(twist, words) for twist, words in self._named(side) if twist < self.stop(side) - 1e-7]
        if math.isfinite(self.stop(side)):
            named.append((self.stop(side), self._stop_words(side)))
        return [Corner(sign * twist, self.torque(sign * twist), words) for twist, words in named]

    def _named(self, side: str) -> Iterator[tuple[float, str]]:
        if self.springs is None:
            yield self.core.free_play / 2, "free play ends"
            for stage in getattr(self.core, side).stages[:-1]:
                yield stage.until, "next stage begins"
            return
        touched: dict[float, list[str]] = {}
        for group in self.springs.groups:
            if group.working:
                words = group.label + (", squeezed," if group.seat(side).preload > 0 else "")
                touched.setdefault(round(self.springs.contact_angle(group, side), 9), []).append(words)
        for twist in sorted(touched):
            yield twist, f"{' and '.join(touched[twist])} touched"

    def _stop_words(self, side: str) -> str:
        if self.springs is None or self.springs.bind_angle(side) > self.stop(side):
            return "hub on its stop"
        return f"{self.springs.first_solid(side).label} solid"


def plate_alone(plate: Mapping[str, Any], where: Callable[[str], str] = lambda path: "") -> PlateAlone:
    """The dict of a [plate] understood by itself; where: "file:line: " for a path.

    Raises LineError with every fault of the plate.
    """
    built = build({"plate": dict(plate)})
    measured = read_plate(plate)
    errors = [fault for fault in built.faults if fault.path.startswith("plate") and not fault.warning]
    if not errors and built.values.get("plate.kind") == "rigid":
        errors = [
            Fault("plate", "", "is a solid drive: there is no curve", "give [[plate.springs]] or [[plate.stages]]")
        ]
    if errors:
        raise line_error(errors, where)
    return PlateAlone(
        title=plate.get("title", "plate"),
        core=build_parts.plate(built.values),
        quantities=measured.quantities,
        springs=measured.springs,
        warnings=tuple(fault for fault in measured.faults if fault.warning),
        joint=joint_of(plate),
        pockets=pockets_of(plate),
    )
