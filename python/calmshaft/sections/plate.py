"""The spring damper plate: stages, springs as calipers find them, points of a torque wrench, bolts."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from calmshaft.schema_fields import (
    Angle,
    Damping,
    Inertia,
    Length,
    PositiveLength,
    PositivePure,
    PositiveTorque,
    Pure,
    Stiffness,
    Torque,
)
from calmshaft.sections.section import Section


class PlateStage(Section):
    """One stage of the springs; `side` only where drive and coast differ."""

    stiffness: Stiffness = None
    until: Angle = None
    side: Literal["drive", "coast"] | None = None


class PlateSpring(Section):
    """Alike springs of a plate as calipers find them. A spring in another names it with `inside`.

    Gap: what the hub moves, at the pitch circle, before it touches the spring. A window longer than the spring leaves
    a gap on either side, a shorter one squeezes the spring. For a "mixed" condition `conditions` has a word for each.
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
