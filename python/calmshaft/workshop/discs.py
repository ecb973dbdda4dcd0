"""A flywheel, wheel or flange cut into discs: mass and moment of inertia of a stack with bores and holes."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache

from calmshaft import _core
from calmshaft.quantity import Quantity
from calmshaft.workshop.ranges import Reading, need, need_positive, propagate, size, value_of

# lowest, usual, highest [kg/m^3]; value from memory: Marks' Handbook
DENSITIES = {
    "steel": (7700.0, 7850.0, 7900.0),
    "stainless": (7700.0, 7900.0, 8000.0),
    "grey iron": (7000.0, 7200.0, 7350.0),
    "ductile iron": (7000.0, 7100.0, 7200.0),
    "aluminium": (2640.0, 2700.0, 2830.0),
    "bronze": (7500.0, 8200.0, 8900.0),
    "nickel-copper": (8600.0, 8800.0, 8900.0),
}


@dataclass(frozen=True)
class Holes:
    """A ring of round holes right through a disc: their number, diameter [m] and the circle's diameter [m]."""

    count: int
    diameter: Reading
    circle: Reading


@dataclass(frozen=True)
class Disc:
    """One disc or ring of a stack, all round one axis: diameters and thickness [m], density [kg/m^3] or a material."""

    outer_diameter: Reading
    thickness: Reading
    bore: Reading = 0.0
    material: str = "steel"
    density: Reading | None = None
    holes: tuple[Holes, ...] = ()

    def readings(self) -> list[Reading]:
        """Diameter, thickness, bore, density, then diameter and circle of each ring of holes [SI]."""
        density = density_of(self.material) if self.density is None else self.density
        holes = [reading for ring in self.holes for reading in (ring.diameter, ring.circle)]
        return [self.outer_diameter, self.thickness, self.bore, density, *holes]


@cache  # one object for one metal: its error is the same in every disc
def density_of(material: str) -> Quantity:
    """Usual density of a metal and its range [kg/m^3]. Raises LineError for an unknown name."""
    if material not in DENSITIES:
        near = _core.near_matches(material, list(DENSITIES)) or sorted(DENSITIES)
        need(False, "material", f'"{material}"', "is not one of the metals", f"write {' or '.join(near)}, or a density")
    low, usual, high = DENSITIES[material]
    return Quantity(usual, "estimated", low, high, rule="material")


def discs_mass(discs: Sequence[Disc]) -> Quantity:
    """Mass of a stack [kg] and its range. Raises LineError where a disc cannot be."""
    return _summed(discs, _mass)


def discs_inertia(discs: Sequence[Disc]) -> Quantity:
    """Moment of inertia of a stack about its axis [kg m^2] and its range. Raises LineError where a disc cannot be."""
    return _summed(discs, _inertia)


def _summed(discs: Sequence[Disc], of_one: Callable[[list[float], list[int]], float]) -> Quantity:
    """Every reading is off on its own, the density of one metal in all its discs alike."""
    need(len(discs) > 0, "discs", "an empty list", "needs at least one disc", "give outer_diameter and thickness")
    counts = [[ring.count for ring in disc.holes] for disc in discs]
    lists = [disc.readings() for disc in discs]
    for index, disc in enumerate(discs):
        _check(disc, f"discs[{index}]")
    sizes = [len(readings) for readings in lists]

    def total(*flat: float) -> float:
        parts = iter(flat)
        return sum(of_one([next(parts) for _ in range(size)], rings) for size, rings in zip(sizes, counts, strict=True))

    return propagate(total, *(reading for readings in lists for reading in readings))


def _check(disc: Disc, name: str) -> None:
    outer, thickness, bore, density, *holes = (value_of(reading) for reading in disc.readings())
    need_positive(**{f"{name}.outer_diameter": outer, f"{name}.thickness": thickness, f"{name}.density": density})
    need(0 <= bore < outer, f"{name}.bore", size(bore), f"must be smaller than {size(outer)}", "look at both")
    for hole, circle in zip(holes[::2], holes[1::2], strict=True):
        inside = hole > 0 and bore <= circle - hole and circle + hole <= outer
        between = f"must lie between bore {size(bore)} and rim {size(outer)}"
        need(inside, f"{name}.holes", size(circle), between, "circle is the diameter that their centres stand on")


def _mass(readings: list[float], rings: list[int]) -> float:
    """m = pi/4 rho t (D^2 - d^2 - sum of n h^2)"""
    outer, thickness, bore, density, *holes = readings
    gone = sum(count * hole**2 for count, hole in zip(rings, holes[::2], strict=True))
    return math.pi / 4 * density * thickness * (outer**2 - bore**2 - gone)


def _inertia(readings: list[float], rings: list[int]) -> float:
    """J = pi/32 rho t (D^4 - d^4) - sum of n m_h (h^2/8 + c^2/4), m_h the metal of one hole"""
    outer, thickness, bore, density, *holes = readings
    metal = math.pi / 4 * density * thickness
    pairs = zip(rings, holes[::2], holes[1::2], strict=True)
    gone = sum(count * metal * hole**2 * (hole**2 / 8 + circle**2 / 4) for count, hole, circle in pairs)
    return metal / 8 * (outer**4 - bore**4) - gone
