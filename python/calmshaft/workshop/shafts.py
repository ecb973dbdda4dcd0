"""Shafts of several pieces, solid or hollow: stiffness, moment of inertia and equivalent length."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from calmshaft.quantity import Quantity
from calmshaft.workshop.ranges import Reading, need, need_positive, propagate, size, value_of

STEEL_SHEAR_MODULUS = Quantity(79e9, "estimated", 76.6e9, 81.4e9, rule="material")  # [Pa] from memory: Marks' Handbook
STEEL_DENSITY = Quantity(7850.0, "estimated", 7700.0, 7900.0, rule="material")  # [kg/m^3] from memory: Marks' Handbook


@dataclass(frozen=True)
class Piece:
    """One round piece of a shaft: length, outer diameter and bore [m], shear modulus [Pa], density [kg/m^3]."""

    length: Reading
    diameter: Reading
    bore: Reading = 0.0
    shear_modulus: Reading = STEEL_SHEAR_MODULUS
    density: Reading = STEEL_DENSITY


def shaft_stiffness(pieces: Sequence[Piece]) -> Quantity:
    """Torsional stiffness of the pieces one behind the other [N m/rad], and its range.

    1/k = sum of 32 L / (pi G (D^4 - d^4)). Raises LineError where a piece cannot be.
    """
    return _whole(pieces, lambda rows: 1 / sum(_softness(row) for row in rows))


def equivalent_length(pieces: Sequence[Piece], diameter: float, shear_modulus: float = 79e9) -> Quantity:
    """Length of a solid shaft of one diameter [m] and shear modulus [Pa] that twists as much [m], and its range."""
    need_positive(diameter=diameter, shear_modulus=shear_modulus)
    polar = math.pi / 32 * diameter**4
    return _whole(pieces, lambda rows: shear_modulus * polar * sum(_softness(row) for row in rows))


def shaft_inertia(pieces: Sequence[Piece]) -> Quantity:
    """Moment of inertia of the pieces about their axis [kg m^2], and its range. J = sum of pi/32 rho L (D^4 - d^4)."""
    return _whole(pieces, lambda rows: sum(_polar(row) * row[4] * row[0] for row in rows))


def _whole(pieces: Sequence[Piece], compute: Callable[[list[tuple[float, ...]]], float]) -> Quantity:
    need(len(pieces) > 0, "pieces", "an empty list", "needs at least one piece", "give length and diameter")
    for index, piece in enumerate(pieces):
        name = f"pieces[{index}]"
        need_positive(**{f"{name}.{key}": getattr(piece, key) for key in ("length", "diameter", "shear_modulus")})
        bore = value_of(piece.bore)
        outer = value_of(piece.diameter)
        need(0 <= bore < outer, f"{name}.bore", size(bore), f"must be smaller than {size(outer)}", "look at both")
    flat = [r for p in pieces for r in (p.length, p.diameter, p.bore, p.shear_modulus, p.density)]
    return propagate(lambda *values: compute(list(zip(*[iter(values)] * 5, strict=True))), *flat)


def _polar(row: tuple[float, ...]) -> float:
    """Polar second moment of area [m^4]."""
    return math.pi / 32 * (row[1] ** 4 - row[2] ** 4)


def _softness(row: tuple[float, ...]) -> float:
    """Twist per torque [rad/(N m)]."""
    return row[0] / (row[3] * _polar(row))
