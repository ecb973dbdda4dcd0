"""A propeller that nobody has hung on wires: mass, moment of inertia, and the water that swings along."""

from __future__ import annotations

import math

from calmshaft.quantity import Quantity
from calmshaft.workshop.ranges import Reading, need, need_positive, percent, propagate

SEA_WATER = 1025.0  # [kg/m^3]; fresh water is 1000
# blades -> (C1, C2) of J = (C1 area_ratio P/D - C2) rho D^5
ALL_WAYS = "all ways"
FORMULAS = ("Schwanecke 1963", "regression 2007")  # of published propeller series; they need the area ratio
WAYS = ("pitch rule", *FORMULAS)
AREA_RATIO = (0.2, 1.3)  # [-] of blades that swim; common practice, no source
MISSES = 1.6  # [-] by which factor a way may miss: own strips against the two formulas
REGRESSION = {3: (0.00477, 0.00093), 4: (0.00394, 0.00087), 5: (0.00359, 0.00080)}


def propeller_mass(diameter: Reading, blades: int, material: str = "bronze") -> Quantity:
    """Mass [kg] from the diameter [m], and its range: 26 Z D^3 in bronze, aluminium 0.36 of it, 25 %."""
    need_positive(diameter=diameter, blades=blades)
    need(material in ("bronze", "aluminium"), "material", f'"{material}"', "is not known", "write bronze or aluminium")
    metal = 26 * (0.36 if material == "aluminium" else 1.0) * blades  # [kg/m^3]
    return propagate(lambda diameter, share: share * metal * diameter**3, diameter, percent(1.0, 25))


def propeller_inertia(mass: Reading, diameter: Reading) -> Quantity:
    """Moment of inertia in air [kg m^2] from mass [kg] and diameter [m], and its range: m (0.20 D)^2, 15 %."""
    need_positive(mass=mass, diameter=diameter)
    return propagate(lambda m, d, share: share * m * (0.20 * d) ** 2, mass, diameter, percent(1.0, 15))


def water_ways(
    diameter: float, pitch: float, blades: int, dry_inertia: float, area_ratio: float | None = None
) -> dict[str, float]:
    """The water that swings along [kg m^2], by each way that the data reach.

    diameter and pitch [m]; dry_inertia [kg m^2]; area_ratio is the expanded area of all blades over the disc's [-].
    "pitch rule": 0.35 (P/D)^1.5 of the dry inertia, own strips. With area_ratio also "Schwanecke 1963":
    0.0703/(pi Z) (P/D)^2 E^2 rho D^5, and "regression 2007": (C1 E P/D - C2) rho D^5 for 3 to 5 blades (MacPherson,
    Puleo and Packard). Both formulas are from memory. Raises LineError.
    """
    need_positive(diameter=diameter, pitch=pitch, blades=blades, dry_inertia=dry_inertia)
    slope, size = pitch / diameter, SEA_WATER * diameter**5
    ways = {"pitch rule": 0.35 * slope**1.5 * dry_inertia}
    if area_ratio is None:
        return ways
    low, high = AREA_RATIO
    rule = f"must lie between {low:g} and {high:g}"
    need(low < area_ratio < high, "area_ratio", area_ratio, rule, "area of all blades over that of the disc, e.g. 0.55")
    ways["Schwanecke 1963"] = 0.0703 / (math.pi * blades) * slope**2 * area_ratio**2 * size
    if blades in REGRESSION:
        with_slope, less = REGRESSION[blades]
        found = (with_slope * area_ratio * slope - less) * size
        if found > 0:  # outside of what it was fitted to it falls below nothing
            ways["regression 2007"] = found
    return ways


def entrained_water(
    diameter: float,
    pitch: float,
    blades: int,
    dry_inertia: float,
    area_ratio: float | None = None,
    way: str = ALL_WAYS,
) -> Quantity:
    """The water that swings along [kg m^2], and its range: by one way, or between all that the data reach.

    Units as in `water_ways`. "all ways" lies as many times above the least of them as below the greatest, and its
    range holds all. One way is good from value/1.6 to value x 1.6, and so no range is narrower. Raises LineError where
    the data do not reach the way.
    """
    ways = water_ways(diameter, pitch, blades, dry_inertia, area_ratio)
    asked = list(ways.values()) if way == ALL_WAYS else [ways[way]] if way in ways else []
    lacking = 'write "all ways"; formulas need area_ratio, the regression 3 to 5 blades'
    need(bool(asked), "way", f'"{way}"', f"does not reach here: {' and '.join(ways)} do", lacking)
    least, most = min(asked), max(asked)
    value = math.sqrt(least * most) if least < most else least
    name = way if len(ways) > 1 else "pitch rule"
    return Quantity(value, "estimated", min(least, value / MISSES), max(most, value * MISSES), rule=name)
