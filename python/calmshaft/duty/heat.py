"""How warm friction may make a plate: heat over area and convection, a range of ours and no prediction.

A disc that turns in air sheds  h = 0.36 k sqrt(w / nu)  from each face (laminar, free disc; textbooks of heat
transfer, value from memory). A bell housing holds the air and the flywheel stands close by, so half to twice that is
taken. What goes through the hub into the gearbox and by springs and bolts into the flywheel is left out.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from calmshaft.line import Line
from calmshaft.wording import number
from calmshaft.workshop.plate_twist import PlateSprings

CONDUCTIVITY, VISCOSITY = 0.029, 2.0e-5  # [W/(m K)], [m^2/s] of air near 70 C; handbooks, value from memory
HOUSED = (0.5, 2.0)  # [-] times the free disc's; ours
BEYOND_SPRINGS = (1.0, 1.15, 1.3)  # [-] disc over the circle around its springs; common practice, no source
THICKNESS = (0.003, 0.005, 0.010)  # [m] of steel in all discs of a plate; common practice, no source
DISC = 770.0  # [kg/m^4] J = 770 t d^4 of a steel disc: pi 7850 / 32, closed form


@dataclass(frozen=True, slots=True)
class Warming:
    """Temperature over the air around the plate [K], with its low and high; size: what its diameter is taken from."""

    value: float
    low: float
    high: float
    size: str

    def __str__(self) -> str:
        ends = sorted(float(f"{end:.1g}") for end in (self.low, self.high))
        if ends[1] < 1:
            return "warms the plate by less than 1 K (estimate)"
        return (
            f"warms the plate by some {number(ends[0])} to {number(ends[1])} K over the air in the bell housing "
            f"(estimate: convection of a turning disc, half to twice the free one's; size by {self.size})"
        )


def warming(power: float, speed: float, diameter: tuple[float, float, float], size: str) -> Warming:
    """dT = P / (h 2 pi (d/2)^2) of heat [W] at a speed [rad/s]; diameter: low, value, high [m]."""
    convection = 0.36 * CONDUCTIVITY * math.sqrt(speed / VISCOSITY)  # [W/(m^2 K)]
    least, middle, most = (power / (convection * math.pi * d**2 / 2) for d in reversed(diameter))
    return Warming(middle, least / HOUSED[1], most / HOUSED[0], size)


def diameter_of(line: Line, springs: PlateSprings | None) -> tuple[tuple[float, float, float], str]:
    """Low, value and high of the plate's diameter [m], by its springs' circle, else by its hub's inertia."""
    if springs is not None:
        circle = max(2 * group.pitch_radius + group.spring.coil_outer_diameter for group in springs.groups)
        low, value, high = (circle * share for share in BEYOND_SPRINGS)
        return (low, value, high), "the circle of its springs"
    inertia = line.quantities.get("plate.hub_inertia")
    ends = (inertia.low, inertia.value, inertia.high) if inertia else (line.core.plate.hub_inertia,) * 3
    low, value, high = ((max(j, 1e-9) / (DISC * t)) ** 0.25 for j, t in zip(ends, reversed(THICKNESS), strict=True))
    return (low, value, high), "its inertia"
