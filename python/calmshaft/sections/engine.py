"""The engine: crank, pistons, rods, rating."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from calmshaft.schema_fields import (
    Angle,
    Inertia,
    Length,
    Mass,
    PositiveMass,
    PositivePower,
    PositivePure,
    PositiveSpeed,
    PositiveTime,
    Pressure,
    PressurePerSpeed,
    PressurePerSpeedSquared,
    Pure,
    Speed,
    Torque,
)
from calmshaft.sections.readings import Hang, RodScales, RodSwing
from calmshaft.sections.section import Section

CylinderNumber = Annotated[int, Field(ge=1, le=24)]


class Combustion(Section):
    """Heat release and gas exchange; angles after firing top dead centre, pressures absolute."""

    burn_start: Angle = None
    burn_duration: Angle = None
    burn_coefficient: Pure = None
    burn_exponent: Pure = None
    polytropic_exponent: Pure = None
    inlet_pressure: Pressure = None
    exhaust_pressure: Pressure = None
    inlet_closes: Angle = None
    exhaust_opens: Angle = None


class EngineFriction(Section):
    """Mean effective friction pressure."""

    constant: Pressure = None
    per_speed: PressurePerSpeed = None
    per_piston_speed_squared: PressurePerSpeedSquared = None


class Governor(Section):
    """Of the engine, for manoeuvres."""

    droop: PositivePure = None
    lag: PositiveTime = None


class Engine(Section):
    """Crank, pistons, rods, rating."""

    strokes: Literal[2, 4] | None = None
    fuel: Literal["diesel", "petrol"] | None = None
    cylinders: CylinderNumber | None = None
    layout: Literal["inline", "vee"] | None = None
    bank_angle: Angle = None
    firing_order: list[CylinderNumber] | None = None
    firing_angles: list[Angle] | None = None
    numbered_from: Literal["free end", "flywheel"] | None = None
    bore: Length = None
    stroke: Length = None
    rod_length: Length = None
    compression_ratio: Pure = None
    piston_mass: Mass = None
    rod_mass: Mass = None
    rod_centre_from_big_end: Length = None
    rod_inertia: Inertia = None
    crank_inertia: Inertia = None
    crank_mass: PositiveMass = None
    idle_rpm: PositiveSpeed = None
    max_shift_rpm: PositiveSpeed = None
    rated_rpm: Speed = None
    rated_torque: Torque = None
    rated_power: PositivePower = None
    rod_scales: RodScales | None = None
    rod_swing: RodSwing | None = None
    crank_hang: Hang | None = None
    combustion: Combustion | None = None
    friction: EngineFriction | None = None
    governor: Governor | None = None
