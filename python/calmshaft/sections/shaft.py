"""Shaft and propeller."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from calmshaft.schema_fields import (
    Inertia,
    PositiveDensity,
    PositiveLength,
    PositiveMass,
    PositivePure,
    PositiveSpeed,
    PositiveStress,
    Pure,
    Speed,
    Torque,
)
from calmshaft.sections.readings import Hang
from calmshaft.sections.section import Section

ShaftMetal = Literal["steel", "stainless", "nickel-copper", "aluminium bronze"]


class ShaftPiece(Section):
    """One round piece of a stepped shaft; what it does not say of its metal the shaft says."""

    length: PositiveLength = None
    diameter: PositiveLength = None
    bore: PositiveLength = None
    material: ShaftMetal | None = None
    shear_modulus: PositiveStress = None
    density: PositiveDensity = None


class ShaftRule(Section):
    """IACS UR M68, judged only where `applies` is true; needs the shaft's ultimate_strength. No part of the motion."""

    applies: bool | None = None
    material: Literal["carbon-manganese steel", "alloy steel", "other"] | None = None
    shape: (
        Literal[
            "integral flange",
            "shrink fit",
            "keyway in a taper",
            "keyway in a cylinder",
            "radial hole",
            "longitudinal slot",
            "thrust shaft",
            "propeller shaft, flange or keyless",
            "propeller shaft, keyed",
            "propeller shaft, forward part",
        ]
        | None
    ) = None


class Shaft(Section):
    """The propeller shaft: one diameter and length, or pieces one behind the other."""

    diameter: PositiveLength = None
    length: PositiveLength = None
    pieces: list[ShaftPiece] | None = None
    material: ShaftMetal | None = None
    shear_modulus: PositiveStress = None
    density: PositiveDensity = None
    ultimate_strength: PositiveStress = None
    damping_ratio: Pure = None
    divisions: Annotated[int, Field(ge=1, le=24)] | None = None
    iacs_ur_m68: ShaftRule | None = None


class Propeller(Section):
    """Inertia, water and what it absorbs."""

    diameter: PositiveLength = None
    pitch: PositiveLength = None
    blades: PositivePure = None
    area_ratio: PositivePure = None
    material: Literal["bronze", "aluminium"] | None = None
    mass: PositiveMass = None
    inertia: Inertia = None
    water_inertia: Inertia = None
    water_by: Literal["all ways", "pitch rule", "Schwanecke 1963", "regression 2007"] | None = None
    full_throttle_rpm: PositiveSpeed = None
    absorbs_torque: Torque = None
    absorbs_rpm: Speed = None
    tied_up_factor: Pure = None
    extra_damping: Pure = None
    hang: Hang | None = None
