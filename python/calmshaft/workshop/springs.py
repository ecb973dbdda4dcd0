"""Helical compression springs of round wire: rate, stress, solid length and surge from what calipers say.

Equations as in EN 13906-1 and Shigley's Mechanical Engineering Design, chapter 10 (both from memory); symbols there:
d wire, D mean coil diameter, n active coils, C = D/d.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from calmshaft.faults import Fault, line_error
from calmshaft.workshop.sizes import SPRING, size_faults

GIGA = 1e9


@dataclass(frozen=True)
class Material:
    """Wire. shear_modulus [Pa], density [kg/m^3]; source says where they come from."""

    shear_modulus: float
    density: float
    source: str


_MEMORY = "Shigley, Mechanical Engineering Design, table of spring wire moduli (value from memory)"
MATERIALS = {
    "spring steel": Material(79.0 * GIGA, 7850.0, "common practice, no source"),
    "music wire": Material(79.3 * GIGA, 7850.0, "usual in textbook problems (value from memory)"),
    "hard-drawn": Material(79.3 * GIGA, 7850.0, _MEMORY),
    "oil-tempered": Material(77.2 * GIGA, 7850.0, _MEMORY),
    "chrome-vanadium": Material(77.2 * GIGA, 7850.0, _MEMORY),
    "chrome-silicon": Material(77.2 * GIGA, 7850.0, _MEMORY),
    "stainless": Material(69.0 * GIGA, 7900.0, _MEMORY),
}

# Tensile strength A / d^m, d in mm: (A [MPa], m). The two tables differ by up to a fifth.
WIRE_TABLES = {
    "current": {
        "music wire": (2211.0, 0.145),
        "oil-tempered": (1855.0, 0.187),
        "hard-drawn": (1783.0, 0.190),
        "chrome-vanadium": (2005.0, 0.168),
        "chrome-silicon": (1974.0, 0.108),
    },
    "older": {
        "music wire": (2060.0, 0.163),
        "oil-tempered": (1610.0, 0.193),
        "hard-drawn": (1510.0, 0.201),
        "chrome-vanadium": (1790.0, 0.155),
        "chrome-silicon": (1960.0, 0.091),
    },
}
WIRE_TABLE_SOURCES = {
    "current": "Shigley, 8th edition and later, table 10-4 (value from memory)",
    "older": "older editions of Shigley and engineering handbooks (seen)",
}

# Coils that do not work, and wires that lie on one another over the total coils when the spring is solid.
ENDS = {
    "closed and ground": (2.0, 0.0),
    "closed": (2.0, 1.0),
    "open and ground": (1.0, 0.0),
    "open": (0.0, 1.0),
}


@dataclass(frozen=True)
class WireStrength:
    """Tensile strength of new wire [Pa], with the name of the table that it stands in and that table's source."""

    value: float
    table: str
    source: str


def tensile_strength(material: str, wire_diameter: float, table: str = "current") -> WireStrength | None:
    """Strength of a wire of `wire_diameter` [m]; None where the table does not hold the material.

    Raises LineError for a table that does not exist.
    """
    if table not in WIRE_TABLES:
        raise line_error([Fault("table", f'"{table}"', "is not a table", f"write {' or '.join(WIRE_TABLES)}")])
    if material not in WIRE_TABLES[table]:
        return None
    strength, exponent = WIRE_TABLES[table][material]
    return WireStrength(1e6 * strength / (1e3 * wire_diameter) ** exponent, table, WIRE_TABLE_SOURCES[table])


def wahl(index: float) -> float:
    """Wahl's stress factor [-] of a spring index: (4C - 1)/(4C - 4) + 0.615/C."""
    return (4 * index - 1) / (4 * index - 4) + 0.615 / index


def bergstraesser(index: float) -> float:
    """Bergstraesser's stress factor [-]: (4C + 2)/(4C - 3), the same as (C + 1/2)/(C - 3/4) of EN 13906-1."""
    return (4 * index + 2) / (4 * index - 3)


STRESS_FACTORS = {"Bergstraesser": bergstraesser, "Wahl": wahl}


