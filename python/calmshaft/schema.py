"""The sections and keys of a line file.

Keys, types and units are checked here; rules about values live in the compiled library's check(). Every key may
be left out as far as this file goes: what must be there is said in line_rules, so that all faults show at once.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, create_model

from calmshaft.schema_fields import (
    Angle,
    AngleLimit,
    Damping,
    Inertia,
    Length,
    Mass,
    MeshStiffness,
    PositiveDensity,
    PositiveLength,
    PositiveMass,
    PositivePower,
    PositivePure,
    PositiveSpeed,
    PositiveStress,
    PositiveTime,
    PositiveTorque,
    PowerLimit,
    Pressure,
    PressurePerSpeed,
    PressurePerSpeedSquared,
    Pure,
    PureLimit,
    SlowSpeed,
    Speed,
    Stiffness,
    StressLimit,
    Torque,
    TorqueLimit,
)

CylinderNumber = Annotated[int, Field(ge=1, le=24)]
Gears = Literal["ahead", "astern", "neutral"]


class Section(BaseModel):
    """A table of the file; unknown keys are refused."""

    model_config = ConfigDict(extra="forbid", strict=True, frozen=True)


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
    combustion: Combustion | None = None
    friction: EngineFriction | None = None
    governor: Governor | None = None


class DiscHoles(Section):
    """A ring of round holes through a disc; `circle` is the diameter that they stand on."""

    count: Annotated[int, Field(ge=1, le=200)] | None = None
    diameter: PositiveLength = None
    circle: PositiveLength = None


class FlywheelDisc(Section):
    """One disc or ring of a flywheel that is measured by its sizes."""

    outer_diameter: PositiveLength = None
    thickness: PositiveLength = None
    bore: PositiveLength = None
    material: Literal["steel", "stainless", "grey iron", "ductile iron", "aluminium", "bronze"] | None = None
    density: PositiveDensity = None
    holes: list[DiscHoles] | None = None


class FlywheelHang(Section):
    """A flywheel hung on three wires; `time` of so many full swings, 0.2 s off by hand where it has no range."""

    mass: PositiveMass = None
    wire_radius: PositiveLength = None
    wire_length: PositiveLength = None
    swings: Annotated[int, Field(ge=1, le=1000)] | None = None
    time: PositiveTime = None
    table_mass: PositiveMass = None
    table_inertia: Inertia = None


class Flywheel(Section):
    """Inertia; or it hung on wires, or its discs; or mass and outer diameter, or the diameter alone."""

    inertia: Inertia = None
    mass: PositiveMass = None
    outer_diameter: PositiveLength = None
    discs: list[FlywheelDisc] | None = None
    hang: FlywheelHang | None = None


class PlateStage(Section):
    """One stage of the springs; `side` only where drive and coast differ."""

    stiffness: Stiffness = None
    until: Angle = None
    side: Literal["drive", "coast"] | None = None


class PlateSpring(Section):
    """Alike springs of a plate as calipers find them. A spring in another names it with `inside`.

    Gap: what the hub moves, at the pitch circle, before it touches the spring. A window longer than the spring leaves
    a gap on either side, a shorter one squeezes the spring. For a
    "mixed" condition `conditions` has a word for each spring.
    """

    name: str | None = None
    count: Annotated[int, Field(ge=1, le=24)] | None = None
    wire_diameter: PositiveLength = None
    coil_outer_diameter: PositiveLength = None
    active_coils: PositivePure = None
    total_coils: PositivePure = None
    ends: Literal["closed and ground", "closed", "open and ground", "open"] | None = None
    free_length: PositiveLength = None
    material: (
        Literal[
            "spring steel",
            "music wire",
            "hard-drawn",
            "oil-tempered",
            "chrome-vanadium",
            "chrome-silicon",
            "stainless",
        ]
        | None
    ) = None
    pitch_radius: PositiveLength = None
    window_length: PositiveLength = None
    coast_window_length: PositiveLength = None
    drive_gap: Length = None
    coast_gap: Length = None
    preload: Length = None
    inside: str | None = None
    condition: Literal["good", "loose", "broken", "missing", "corroded", "mixed"] | None = None
    conditions: list[Literal["good", "loose", "broken", "missing", "corroded"]] | None = None


class PlatePoint(Section):
    """One reading of a torque wrench: going up to the angle, and coming down to it; in coast all three negative."""

    angle: Angle = None
    torque_loading: Torque = None
    torque_unloading: Torque = None


class PlateJoint(Section):
    """The bolts that hold the plate on the flywheel; judged for slip, no part of the motion."""

    count: Annotated[int, Field(ge=1, le=64)] | None = None
    bolt: str | None = None
    grade: Literal["5.8", "8.8", "10.9", "12.9", "grade 5", "grade 8"] | None = None
    threads: Literal["dry", "oiled", "thread-lock"] | None = None
    tightening_torque: PositiveTorque = None
    bolt_circle: PositiveLength = None
    face_friction: PositivePure = None


class PlatePockets(Section):
    """The sheet that the springs push against; no part of the motion."""

    sheet_thickness: PositiveLength = None
    sheets: Annotated[int, Field(ge=1, le=24)] | None = None


class Plate(Section):
    """The spring damper plate by one of stages, springs, points; or kind = "rigid" for a solid drive."""

    title: str | None = None
    kind: Literal["springs", "rigid"] | None = None
    hub_inertia: Inertia = None
    rated_torque: Torque = None
    free_play: Angle = None
    hysteresis_full_width: Torque = None
    presliding_angle: Angle = None
    viscous_damping: Damping = None
    stop_stiffness: Stiffness = None
    stop_restitution: Pure = None
    stop_angle: Angle = None
    coast_stop_angle: Angle = None
    stages: list[PlateStage] | None = None
    springs: list[PlateSpring] | None = None
    points: list[PlatePoint] | None = None
    joint: PlateJoint | None = None
    pockets: PlatePockets | None = None


class LoadedPair(Section):
    """The gear pair that drives the shaft in one gear."""

    ratio: Pure = None
    output_inertia: Inertia = None
    backlash: Angle = None
    mesh_stiffness: MeshStiffness = None
    restitution: Pure = None
    restitution_speed: SlowSpeed = None


class UnloadedPair(Section):
    """A gear pair that turns along without load."""

    name: str | None = None
    turns_in: list[Gears] | None = None
    inertia: Inertia = None
    drag: Torque = None
    backlash: Angle = None
    mesh_stiffness: MeshStiffness = None
    restitution: Pure = None
    restitution_speed: SlowSpeed = None


class Clutch(Section):
    """Of the gearbox, for manoeuvres."""

    torque: PositiveTorque = None
    fill_time: PositiveTime = None
    ramp_time: PositiveTime = None


class Gearbox(Section):
    """Gears between plate and shaft."""

    rated_torque: Torque = None
    input_inertia: Inertia = None
    input_drag: Torque = None
    ahead: LoadedPair | None = None
    astern: LoadedPair | None = None
    unloaded: list[UnloadedPair] | None = None
    clutch: Clutch | None = None


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
    material: Literal["bronze", "aluminium"] | None = None
    mass: PositiveMass = None
    inertia: Inertia = None
    water_inertia: Inertia = None
    full_throttle_rpm: PositiveSpeed = None
    absorbs_torque: Torque = None
    absorbs_rpm: Speed = None
    tied_up_factor: Pure = None
    extra_damping: Pure = None


class TableShaft(Section):
    """A shaft of a mass-elastic table and its speed over the crank's."""

    name: str | None = None
    speed_ratio: PositivePure = None


