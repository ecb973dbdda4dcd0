"""Parts of a line that are given piece by piece: a flywheel as discs, a shaft stepped or hollow."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

from calmshaft import LineError, _core, units
from calmshaft.estimates.shaft import DENSITY, SHEAR_MODULUS
from calmshaft.quantity import Quantity
from calmshaft.schema_paths import split
from calmshaft.workshop import Disc, Holes, Piece, discs_inertia, discs_mass, shaft_stiffness
from calmshaft.workshop.ranges import value_of

Fault = _core.Fault
Given = Mapping[str, Any]  # path -> Quantity, word, whole number or list

INERTIA = "flywheel.inertia"
# its readings are not values of the line of their own, else each would count beside the inertia made of them
READINGS = ("flywheel.discs",)
_NEEDED = {
    "flywheel.discs": {"outer_diameter": "300 mm", "thickness": "25 mm"},
    "shaft.pieces": {"length": "1.2 m", "diameter": "35 mm"},
}
_HOLES = {"count": "6", "diameter": "11 mm", "circle": "320 mm"}
_WEIGHT_MAY_DIFFER = 0.1  # [-] of the weighed mass; a disc more or less shows


def faults(given: Given) -> list[Fault]:
    """Two forms of one part at once, readings that are missing, and discs or pieces that cannot be."""
    found = [*_two_forms(given), *_missing(given)]
    return found or [*caught(lambda: inertia(given)), *caught(lambda: shaft(given))]


def inertia(given: Given) -> Quantity | None:
    """The flywheel's from its discs, with the range of their sizes; None where it has none.

    Raises LineError with paths of the file.
    """
    if listed := indices(given, "flywheel.discs"):
        made = _in_file("flywheel.", lambda: discs_inertia([_disc(given, index) for index in listed]))
        return replace(made, rule="stack of discs", as_written="flywheel.discs")
    return None


def shaft(given: Given) -> dict[str, float]:
    """Length of a shaft in pieces, and diameter of the plain shaft of that length that twists as much [m].

    Empty where the shaft has no pieces. Raises LineError with paths of the file.
    """
    found = pieces(given)
    if not found:
        return {}
    plain = [replace(piece, shear_modulus=1.0) for piece in found]
    length = sum(value_of(piece.length) for piece in found)
    per_modulus = _in_file("shaft.", lambda: shaft_stiffness(plain)).value  # pi d^4 / (32 L)
    return {"shaft.length": length, "shaft.diameter": (32 / math.pi * per_modulus * length) ** 0.25}


def pieces(given: Given) -> list[Piece]:
    """The pieces of a shaft; what a piece does not say of its metal the shaft says."""
    return [_piece(given, f"shaft.pieces[{index}]") for index in indices(given, "shaft.pieces")]


def warnings(given: Given) -> list[Fault]:
    """A flywheel that weighs another than its discs."""
    weighed, listed = given.get("flywheel.mass"), indices(given, "flywheel.discs")
    if weighed is None or not listed:
        return []
    found = discs_mass([_disc(given, index) for index in listed]).value
    if abs(found - weighed.value) <= _WEIGHT_MAY_DIFFER * weighed.value:
        return []
    rule = f"does not fit its discs: they weigh {units.show(found, 'mass')}"
    shown = units.show(weighed.value, "mass")
    return [Fault("flywheel.mass", shown, rule, "look for a disc, bore or ring gear left out", True)]


def _disc(given: Given, index: int) -> Disc:
    one = readings_of(given, f"flywheel.discs[{index}]")
    rings = [readings_of(given, f"flywheel.discs[{index}].holes[{ring}]") for ring in _rings(given, index)]
    fields = {key: value for key, value in one.items() if not key.startswith("holes")}
    return Disc(**fields, holes=tuple(Holes(**ring) for ring in rings))


def _piece(given: Given, path: str) -> Piece:
    one = readings_of(given, path)
    metal = one.pop("material", None)
    for key, of_metal in (("shear_modulus", SHEAR_MODULUS), ("density", DENSITY)):
        if key not in one and metal is not None:
            one[key] = of_metal[metal]
        elif key not in one and f"shaft.{key}" in given:
            one[key] = given[f"shaft.{key}"]
    return Piece(**one)


def _two_forms(given: Given) -> list[Fault]:
    forms = [form for form in (INERTIA, *READINGS) if form in given or readings_of(given, form)]
    found = [Fault(form, "", f"says the same as {forms[0]}", "keep one of the two") for form in forms[1:]]
    plain = [key for key in ("shaft.diameter", "shaft.length") if key in given]
    if plain and any(path.startswith("shaft.pieces") for path in given):
        found.append(Fault("shaft.pieces", "", f"says the same as {' and '.join(plain)}", "keep one of the two"))
    return found


def _missing(given: Given) -> list[Fault]:
    found = [Fault(path, "[]", "is empty", "write it out or leave it out") for path in _NEEDED if given.get(path) == []]
    for section, needed in _NEEDED.items():
        places = [f"{section}[{index}]" for index in indices(given, section)]
        found += [lacks(place, key, example) for place in places for key, example in needed.items()
                  if f"{place}.{key}" not in given]  # fmt: skip
    for index in indices(given, "flywheel.discs"):
        rings = [f"flywheel.discs[{index}].holes[{ring}]" for ring in _rings(given, index)]
        found += [lacks(ring, key, example) for ring in rings for key, example in _HOLES.items()
                  if f"{ring}.{key}" not in given]  # fmt: skip
    return found


def lacks(place: str, key: str, example: str) -> Fault:
    shown = example if key == "count" else f'"{example}"'
    return Fault(f"{place}.{key}", "", "is missing", f"write e.g. {shown}")


def readings_of(given: Given, section: str) -> dict[str, Any]:
    """What stands in a section, by the rest of its path."""
    stems = (section + ".", section + "[")
    return {path[len(section) + 1 :]: value for path, value in given.items() if path.startswith(stems)}


def indices(given: Given, section: str) -> list[int]:
    depth = len(split(section))
    return sorted({split(path)[depth] for path in given if path.startswith(section + "[")})  # type: ignore[type-var]


def _rings(given: Given, index: int) -> list[int]:
    return indices(given, f"flywheel.discs[{index}].holes")


def _in_file(prefix: str, make: Callable[[], Quantity]) -> Quantity:
    try:
        return make()
    except LineError as error:
        from calmshaft.faults import line_error

        moved = [Fault(f"{prefix}{fault.path}", fault.value, fault.rule, fault.advice)
                 for fault in error.faults]  # fmt: skip
        raise line_error(moved) from None


def caught(make: Callable[[], Any]) -> list[Fault]:
    try:
        make()
    except LineError as error:
        return list(error.faults)
    return []
