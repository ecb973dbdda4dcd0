"""The gearbox: its loaded pairs, the pairs that turn along, the clutch."""

from __future__ import annotations

from typing import Literal

from calmshaft.schema_fields import Angle, Inertia, MeshStiffness, PositiveTime, PositiveTorque, Pure, SlowSpeed, Torque
from calmshaft.sections.readings import Dial, Pull, ShaftPull, TwoWeights
from calmshaft.sections.section import Section

Gears = Literal["ahead", "astern", "neutral"]


class LoadedPair(Section):
    """The gear pair that drives the shaft in one gear."""

    ratio: Pure = None
    output_inertia: Inertia = None
    backlash: Angle = None
    mesh_stiffness: MeshStiffness = None
    restitution: Pure = None
    restitution_speed: SlowSpeed = None
    dial: Dial | None = None


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
    pull: Pull | None = None
    dial: Dial | None = None


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
    two_weights: TwoWeights | None = None
    pull: ShaftPull | None = None
    ahead: LoadedPair | None = None
    astern: LoadedPair | None = None
    unloaded: list[UnloadedPair] | None = None
    clutch: Clutch | None = None