@dataclass(frozen=True)
class Spring:
    """One helical compression spring; lengths [m], coils [-], SI throughout.

    Write active_coils, or total_coils with ends ("closed and ground", "closed", "open and ground", "open"). Raises
    LineError with every fault of its measures.
    """

    wire_diameter: float
    coil_outer_diameter: float
    free_length: float
    active_coils: float | None = None
    total_coils: float | None = None
    ends: str = "closed and ground"
    material: str = "spring steel"

    def __post_init__(self) -> None:
        if faults := list(spring_faults(self)):
            raise line_error(faults)

    @property
    def coils(self) -> float:
        """Coils that work [-]."""
        return _coils(self)[0]

    @property
    def mean_diameter(self) -> float:
        """Of the coil, centre to centre of the wire [m]."""
        return self.coil_outer_diameter - self.wire_diameter

    @property
    def index(self) -> float:
        """Mean coil diameter over wire diameter [-]."""
        return self.mean_diameter / self.wire_diameter

    @property
    def rate(self) -> float:
        """Force over compression [N/m]: G d^4 / (8 D^3 n)."""
        modulus = MATERIALS[self.material].shear_modulus
        return modulus * self.wire_diameter**4 / (8 * self.mean_diameter**3 * self.coils)

    @property
    def solid_length(self) -> float:
        """Length with all coils touching [m]."""
        return self.wire_diameter * (_coils(self)[1] + ENDS[self.ends][1])

    @property
    def travel(self) -> float:
        """Compression from free to solid [m]."""
        return self.free_length - self.solid_length

    def shear_stress(self, force: float, factor: str = "Bergstraesser") -> float:
        """Largest shear stress in the wire [Pa] under a force [N]: K 8 F D / (pi d^3).

        factor: K is "Bergstraesser" or "Wahl".
        """
        correction = STRESS_FACTORS[factor](self.index)
        return correction * 8 * force * self.mean_diameter / (math.pi * self.wire_diameter**3)

    @property
    def moving_mass(self) -> float:
        """Of the active coils [kg]."""
        wire = math.pi * self.mean_diameter * self.coils
        return MATERIALS[self.material].density * math.pi / 4 * self.wire_diameter**2 * wire

    @property
    def surge_frequency(self) -> float:
        """First natural frequency of the coils between two fixed ends [Hz]: sqrt(k/m)/2."""
        return 0.5 * math.sqrt(self.rate / self.moving_mass)

    @property
    def strength(self) -> WireStrength | None:
        """Tensile strength of its wire when new, by the current table; None where that does not hold the material."""
        return tensile_strength(self.material, self.wire_diameter)


def _coils(spring: Spring) -> tuple[float, float]:
    """Active and total coils; nan where neither was counted."""
    dead = ENDS[spring.ends][0]
    active = spring.active_coils if spring.active_coils is not None else (spring.total_coils or math.nan) - dead
    return active, spring.total_coils if spring.total_coils is not None else active + dead


MOST_INDEX = 21  # [-] coil over wire; EN 13906-1 goes to an index of 20 (value from memory)


def spring_faults(spring: Spring, path: str = "") -> Iterator[Fault]:
    """What cannot be true of a spring; `path` stands before the key, such as "plate.springs[0].". Lengths in mm."""
    d, outer = spring.wire_diameter, spring.coil_outer_diameter
    if spring.material not in MATERIALS or spring.ends not in ENDS:
        key, known = ("material", MATERIALS) if spring.material not in MATERIALS else ("ends", ENDS)
        yield Fault(path + key, f'"{getattr(spring, key)}"', "is not known here", f"write {', '.join(known)}")
        return
    if found := list(size_faults({key: getattr(spring, key) for key in SPRING}, SPRING, path)):
        yield from found
        return
    if outer > MOST_INDEX * d:
        rule = f"is more than {MOST_INDEX} times the wire of {mm(d)}: such a coil would be too soft to stand"
        yield Fault(f"{path}coil_outer_diameter", mm(outer), rule, "measure wire and coil again")
    elif not outer > 2 * d:
        rule = f"is not more than twice the wire of {mm(d)}"
        yield Fault(f"{path}coil_outer_diameter", mm(outer), rule, "measure across the coils, outside to outside")
    elif outer < 3 * d:
        rule = f"is under three times the wire of {mm(d)}: such a coil can hardly be wound"
        yield Fault(f"{path}coil_outer_diameter", mm(outer), rule, "measure wire and coil again")
    yield from _coil_faults(spring, path)


def _coil_faults(spring: Spring, path: str) -> Iterator[Fault]:
    active, total = _coils(spring)
    key = "active_coils" if spring.active_coils is not None else "total_coils"
    if math.isnan(active):
        yield Fault(f"{path}active_coils", "", "is missing", "count the coils that work, or give total_coils and ends")
    elif not active >= 1:
        rule = f"leaves {active:.4g} coils to work"
        yield Fault(
            path + key, f"{getattr(spring, key):.4g}", rule, "count all coils from wire end to wire end; look at ends"
        )
    elif total < active:
        yield Fault(f"{path}total_coils", f"{total:.4g}", f"is less than the {active:.4g} active coils", "count again")
    elif not spring.travel > 0:
        coils = f"its {total:.4g} coils of {mm(spring.wire_diameter)}"
        rule = f"holds no more than {coils}: solid they are {mm(spring.solid_length)}"
        yield Fault(
            f"{path}free_length",
            mm(spring.free_length),
            rule,
            "measure the free length out of its window; count the coils again",
        )


def mm(length: float) -> str:
    """A length for people."""
    return f"{1e3 * length:.4g} mm"