class TableMass(Section):
    """A mass of a table; `part` where it is a station of the line, `cylinder` where it is a throw of the crank."""

    name: str | None = None
    inertia: Inertia = None
    shaft: str | None = None
    part: Literal["flywheel", "gearbox input", "gearbox output", "propeller"] | None = None
    cylinder: CylinderNumber | None = None


class _Ends(Section):
    stiffness: MeshStiffness = None
    damping: Damping = None


# `from` is a word of Python's own, so this section is made by its names.
TableConnection = create_model(
    "TableConnection",
    __base__=_Ends,
    __doc__="A spring between two masses of a table; without stiffness a gear pair between two shafts.",
    **{"from": (str | None, None), "to": (str | None, None)},
)


class MassElastic(Section):
    """A maker's table beside the other sections, or in place of some of them."""

    shafts: list[TableShaft] | None = None
    masses: list[TableMass] | None = None
    connections: list[TableConnection] | None = None  # type: ignore[valid-type]


class Limits(Section):
    """What makers and rules allow, each value with its document; what is left out is not judged."""

    gearbox_vibratory_torque: TorqueLimit = None
    gearbox_mean_and_vibratory_torque: TorqueLimit = None
    gearbox_greatest_torque: TorqueLimit = None
    application_factor: PureLimit = None
    unloaded_pair_alternating_torque: TorqueLimit = None
    plate_mean_torque: TorqueLimit = None
    plate_alternating_torque: TorqueLimit = None
    plate_greatest_torque: TorqueLimit = None
    plate_twist: AngleLimit = None
    plate_heat: PowerLimit = None
    shaft_vibratory_torque: TorqueLimit = None
    shaft_vibratory_stress: StressLimit = None
    cyclic_irregularity: PureLimit = None


class LineFile(Section):
    """A whole line file."""

    title: str | None = None
    engine: Engine | None = None
    flywheel: Flywheel | None = None
    plate: Plate | None = None
    gearbox: Gearbox | None = None
    shaft: Shaft | None = None
    propeller: Propeller | None = None
    mass_elastic: MassElastic | None = None
    limits: Limits | None = None


class PlateFile(Section):
    """A file with one plate."""

    title: str | None = None
    plate: Plate | None = None
